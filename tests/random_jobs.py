"""Random jobs for tests and benchmarks: valid, plannable, and of every kind that a job file can say.

Every front style, runner, overlay (below, too), bottom, orientation, rule of heights and kind of cutter occurs, boxes
of two stocks, lips, pulls, plain boxes with higher fronts. A seed always gives the same job. Nothing of the package is
used here, so that a job says what its maker wanted and not what the package makes of it; no workshop owns its figures.
"""

from __future__ import annotations

import io
from random import Random
from typing import Any

from ruamel.yaml import YAML

Entry = dict[str, Any]

LEAST_SHARE = 96.0
"""Height of a front below which no useful box finds room behind it (mm)."""
LARGEST_LIP = 16.0
"""What the cutters drawn here can leave beside the thickest stock (mm)."""


def random_job(seed: int) -> str:
    """The text of a job file."""
    return text_of(random_entries(seed))


def text_of(entries: Entry) -> str:
    """Entries as a job file has them."""
    text = io.StringIO()
    yaml = YAML()
    yaml.width = 110
    yaml.dump(entries, text)
    return text.getvalue()


def random_entries(seed: int) -> Entry:
    """The same job as plain entries."""
    return _Jobber(Random(seed)).job(f"job {seed}")


def two_cutter_entries(first: int, second: int) -> Entry:
    """The jobs of two seeds as one: each cutter, with its own stock and drawers, at the machine of the first."""
    one, other = random_entries(first), random_entries(second)
    job: Entry = {key: one[key] for key in ("format", "machine", "fences")}
    job |= {"job": f"jobs {first} and {second}", "cutters": {}, "stock": {}, "banks": [], "boxes": []}
    for mark, part in (("one", one), ("other", other)):
        cutter = dict(part["cutter"])
        del cutter["name"]
        if "bit_heights" in part:
            cutter["bit_heights"] = part["bit_heights"]
        job["cutters"][mark] = cutter
        job["stock"] |= {f"{mark} {name}": stock for name, stock in part["stock"].items()}
        for section in ("banks", "boxes"):
            job[section] += [_with_stock(row, mark) for row in part.get(section, ())]
    job["fences"].pop("plan", None)
    return job


def _with_stock(row: Entry, mark: str) -> Entry:
    """A bank or a box as one of the job's parts, in its stock, with its cutter."""
    row = {**row, "name": f"{mark} {row['name']}", "cutter": mark}
    for section in ("box", "bottom", "fronts"):
        if section in row:
            row[section] = {
                key: f"{mark} {value}" if key in ("all", "front", "sides", "back", "stock") else value
                for key, value in row[section].items()
            }
    return row


