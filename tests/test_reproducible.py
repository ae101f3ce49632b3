"""One commit, one site: whatever the folder, the hour, the order of hashes or the zone of time."""

import os
import subprocess
import sys

from tests.conftest import Project

WORLDS = (
    {"PYTHONHASHSEED": "1", "TZ": "UTC", "LANG": "C"},
    {"PYTHONHASHSEED": "77", "TZ": "Pacific/Kiritimati", "LANG": "C.UTF-8", "LC_ALL": "C.UTF-8"},
)


def test_two_builds_in_two_folders_give_the_same_bytes(tmp_path):
    sites = []
    for number, world in enumerate(WORLDS):
        project = Project(tmp_path / ("a folder/deep" if number else "other"))
        environment = {**os.environ, **world}
        command = [sys.executable, "-m", "generator", "build"]
        result = subprocess.run(command, cwd=project.folder, env=environment, capture_output=True, text=True)
        assert result.returncode == 0, result.stderr
        site = project.folder / "site"
        sites.append({path.relative_to(site).as_posix(): path.read_bytes() for path in site.rglob("*") if path.is_file()})
    assert sites[0].keys() == sites[1].keys()
    assert [name for name in sites[0] if sites[0][name] != sites[1][name]] == []
