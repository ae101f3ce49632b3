"""Wrong command lines: one line that says what is wrong and the nearest that would be right, and never a traceback."""

from __future__ import annotations

import codecs
import io
import os
import stat
import sys
from collections.abc import Callable
from pathlib import Path
from typing import NoReturn

import click

from generator import outset
from generator.reading import SchemaError, near_name, nearest
from generator.record.library import ENDING, KINDS, SPECS, name_of


class WrongName(click.UsageError):
    """A file or engine that is not there; the message is one line, with the nearest that is."""


def run(command: click.Group, name: str) -> NoReturn:
    """Run the command line and end the process. A wrong line ends with 2, an interrupted one with 130."""
    codecs.register_error("spelt", _spelt)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="spelt")
    try:
        outset.answer_in_turn()
        code = command.main(prog_name=name, standalone_mode=False)
        sys.stdout.flush()
    except click.exceptions.NoArgsIsHelpError as error:
        print(error.format_message(), file=sys.stderr)
        sys.exit(2)
    except click.ClickException as error:
        print(one_line(error, name), file=sys.stderr)
        sys.exit(2)
    except SchemaError as error:
        print(error, file=sys.stderr)
        sys.exit(1)
    except (click.Abort, KeyboardInterrupt) as error:
        if sys.stdin.isatty() or KeyboardInterrupt in (type(error), type(error.__cause__)):
            print(outset.SAID, file=sys.stderr)
            sys.exit(outset.CODE)
        print(f"\n{name}: a question was left without an answer; give what is asked for as options, --help lists them", file=sys.stderr)
        sys.exit(2)
    except BrokenPipeError:
        # Whoever read the output has seen enough; Python would complain once more when it closes it.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(0)
    except OSError as error:
        print(f"{name}: {_of_the_system(error)}", file=sys.stderr)
        if error.filename is None:
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(2)
    sys.exit(code if isinstance(code, int) else 0)


def _of_the_system(error: OSError) -> str:
    """A file that the system does not give or take, in one line. Without a file it is the output, as on a full disk."""
    said = (error.strerror or str(error) or type(error).__name__).lower()
    if error.filename is None:
        return f"the output cannot be written: {said}"
    file = " ".join(str(error.filename).split())
    return f"{file} cannot be read or written: {said}; look at its name and at the rights of file and folder"


# How a sign is spelt on a terminal that does not know it; a question mark in its place could be read as a digit.
_SPELT = {"·": ".", "−": "-", "±": "+-", "°": " deg", "²": "2", "³": "3", "µ": "u", "…": "...", "–": "-", "“": '"', "”": '"', "\u00a0": " "}


def _spelt(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    signs = error.object[error.start : error.end]
    return "".join(_SPELT.get(sign, sign.encode("unicode_escape").decode()) for sign in signs), error.end


def one_line(error: click.ClickException, name: str) -> str:
    """The error in one line, with the command it is about and the nearest valid name."""
    context = getattr(error, "ctx", None)
    where = context.command_path if context else name
    return f"{where}: {' '.join(_words(error).split())}"


def _words(error: click.ClickException) -> str:
    context = getattr(error, "ctx", None)
    if isinstance(error, click.NoSuchOption) and context:
        options = [option for param in context.command.get_params(context) for option in param.opts if option.startswith("--")]
        return f"there is no option {error.option_name}; {nearest(error.option_name, options)}"
    wrong = getattr(error, "command_name", None)
    if wrong and context and isinstance(context.command, click.Group):
        return f"there is no command {wrong!r}; {nearest(wrong, context.command.list_commands(context))}"
    text = error.format_message().rstrip(".")
    return text if isinstance(error, WrongName) else text[:1].lower() + text[1:]


def find(given: str, root: Path) -> Path:
    """The file of a record, source or step; raise WrongName with the nearest one if this is none, OSError where the system does not say."""
    path = Path(given)
    mode = _mode(path) if given else 0
    if stat.S_ISREG(mode) and path.suffix == ENDING:
        return path
    what = next(words for holds, words in _NO_RECORD if holds(given, mode))
    raise WrongName(f"{what.format(given)}; {_files_in(path) if stat.S_ISDIR(mode) else _nearest_file(given, root)}")


def _mode(path: Path) -> int:
    """What the system says the path is; 0 where nothing is."""
    try:
        return path.stat().st_mode
    except (FileNotFoundError, NotADirectoryError):
        return 0


_NO_RECORD: tuple[tuple[Callable[[str, int], bool], str], ...] = (
    (lambda given, mode: not given, "the name of the file is empty"),
    (lambda given, mode: mode == 0, "there is no file {0}"),
    (lambda given, mode: stat.S_ISDIR(mode), "{0} is a folder, not a file"),
    (lambda given, mode: not stat.S_ISREG(mode), "{0} is no file but a pipe, a socket or a device"),
    (lambda given, mode: True, f"{{0}} is no record: their names end in {ENDING}"),
)


def _files_in(folder: Path) -> str:
    if next(folder.glob(f"*{ENDING}"), None):
        return f"name the files in it: {folder.as_posix()}/*{ENDING}"
    return f"records stand in {SPECS}/engines"


def find_engine(given: str, root: Path) -> Path:
    """The record of an engine by its id or its file; raise WrongName with the nearest id if there is none."""
    if given.endswith(ENDING) or "/" in given:
        return find(given, root)
    files = {path.stem: path for folder in ("engines", "demo") for path in sorted((root / SPECS / folder).glob(f"*{ENDING}"))}
    if given in files:
        return files[given]
    near = near_name(given, list(files)) or next((each for each in files if given and each.startswith(given)), "")
    what = f"there is no engine {given}" if given else "the name of the engine is empty"
    raise WrongName(f"{what}; " + (f"did you mean {near}?" if near else f"records stand in {SPECS}/engines"))


def _nearest_file(given: str, root: Path) -> str:
    names = [name_of(path, root) for folder in KINDS for path in sorted((root / SPECS / folder).glob(f"*{ENDING}"))]
    stems = {Path(name).stem: name for name in names}
    near = stems.get(near_name(Path(given).stem, list(stems), alike=0.75))
    return f"did you mean {near}?" if near else f"records stand in {SPECS}/engines"