class _Jobber:
    """Draws one job."""

    def __init__(self, random: Random) -> None:
        self.random = random
        self.is_mitre = random.random() < 0.15
        self.thin = self.length(13.0, 15.6, 0.01)
        self.thick = self.length(15.7, 18.8, 0.01)
        self.names = ("plain", "stout") if self.chance(0.7) else ("plain",)
        self.mid_depth = (
            self.length(11.0, 14.0, 0.05) if self.is_mitre else self.length(4.2, (self.thin - 3.2) / 2, 0.01)
        )

    def chance(self, share: float) -> bool:
        return self.random.random() < share

    def length(self, low: float, high: float, step: float = 0.5) -> float:
        """A length on the marks of a rule."""
        return round(round(self.random.uniform(low, high) / step) * step, 3)

    def job(self, name: str) -> Entry:
        banks = [self.bank(f"bank {number + 1}") for number in range(self.random.choice((0, 1, 1, 1, 2)))]
        boxes = [
            self.box(f"box {number + 1}") for number in range(self.random.choice((0, 0, 1, 2)) or not banks)
        ]
        job: Entry = {
            "format": 1,
            "job": name,
            "cutter": self.cutter(),
            "machine": self.machine(),
            "stock": self.stock(),
            "fences": {"flushness": self.random.choice((0.02, 0.05))},
        }
        if banks:
            job["banks"] = banks
        if boxes:
            job["boxes"] = boxes
        is_flush = all(bank["fronts"]["style"] != "lipped" for bank in banks) and not any(
            "lip" in box for box in boxes
        )
        if is_flush and not self.is_mitre and self.chance(0.3):
            job["fences"]["plan"] = self.random.choice(("one", "tooth"))
        if not self.is_mitre and self.chance(0.1):
            job["bit_heights"] = [round(2 * self.mid_depth - self.random.choice((0.05, 0.1)), 3)]
        return job

    def cutter(self) -> Entry:
        if self.is_mitre:
            return {
                "name": "lock-mitre cutter",
                "kind": "lock-mitre",
                "mid_depth": self.mid_depth,
                "step": self.length(19.5, 23.0, 0.05),
                "slope": 45,
                "cutting_height": 30,
                "diameter": 70,
            }
        return {
            "name": "drawer-lock cutter",
            "kind": "drawer-lock",
            "mid_depth": f"{self.mid_depth} ± {self.random.choice((0.02, 0.05))}",
            "step": f"{self.length(3.0, 4.2, 0.01)} ± 0.03",
            "slope": self.random.choice((45, 52, 60)),
            "cutting_height": round(2 * self.mid_depth + 3, 2),
            "diameter": 50,
        }

    def machine(self) -> Entry:
        router: Entry = {"height_gauge_offset": "0.05 ± 0.05", "repeatability": 0.03}
        if self.chance(0.5):
            router["longest_band"] = self.random.choice((900, 1300))
        machine: Entry = {"saw": {"kerf": self.length(2.0, 3.5, 0.1)}, "router_table": router}
        if self.chance(0.5):
            machine["sacrificial_strip"] = {"width": 12, "ends": self.random.choice((1, 2))}
        return machine

    def stock(self) -> Entry:
        def panel(thickness: float, grain: str) -> Entry:
            return {
                "panel": "other",
                "nominal": round(thickness),
                "mean": f"{thickness} ± 0.03",
                "grain": grain,
                "sheets": [{"length": 2500, "width": 1250}],
            }

        grains = ("length", "length", "none")
        made = {"plain": panel(self.thin, self.random.choice(grains))}
        if "stout" in self.names:
            made["stout"] = panel(self.thick, self.random.choice(grains))
        made["slim"] = panel(self.length(3.8, 6.6, 0.01), "none")
        return made

    def materials(self, thickest_side: float | None = None) -> tuple[Entry, float]:
        """Stock of a box, and the thickness of its sides."""
        if len(self.names) == 1 or self.chance(0.4):
            fits = [
                name for name in self.names if thickest_side is None or self.thickness(name) <= thickest_side
            ]
            name = self.random.choice(fits)
            return {"all": name}, self.thickness(name)
        front, back = self.random.choice(self.names), self.random.choice(self.names)
        sides = "plain" if thickest_side is not None else self.random.choice(self.names)
        return {"front": front, "sides": sides, "back": back}, self.thickness(sides)

    def thickness(self, name: str) -> float:
        return self.thin if name == "plain" else self.thick

    def bottom(self, least_height: float = 8.0) -> Entry:
        styles = ("captured", "slid", "fixed") if least_height <= 8 else ("captured", "slid")
        bottom: Entry = {"style": self.random.choice(styles), "stock": "slim"}
        if bottom["style"] != "fixed":
            bottom["groove_height"] = self.length(least_height, least_height + 8)
            if self.chance(0.5):
                bottom["groove_depth"] = self.length(4.0, 6.0)
            if self.chance(0.3):
                bottom["groove_play"] = 0
        if self.chance(0.3):
            bottom["clearance"] = self.random.choice((0.5, 2))
        return bottom

    def bank(self, name: str) -> Entry:
        styles = ("applied", "inset") if self.is_mitre else ("applied", "lipped", "lipped", "inset")
        style = self.random.choice(styles)
        kind = self.random.choice(("side-mounted", "under-mounted", "wooden", "none"))
        runner = self.runner(kind)
        materials, side = self.materials(16.0 if kind == "under-mounted" else None)
        side_space = 21 - side if kind == "under-mounted" else runner.get("side", _SIDE_SPACE[kind])
        reveal = self.length(1.5, 4.0)
        overlay = self.overlay(style, reveal, side_space)
        opening: Entry = {
            "width": self.length(260, 620),
            "height": self.length(140, 720),
            "depth": self.length(300, 500),
        }
        field = opening["height"] + overlay.get("top", -reveal) + overlay.get("bottom", -reveal)
        heights, lowest = self.heights(field, reveal)
        fronts: Entry = {"style": style, "heights": heights, "reveal": reveal, "overlay": overlay}
        if style == "applied":
            fronts["stock"] = self.random.choice(self.names)
            fronts[self.random.choice(("grain_upright", "match"))] = self.chance(0.4)
        if self.chance(0.5):
            fronts["pull"] = {"spacing": self.random.choice((0, 96, 128)), "hole": 5}
            if self.chance(0.5):
                fronts["pull"]["below_top"] = self.length(20, 45)
        bank: Entry = {"name": name, "opening": opening, "fronts": fronts, "runner": runner, "box": materials}
        if self.chance(0.2):
            bank["side_height"] = self.length(50, lowest - 46)
        if kind == "under-mounted" or self.chance(0.85):
            bank["bottom"] = self.bottom(13.0 if kind == "under-mounted" else 8.0)
        if self.chance(0.2):
            bank["banding"] = {
                "thickness": 0.6,
                "applied_front": self.chance(0.5),
                "box_top": self.chance(0.5),
            }
        if style != "lipped" and self.chance(0.2):
            bank["orientation"] = "sides-flat"
        return bank

    def runner(self, kind: str) -> Entry:
        runner: Entry = {"kind": kind}
        if kind == "side-mounted" and self.chance(0.5):
            runner["side"] = self.length(9, 13)
        if self.chance(0.4):
            runner["top"] = self.length(0, 8)
        if self.chance(0.4):
            runner["bottom"] = self.length(0, 14)
        if self.chance(0.3):
            runner["length"] = self.length(200, 260)
        if kind == "under-mounted" and "top" in runner:
            runner["notch"] = {"width": 33.5, "height": 12.4}
            runner["bore"] = {"diameter": 6, "beside": 8, "above": 32, "depth": 9}
        return runner

    def overlay(self, style: str, reveal: float, side_space: float) -> Entry:
        """Over the carcase or inside it; fronts of the box cover its sides, inset ones leave room for runners."""
        if style == "inset":
            overlay = {"sides": -max(reveal, round(side_space + self.length(0.5, 2.0), 2))}
            if self.chance(0.5):
                overlay["top"] = -self.length(1, 6)
            if self.chance(0.5):
                overlay["bottom"] = -self.length(1, 6)
            return overlay
        overlay = {}
        least = -reveal if style == "applied" else max(-side_space + 1.0, -reveal)
        most = 12.0 if style == "applied" else min(12.0, LARGEST_LIP - side_space)
        if self.chance(0.7) or least > -reveal:
            overlay["sides"] = self.length(max(least, 1.0), max(most, 1.0))
        for edge in ("top", "bottom"):
            if self.chance(0.6):
                overlay[edge] = self.length(1, 14)
        return overlay

    def heights(self, field: float, reveal: float) -> tuple[Entry, float]:
        """A rule that fills the field, and the height of its lowest front."""
        most = min(int((field + reveal) // (LEAST_SHARE + reveal)), 5)
        count = self.random.randint(1, most)
        total = field - (count - 1) * reveal
        mean = total / count
        smallest = self.length(LEAST_SHARE, mean, 0.1) if mean > LEAST_SHARE + 1 else mean
        rule = self.random.choice(("equal", "given", "arithmetic", "geometric"))
        if rule == "equal" or count == 1 or smallest >= mean - 0.5:
            return {"equal": count}, mean
        if rule == "given":
            given: list[float | str] = [smallest] * (count - 1)
            given.insert(self.random.randrange(count), "rest")
            return {"given": given}, smallest
        return {rule: {"count": count, "smallest": smallest}}, smallest

    def box(self, name: str) -> Entry:
        materials, _side = self.materials()
        height = self.length(60, 160)
        box: Entry = {
            "name": name,
            "outer": {"width": self.length(200, 450), "depth": self.length(180, 450), "height": height},
            "box": materials,
        }
        if self.chance(0.3):
            box["count"] = 2
        if not self.is_mitre and self.chance(0.3):
            box["lip"] = self.length(1, LARGEST_LIP)
        elif self.chance(0.3):
            box["orientation"] = "sides-flat"
        if self.chance(0.4):
            box["front_height"] = self.length(height, height + 40)
        if self.chance(0.8):
            box["bottom"] = self.bottom()
        return box


_SIDE_SPACE = {"side-mounted": 13.0, "wooden": 0.5, "none": 0.5}
"""Beside the box where a job says nothing else: the standing figures of docs/job-file.md."""
