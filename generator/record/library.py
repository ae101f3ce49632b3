"""Everything that is known, read once: sources, engines, the procedure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from generator.reading import Problem, ReadFile, Schemas, read_file
from generator.record.engine import Engine, read_engine
from generator.record.procedure import Caution, Phase, read_cautions, read_phase
from generator.record.source import Source, read_source


@dataclass
class Library:
    """engines, sources and cautions by id; phases in the order of the job."""

    schemas: Schemas
    sources: dict[str, Source] = field(default_factory=dict)
    engines: dict[str, Engine] = field(default_factory=dict)
    phases: list[Phase] = field(default_factory=list)
    cautions: dict[str, Caution] = field(default_factory=dict)
    cautions_file: ReadFile | None = None
    problems: list[Problem] = field(default_factory=list)


def load(root: Path) -> Library:
    """Read schema/ and specs/ below the project's folder; what is wrong is in `problems`."""
    library = Library(Schemas(root / "schema"))
    for file in _read(library, root, "specs/sources", "source"):
        source = read_source(file)
        library.sources[source.id] = source
    for folder, invented in (("specs/engines", False), ("specs/demo", True)):
        shape = library.schemas.shape("engine")
        for file in _read(library, root, folder, "engine"):
            engine, found = read_engine(file, shape, invented)
            library.problems += found
            _add(library, engine)
    _load_procedure(library, root)
    return library


def _add(library: Library, engine: Engine) -> None:
    if other := library.engines.get(engine.id):
        message = f"the id {engine.id!r} is also the id of {other.file.name}"
        library.problems.append(engine.file.problem(("id",), "id-once", message, "choose another id and file name"))
    library.engines[engine.id] = engine


def _load_procedure(library: Library, root: Path) -> None:
    paths = sorted((root / "specs/procedure").glob("*.yaml"))
    for file in _checked(library, root, [path for path in paths if path.name == "cautions.yaml"], "cautions"):
        library.cautions, library.cautions_file = read_cautions(file), file
    phases = [read_phase(file) for file in _checked(library, root, [path for path in paths if path.name != "cautions.yaml"], "phase")]
    library.phases = sorted(phases, key=lambda phase: phase.number)


def _read(library: Library, root: Path, folder: str, kind: str) -> list[ReadFile]:
    return _checked(library, root, sorted((root / folder).glob("*.yaml")), kind)


def _checked(library: Library, root: Path, paths: Iterable[Path], kind: str) -> list[ReadFile]:
    """Files that could be read, with their problems and those of their schema gathered."""
    files = []
    for path in paths:
        file, problems = read_file(path, path.relative_to(root).as_posix())
        library.problems += problems
        if file:
            library.problems += library.schemas.check(file, kind)
            library.problems += _misnamed(file) if kind in _NAMED_BY_ID else []
            files.append(file)
    return files


_NAMED_BY_ID = ("engine", "source")


def _misnamed(file: ReadFile) -> Iterator[Problem]:
    stem, found = PurePosixPath(file.name).stem, file.data.get("id")
    if isinstance(found, str) and found != stem:
        hint = f"write id: {stem}, or rename the file"
        yield file.problem(("id",), "id-is-file-name", f"the id is {found!r}, the file is named {stem!r}", hint)
