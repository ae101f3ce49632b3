"""Wrong command lines: one line that says what is wrong and the nearest that would be right, and never a traceback."""

from __future__ import annotations

import codecs
import io
import os
import sys
from pathlib import Path
from typing import NoReturn

import click

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
            print("Stopped; nothing was changed by halves.", file=sys.stderr)
            sys.exit(130)
        print(f"\n{name}: a question was left without an answer; give what is asked for as options, --help lists them", file=sys.stderr)
        sys.exit(2)
    except BrokenPipeError:
        # Whoever read the output has seen enough; Python would complain once more when it closes it.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(0)
    sys.exit(code if isinstance(code, int) else 0)


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
    """The file of a record, source or step; raise WrongName with the nearest one if this is none."""
    path = Path(given)
    if path.is_file() and path.suffix == ENDING:
        return path
    if path.is_dir():
        what = f"{given} is a folder, not a file"
    elif path.exists():
        what = f"{given} is no record: their names end in {ENDING}"
    else:
        what = f"there is no file {given}"
    raise WrongName(f"{what}; {_nearest_file(given, root)}")


def find_engine(given: str, root: Path) -> Path:
    """The record of an engine by its id or its file; raise WrongName with the nearest id if there is none."""
    if given.endswith(ENDING) or "/" in given:
        return find(given, root)
    files = {path.stem: path for folder in ("engines", "demo") for path in sorted((root / SPECS / folder).glob(f"*{ENDING}"))}
    if given in files:
        return files[given]
    near = near_name(given, list(files)) or next((each for each in files if given and each.startswith(given)), "")
    raise WrongName(f"there is no engine {given}; " + (f"did you mean {near}?" if near else f"records stand in {SPECS}/engines"))


def _nearest_file(given: str, root: Path) -> str:
    names = [name_of(path, root) for folder in KINDS for path in sorted((root / SPECS / folder).glob(f"*{ENDING}"))]
    stems = {Path(name).stem: name for name in names}
    inside = [name for name in names if Path(name).is_relative_to(name_of(Path(given), root))]
    near = inside[0] if inside else stems.get(near_name(Path(given).stem, list(stems), alike=0.75))
    return f"did you mean {near}?" if near else f"records stand in {SPECS}/engines"
