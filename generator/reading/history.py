"""When each record was last committed, in one call for all."""

from __future__ import annotations

import subprocess
from datetime import date
from pathlib import Path


def commit_dates(root: Path, folder: str) -> dict[str, date]:
    """Date of the last commit by file name below `folder`; empty outside a git checkout."""
    command = ["git", "-C", str(root), "log", "--format=@%cs", "--name-only", "--no-renames", "--relative", "--", folder]
    try:
        text = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60).stdout
    except (OSError, subprocess.SubprocessError):
        return {}
    found: dict[str, date] = {}
    when = None
    for line in text.splitlines():
        if line.startswith("@"):
            when = date.fromisoformat(line[1:])
        elif line and when:
            found.setdefault(line, when)
    return found
