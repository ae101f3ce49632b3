"""Everything that is known, read once: sources, engines, tables of the standards, the procedure."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from itertools import takewhile
from pathlib import Path, PurePosixPath
from typing import Any

from generator.reading import Problem, ReadFile, Schemas, near_name
from generator.record.echoes import without_echoes
from generator.record.engine import Engine, read_engine
from generator.record.memory import Known, uncollected
from generator.record.method import Calculation, read_calculation
from generator.record.practice import Practice, read_practice
from generator.record.procedure import Caution, Need, Phase, Required, read_cautions, read_needs, read_phase, read_required
from generator.record.source import Source, read_source
from generator.record.standards import FrictionRow, StrengthRow, Table, ThreadSize, read_friction, read_strengths, read_threads

SPECS = "specs"
ENDING = ".yaml"
# The folders of specs/, with the kind of file that each holds.
KINDS = {
    "sources": "source", "engines": "engine", "demo": "engine", "threads": "threads", "strength": "strength", "friction": "friction",
    "methods": "methods", "practice": "practice", "procedure": "phase",
}
_BY_NAME = {("procedure", f"{name}{ENDING}"): name for name in ("cautions", "needs", "required")}
_NAMED_BY_ID = ("engine", "source", "threads", "strength", "friction", "methods", "practice")


@dataclass
class Library:
    """engines, sources, tables and cautions by id; phases in the order of the job, calculations and practice in that of their page.

    files: names of all files that were looked at. rest: those that were read and are no engine's. unsound: ids of
    the sources whose files have errors.
    """

    schemas: Schemas
    sources: dict[str, Source] = field(default_factory=dict)
    engines: dict[str, Engine] = field(default_factory=dict)
    phases: list[Phase] = field(default_factory=list)
    cautions: dict[str, Caution] = field(default_factory=dict)
    cautions_file: ReadFile | None = None
    needs: dict[str, Need] = field(default_factory=dict)
    needs_file: ReadFile | None = None
    required: Required | None = None
    threads: dict[str, Table[ThreadSize]] = field(default_factory=dict)
    strengths: dict[str, Table[StrengthRow]] = field(default_factory=dict)
    friction: dict[str, Table[FrictionRow]] = field(default_factory=dict)
    calculations: list[Calculation] = field(default_factory=list)
    practice: list[Practice] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    files: list[str] = field(default_factory=list)
    rest: list[ReadFile] = field(default_factory=list)
    unsound: set[str] = field(default_factory=set)
    _made: dict[str, Any] = field(default_factory=dict, init=False, repr=False, compare=False)

    @property
    def broken(self) -> set[str]:
        """Names of the files that have an error; what depends on them would only echo it."""
        return {problem.file for problem in self.problems if problem.level == "error"}

    def once(self, name: str, make: Callable[[Library], Any]) -> Any:
        """What `make` makes of the whole library, made at the first call; for indexes and tables that every record asks for."""
        if name not in self._made:
            self._made[name] = make(self)
        return self._made[name]

    def registers(self, source: str) -> bool:
        """Whether a source is registered, be it in a file that has errors of its own."""
        return source in self.sources or source in self.unsound

    def how_to_register(self, source: str) -> str:
        """The registered id that is spelt most alike, or what to do for a source that is new."""
        near = near_name(source, list(self.sources), alike=0.8)
        return f"did you mean {near}?" if near else f"register the publication in {SPECS}/sources/{source}{ENDING}, or correct the cite"


def load(root: Path, drafts: Iterable[Path] = (), known: Known | None = None) -> Library:
    """Read schema/ and specs/ below the project's folder; what is wrong is in `problems`.

    drafts: files that may come from elsewhere, read as if they stood in the folder of
    specs/ that their own folder is named after, else as records of engines. Each
    takes the place of the file of the same name. known: what an earlier call made of the
    same files.
    """
    known = known or Known()
    with uncollected():
        return _Loader(root, Library(known.schemas(root / "schema")), list(drafts), known).load()


def name_of(path: Path, root: Path) -> str:
    """How a file is named in reports: from the project's folder if it is in there, else as it was given. A link is named where it lies."""
    whole, base = Path(os.path.realpath(path.parent)) / path.name, Path(os.path.realpath(root))
    return whole.relative_to(base).as_posix() if whole.is_relative_to(base) else path.as_posix()


