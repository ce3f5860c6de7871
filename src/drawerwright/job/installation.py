"""What this installation consists of, and whether it can do its work: for whoever meets a fault."""

from __future__ import annotations

import importlib.util
import platform
import re
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path

from drawerwright import __version__
from drawerwright.basics.errors import InvalidValueError
from drawerwright.job.own_faults import SEND_ON, report_folder
from drawerwright.store import DataHealth, data_folder, data_health
from drawerwright.store.records import StoreError

DISTRIBUTION = "drawerwright"
LEAST_FREE = 200_000_000
"""Room on the data's disk below which a packet and a backup may no longer fit (bytes)."""
OWN_REQUIREMENT = re.compile(r"^(?P<name>[A-Za-z0-9._-]+)\s*>=\s*(?P<least>[0-9.]+)\s*$")
"""As this project's pyproject.toml states what a command needs; what only an extra needs has a marker behind it."""


@dataclass(frozen=True, slots=True)
class Check:
    """One thing looked at."""

    about: str
    said: str
    """What was found; what to do, where that is a fault."""
    is_fault: bool = False
    is_to_look_at: bool = False
    """Nothing is broken, but somebody should know."""

    @property
    def weight(self) -> str:
        """In a word."""
        return "WRONG" if self.is_fault else "LOOK" if self.is_to_look_at else "fine"


def checks(folder: Path) -> Iterator[Check]:
    """Look at the program, its libraries, a whole plan, and the data in `folder`, one after the other.

    Nothing is changed, but that the folder for temporary files is written in.
    """
    yield Check(
        "program", f"Drawerwright {__version__}, Python {platform.python_version()}, {platform.system()}"
    )
    yield libraries_check(_requirements())
    yield _pictures()
    yield _whole_plan()
    yield data_check(folder)
    yield _reports()


def libraries_check(requirements: Iterable[str] | None) -> Check:
    """Whether each library that a command needs is there, and not older than what is allowed.

    Args:
        requirements: as the installed package declares them; None where it is not installed.
    """
    about = "libraries"
    if requirements is None:
        return Check(about, "not installed as a package, so their versions are not known")
    wanted = [found for line in requirements if (found := OWN_REQUIREMENT.match(line))]
    wrong = [said for need in wanted if (said := _wrong_with(need["name"], need["least"]))]
    if wrong:
        return Check(about, f"{'; '.join(wrong)}: install Drawerwright again", is_fault=True)
    return Check(about, f"all {len(wanted)} there, none too old")


def _requirements() -> list[str] | None:
    try:
        return metadata.requires(DISTRIBUTION) or []
    except metadata.PackageNotFoundError:
        return None


def _wrong_with(name: str, least: str) -> str | None:
    try:
        found = metadata.version(name)
    except metadata.PackageNotFoundError:
        return f"{name} is missing"
    if _numbers(found) < _numbers(least):
        return f"{name} is {found}, {least} or newer is needed"
    return None


def _numbers(version: str) -> list[int]:
    """The numbers that a version begins with, without noughts at its end: 2.10 is 2.10.0."""
    numbers = [int(part) for part in re.findall(r"\d+", version.split("+")[0])]
    while numbers and not numbers[-1]:
        numbers.pop()
    return numbers


def _pictures() -> Check:
    if importlib.util.find_spec("cv2") is None:
        return Check(
            "pictures", "scans cannot be read; pip install 'drawerwright[scan]' brings what that needs"
        )
    return Check("pictures", "scans can be read")


def _whole_plan() -> Check:
    """Plan the example and typeset its packet, which needs every library."""
    from drawerwright.job.file.building import read_job
    from drawerwright.job.file.first_jobs import example_text
    from drawerwright.job.papers.packet_pages import plan_packet
    from drawerwright.job.planning.job_plan import plan_job

    began = time.perf_counter()
    try:
        pdf = plan_packet(plan_job(read_job(example_text())))
    except Exception as error:  # whatever is wrong with a library shows here
        kind = type(error).__name__
        return Check(
            "a whole plan",
            f"the example cannot be planned ({kind}: {error}): install Drawerwright again",
            True,
        )
    seconds = time.perf_counter() - began
    return Check("a whole plan", f"the example and its packet of {len(pdf) // 1000} kB in {seconds:.1f} s")


def data_check(folder: Path) -> Check:
    """Whether the data in `folder` is whole and can be written."""
    try:
        health = data_health(folder)
    except (InvalidValueError, StoreError) as error:
        return Check("data", str(error), is_fault=True)
    except OSError as error:
        return Check("data", f"{error.filename}: {error.strerror}", is_fault=True)
    if health is None:
        is_usual = folder == data_folder()
        return Check("data", f"none yet in {folder}; the app makes it", is_to_look_at=not is_usual)
    return Check("data", _data_words(health), health.free < LEAST_FREE, health.others_may_read)


def _data_words(health: DataHealth) -> str:
    said = f"{health.path}: jobs, deleted ones included: {health.jobs}; {health.size / 1e6:.1f} MB, whole"
    if health.free < LEAST_FREE:
        return f"{said}. Only {health.free / 1e6:.0f} MB are left on its disk: make room"
    if health.others_may_read:
        return f"{said}. Other users of this computer may look into {health.path.parent}: chmod 700 shuts it"
    return said


def _reports() -> Check:
    """Faults of the program that were met before: what to send on."""
    found = sorted(report_folder().glob("*.txt"))
    if not found:
        return Check("fault reports", "none")
    return Check("fault reports", f"{len(found)}, the newest {found[-1]}: {SEND_ON}", is_to_look_at=True)
