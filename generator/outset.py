"""What may happen while the program is still being loaded, told in one line: Ctrl-C, and a Python without the packages."""

from __future__ import annotations

import os
import signal
import sys
from importlib.util import find_spec
from types import FrameType

SAID = "Stopped; nothing was changed by halves."
CODE = 130  # as of a command that a shell sees stopped


def need_packages() -> None:
    """End the process where its Python has not what the Makefile installs."""
    if find_spec("click") is None:
        print(f"{sys.executable} lacks Firedeck's packages: run 'make check' once, then .venv/bin/python -m generator", file=sys.stderr)
        sys.exit(2)


def answer_at_once() -> None:
    """End the process at Ctrl-C without an exception, which in the middle of an import would be a traceback. A Ctrl-C that is ignored stays so."""
    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, _end)


def answer_in_turn() -> None:
    """From here on it is an exception again: what was begun is cleared away."""
    if signal.getsignal(signal.SIGINT) is _end:
        signal.signal(signal.SIGINT, signal.default_int_handler)


def _end(signum: int, frame: FrameType | None) -> None:
    os.write(2, f"{SAID}\n".encode())
    os._exit(CODE)
