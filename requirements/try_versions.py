"""Plan and serve the example with the lowest and with the newest versions that pyproject.toml allows.

    python requirements/try_versions.py [lowest-direct | highest ...]

Needs uv and a network. Each set of versions gets an environment of its own in a folder that is thrown away.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import urllib.request
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
WAYS = ("lowest-direct", "highest")
PYTHON = "3.11"


def run(*command: str, show: bool = True) -> None:
    """Run a command in the source tree; it must end well."""
    said = subprocess.run(command, cwd=ROOT, env=ENVIRONMENT, check=True, text=True, capture_output=True)
    if show:
        print(said.stdout.strip().splitlines()[-1])


ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT / "src")}


def serves(python: str, folder: Path) -> None:
    """Start the app and ask whether it is there."""
    command = (python, "-m", "drawerwright", "serve", "--port", "0", "--data", str(folder / "data"))
    with subprocess.Popen(command, env=ENVIRONMENT, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        try:
            address = process.stdout.readline().split("http://")[1].split("/")[0]
            for page in ("alive", "", "corner"):
                with urllib.request.urlopen(f"http://{address}/{page}", timeout=30) as answer:
                    assert answer.status < 300, page
            print(f"serves {address}")
        finally:
            process.terminate()


def main() -> None:
    for way in sys.argv[1:] or WAYS:
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            wanted, python = str(folder / "wanted.txt"), str(folder / "env" / "bin" / "python")
            compile_ = ("uv", "pip", "compile", "--quiet", "--no-header", "--python-version", PYTHON)
            run(*compile_, "--resolution", way, "pyproject.toml", "-o", wanted, show=False)
            run("uv", "venv", "--quiet", "--python", PYTHON, str(folder / "env"), show=False)
            run("uv", "pip", "install", "--quiet", "--python", python, "-r", wanted, show=False)
            print(f"{way}, Python {PYTHON}:")
            job = "examples/music-school.yaml"
            run(python, "-m", "drawerwright", "plan", job, "--out", str(folder / "out"), "--time-limit", "2")
            serves(python, folder)


if __name__ == "__main__":
    main()
