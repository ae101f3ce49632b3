"""The folder the site ends up in: one build at a time, made beside it, put in place by one rename."""

from __future__ import annotations

import ctypes
import fcntl
import os
import shutil
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import mkdtemp

_AT_FDCWD, _RENAME_EXCHANGE = -100, 2


@contextmanager
def beside(target: Path, workshop: Path) -> Iterator[Path]:
    """Give an empty folder to build in; put it in the place of `target` when the block ends without an error.

    workshop: folder on the same disk as target. Until the last moment the old
    target stays whole, whatever happens to this process.
    """
    workshop.mkdir(exist_ok=True)
    with (workshop / "lock").open("w") as lock:
        _wait_for(lock.fileno())
        for left_over in workshop.glob("new-*"):
            shutil.rmtree(left_over, ignore_errors=True)
        folder = Path(mkdtemp(prefix="new-", dir=workshop))
        folder.chmod(0o755)
        try:
            yield folder
            _put(folder, target)
        finally:
            shutil.rmtree(folder, ignore_errors=True)


def _wait_for(lock: int) -> None:
    try:
        fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        print("Another build is running; waiting for it to end …", file=sys.stderr)
        fcntl.flock(lock, fcntl.LOCK_EX)


def _put(folder: Path, target: Path) -> None:
    """Exchange the two in one step where the system can; the old content is then in `folder`."""
    if not target.exists():
        folder.rename(target)
    elif not _exchanged(folder, target):
        old = folder.with_name(f"{folder.name}-old")
        target.rename(old)
        folder.rename(target)
        shutil.rmtree(old, ignore_errors=True)


def _exchanged(one: Path, other: Path) -> bool:
    rename = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if rename is None:
        return False
    result: int = rename(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _RENAME_EXCHANGE)
    return result == 0
