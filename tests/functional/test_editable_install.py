"""What `make plan` leaves in its environment: the command, on this source tree, without npm and without a network."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

ROOT = Path(__file__).parents[2]
BUILD = "import sys, hatchling.build; print(hatchling.build.build_editable(sys.argv[1]))"


def test_an_editable_wheel_names_the_tree_and_the_command_and_takes_nothing_in(tmp_path: Path) -> None:
    built = subprocess.run(
        [sys.executable, "-c", BUILD, str(tmp_path)],
        cwd=ROOT,
        env={"PATH": str(tmp_path), "HOME": str(tmp_path)},  # no npm there
        capture_output=True,
        text=True,
    )
    assert built.returncode == 0, built.stderr
    with zipfile.ZipFile(tmp_path / built.stdout.split()[-1]) as wheel:
        held = {Path(name).name: wheel.read(name).decode() for name in wheel.namelist()}
        places = {Path(name).parent.name for name in wheel.namelist() if ".dist-info" not in name}
    assert places == {""}, "files of the package itself would hide those of the source tree"
    (path,) = (text for name, text in held.items() if name.endswith(".pth"))
    assert Path(path.strip()) == ROOT / "src"
    assert "drawerwright = drawerwright.cli:main" in held["entry_points.txt"]