@dataclass
class _Loader:
    """Fills a library, folder by folder; sources first, because the rest names them."""

    root: Path
    library: Library
    drafts: list[Path]
    known: Known
    folders: dict[Path, str] = field(default_factory=dict)

    def load(self) -> Library:
        self._load_sources()
        for folder in ("engines", "demo"):
            for file in self._read(folder):
                self._load_engine(file, folder)
        self._load_standards()
        self._load_methods()
        self._load_practice()
        self._load_procedure()
        return self.library

    def _load_sources(self) -> None:
        sources = [read_source(file) for file in self._read("sources")]
        broken = self.library.broken
        self.library.unsound = {PurePosixPath(name).stem for name in self.library.files if name in broken}
        self.library.sources = {source.id: source for source in sources if source.id not in self.library.unsound}

    def _load_engine(self, file: ReadFile, folder: str) -> None:
        library = self.library
        invented = folder == "demo" or (file.name.split("/")[0] != SPECS and self._cites_invented(file))
        shape = library.schemas.shape("engine")
        engine, found = self.known.once(f"{file.name} invented" if invented else file.name, (file, shape), lambda: read_engine(file, shape, invented))
        self._add(found)
        if other := library.engines.get(engine.id):
            message = f"the id {engine.id!r} is also the id of {other.file.name}"
            self._add([file.problem(("id",), "id-once", message, "choose another id and file name")])
        library.engines[engine.id] = engine

    def _cites_invented(self, file: ReadFile) -> bool:
        """Whether all sources of a record are invented; a draft's folder does not say what it is."""
        listed = file.data.get("sources")
        books = [self.library.sources.get(str(each)) for each in listed] if isinstance(listed, list) else []
        return bool(books) and all(book and book.invented for book in books)

    def _load_standards(self) -> None:
        library = self.library
        for file in self._read("threads"):
            threads, found = read_threads(file, library.schemas.shape("threads"))
            library.threads[threads.id] = threads
            self._add(found)
        for file in self._read("strength"):
            strengths, found = read_strengths(file, library.schemas.shape("strength"))
            library.strengths[strengths.id] = strengths
            self._add(found)
        for file in self._read("friction"):
            friction, found = read_friction(file, library.schemas.shape("friction"))
            library.friction[friction.id] = friction
            self._add(found)

    def _load_methods(self) -> None:
        shape, library = self.library.schemas.shape("methods"), self.library
        for file in self._read("methods"):
            calculation, found = read_calculation(file, shape)
            library.calculations.append(calculation)
            self._add(found)
        library.calculations.sort(key=lambda each: each.number)

    def _load_practice(self) -> None:
        shape, library = self.library.schemas.shape("practice"), self.library
        for file in self._read("practice"):
            practice, found = read_practice(file, shape)
            library.practice.append(practice)
            self._add(found)
        library.practice.sort(key=lambda each: each.number)

    def _load_procedure(self) -> None:
        library, phases = self.library, []
        for file in self._read("procedure"):
            match PurePosixPath(file.name).stem:
                case "cautions":
                    library.cautions, library.cautions_file = read_cautions(file), file
                case "needs":
                    library.needs, library.needs_file = read_needs(file), file
                case "required":
                    library.required = read_required(file)
                case _:
                    phases.append(read_phase(file))
        library.phases = sorted(phases, key=lambda phase: phase.number)

    def _read(self, folder: str) -> Iterator[ReadFile]:
        """Files of a folder that could be read, with their problems and those of their schema gathered."""
        for path in self._paths(folder):
            name = self._name_of(path)
            self.library.files.append(name)
            kind = _BY_NAME.get((folder, path.name), KINDS[folder])
            file, problems, misfits = self.known.read(path, name, kind)
            self.library.problems += problems
            if file:
                self._add(misfits)
                self._add(_misnamed(file) if kind in _NAMED_BY_ID else [])
                if KINDS[folder] != "engine":
                    self.library.rest.append(file)
                yield file

    def _name_of(self, path: Path) -> str:
        """As `name_of`, which asks the system about each folder above: once for all files of a folder."""
        if path.parent not in self.folders:
            self.folders[path.parent] = name_of(path, self.root).removesuffix(path.name)
        return self.folders[path.parent] + path.name

    def _paths(self, folder: str) -> list[Path]:
        found = {}
        for path in sorted((self.root / SPECS / folder).glob("*")):
            if path.suffix == ENDING:
                found[path.name] = path
            elif not path.name.startswith(".") and not path.name.endswith("~"):
                self._add([_stray(self._name_of(path))])
        found |= {draft.name: draft for draft in self.drafts if self._folder_of(draft) == folder}
        return list(found.values())

    def _folder_of(self, draft: Path) -> str:
        folder = draft.resolve().parent.name
        if folder in KINDS:
            return folder
        return "demo" if (self.root / SPECS / "demo" / draft.name).exists() else "engines"

    def _add(self, problems: Iterable[Problem]) -> None:
        """Gather problems of one file, found after those that are gathered already, which are the last ones."""
        if later := list(problems):
            earlier = takewhile(lambda each: each.file == later[0].file, reversed(self.library.problems))
            self.library.problems += without_echoes(list(earlier), later)


def _stray(name: str) -> Problem:
    message = f"this is not read: the names of files here end in {ENDING}"
    return Problem(name, 1, 1, "file-name", "error", message, "rename it, or move it out of specs/")


def _misnamed(file: ReadFile) -> Iterator[Problem]:
    stem, found = PurePosixPath(file.name).stem, file.data.get("id")
    if isinstance(found, str) and found != stem:
        hint = f"write id: {stem}, or rename the file"
        yield file.problem(("id",), "id-is-file-name", f"the id is {found!r}, the file is named {stem!r}", hint)
