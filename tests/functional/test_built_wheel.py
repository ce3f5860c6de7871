"""What somebody gets who installs the built wheel: pages and scripts, without Node.js and without a network."""

from __future__ import annotations

import re
import subprocess
import sys
import urllib.request
import zipfile
from pathlib import Path

import pytest

from drawerwright.web.server.scripts import joined_script

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from this tree and unpacked: a wheel without compiled parts is installed by just that."""
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    built = subprocess.run(command, cwd=ROOT, capture_output=True, text=True)
    assert built.returncode == 0, built.stderr
    (wheel,) = folder.glob("*.whl")
    zipfile.ZipFile(wheel).extractall(folder / "site")
    return folder / "site"


def test_the_built_wheel_serves_every_script_and_the_example_without_node(
    installed: Path, tmp_path: Path
) -> None:
    bare = {"PYTHONPATH": str(installed), "PATH": str(tmp_path), "HOME": str(tmp_path)}
    where = "import drawerwright; print(drawerwright.__file__)"
    found = subprocess.run(
        [sys.executable, "-c", where], cwd=tmp_path, env=bare, capture_output=True, text=True, check=True
    )
    assert Path(found.stdout.strip()).is_relative_to(installed)
    command = [sys.executable, "-m", "drawerwright", "serve", "--port", "0", "--data", str(tmp_path / "data")]
    server = subprocess.Popen(command, cwd=tmp_path, env=bare, stdout=subprocess.PIPE, text=True)
    try:
        assert server.stdout is not None
        desk = "http://" + server.stdout.readline().split("http://")[1].split("/")[0]
        page = urllib.request.urlopen(desk + "/").read().decode()
        scripts = re.findall(r'src="(/static/[^"]+)"', page)
        assert len(scripts) >= 2
        viewer = ("/static/viewer.js", "/static/vendor/three/three.module.min.js")
        imported = [f"/static/{path.name}" for path in (installed / "drawerwright/web/static").glob("*.js")]
        for script in (*scripts, *imported, *viewer):
            sent = urllib.request.urlopen(desk + script).read()
            own = installed / "drawerwright/web" / re.sub(r"/v-[^/]+", "", script)[1:]
            whole = joined_script(own.parent, "app").encode() if own.name == "app.js" else own.read_bytes()
            assert sent == whole, script
            assert sent, script
        style = urllib.request.urlopen(desk + "/static/app.css").read().decode()
        for font in re.findall(r'url\("(fonts/[^"]+)"\)', style):
            assert urllib.request.urlopen(f"{desk}/static/{font}").read(4) == b"wOF2"
        assert "Two measures decide" in urllib.request.urlopen(desk + "/help/cutter").read().decode()
        assert "Zwei Maße" in (installed / "drawerwright/web/help/de/cutter.md").read_text("utf-8")
        change = urllib.request.Request(desk + "/jobs/example", method="POST", headers={"Origin": desk})
        assert "Choir scores" in urllib.request.urlopen(change).read().decode()
    finally:
        server.terminate()
        server.wait(10)
        if server.stdout is not None:
            server.stdout.close()
    assert [path.name for path in (tmp_path / "data").glob("*.sqlite3")] == ["drawerwright.sqlite3"]
