"""Settings, sizes, bands, sheets and shop papers for drawers with router-cut corner joints.

The front door for Python, `import drawerwright as dw`: the names of `__all__` and nothing else. Each is loaded when it
is first asked for, so the import alone costs next to nothing. docs/library.md shows them at work and says which of
their attributes are kept; the modules below may change with any release.
"""

from __future__ import annotations

TYPE_CHECKING = False  # `typing` alone would take longer to load than this module may
if TYPE_CHECKING:
    from drawerwright.basics.errors import DrawerwrightError
    from drawerwright.basics.uncertain import Estimate
    from drawerwright.job.cut_parts import SheetPart
    from drawerwright.joints.cutter import Cutter
    from drawerwright.joints.readings import FitRange
    from drawerwright.joints.table import RouterTable
    from drawerwright.library.corner_answers import corner, fit
    from drawerwright.library.opened_job import open_job
    from drawerwright.library.planned_sheets import plan_sheets
    from drawerwright.library.rack_answers import rack
    from drawerwright.library.scanned_section import scan
    from drawerwright.library.table_answers import import_drawers, read_parts
    from drawerwright.library.test_cut_answers import TestCut, correct
    from drawerwright.library.wood_answers import bottom, moisture, movement
    from drawerwright.sheets.sheet_stock import SheetSize

__version__ = "0.2.0"
__all__ = [
    "Cutter",
    "DrawerwrightError",
    "Estimate",
    "FitRange",
    "RouterTable",
    "SheetPart",
    "SheetSize",
    "TestCut",
    "bottom",
    "corner",
    "correct",
    "fit",
    "import_drawers",
    "moisture",
    "movement",
    "open_job",
    "plan_sheets",
    "rack",
    "read_parts",
    "scan",
]

_HOMES = {
    "Cutter": "joints.cutter",
    "DrawerwrightError": "basics.errors",
    "Estimate": "basics.uncertain",
    "FitRange": "joints.readings",
    "RouterTable": "joints.table",
    "SheetPart": "job.cut_parts",
    "SheetSize": "sheets.sheet_stock",
    "TestCut": "library.test_cut_answers",
    "bottom": "library.wood_answers",
    "corner": "library.corner_answers",
    "correct": "library.test_cut_answers",
    "fit": "library.corner_answers",
    "import_drawers": "library.table_answers",
    "moisture": "library.wood_answers",
    "movement": "library.wood_answers",
    "open_job": "library.opened_job",
    "plan_sheets": "library.planned_sheets",
    "rack": "library.rack_answers",
    "read_parts": "library.table_answers",
    "scan": "library.scanned_section",
}
"""Where each name is made."""

_WITHDRAWN: dict[str, str] = {}
"""Names that the next release will not have, and what to use instead. They work for this one, with a warning."""


if not TYPE_CHECKING:  # a type checker refuses a name that is not there

    def __getattr__(name: str) -> object:
        """A name of the front door, loaded when it is first asked for.

        Raises:
            AttributeError: there is no such name.
        """
        if name not in _HOMES:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        from importlib import import_module

        value = getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
        if name in _WITHDRAWN:
            import warnings

            warnings.warn(
                f"drawerwright.{name} goes with the next release: {_WITHDRAWN[name]}",
                DeprecationWarning,
                stacklevel=2,
            )
        else:
            globals()[name] = value
        return value


def __dir__() -> list[str]:
    """What completion offers: the front door's names beside those of every module."""
    return sorted({*globals(), *__all__})
