"""Drawers put together by hand from a plan: boards with their cuts and grooves, laid where the plan says.

A board comes out of a block as in the shop: its cut sizes and edging, the cutter's path at both ends (the statement of
docs/law.md, written down here a second time), the groove that its own list says. Then the boards are laid together and
looked at as a maker would: nothing takes the room of another, the bottom lies in its grooves, every joint is home,
fronts keep their reveals and boxes their clearances, and each drawer pulls out past the others. What a job wants is
read from its entries (`random_jobs`), not from what the package made of them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Any

import manifold3d
import numpy as np
import shapely

from drawerwright.drawers.assembly import AssembledDrawer, PlacedPart
from drawerwright.drawers.carcase import pull_holes, runner_lines
from drawerwright.drawers.parts import PartKind, Role
from drawerwright.drawers.runners import STANDARD_RUNNERS, RunnerKind
from drawerwright.job.file.building import job_of
from drawerwright.job.file.reading import Document
from drawerwright.job.planning.draft import JobDraft, draft_job
from random_jobs import Entry, random_entries
from virtual_cutter import VirtualCutter, raised

ROUNDING = 1e-6
"""What reckoning may leave (mm)."""
TOLD = 0.0006
"""Grooves are told to a thousandth of a millimetre."""
NUDGE = 0.01
"""How far a joint that is home is pushed to see that it stops at once (mm)."""
USUAL_MARK = 0.05
"""From mark to mark of a scale of which a job says nothing (mm; docs/job-file.md)."""
WALLS = (PartKind.FRONT, PartKind.BACK, PartKind.LEFT, PartKind.RIGHT)

Box = tuple[np.ndarray, np.ndarray]
"""The corners of a block with the least and the greatest x, y and z."""


@dataclass(frozen=True)
class Flaw:
    """Something that does not go together, and by how much (mm or mm³)."""

    what: str
    where: str
    by: float

    def __str__(self) -> str:
        return f"{self.where}: {self.what} ({self.by:.6f})"


def drafted(seed: int) -> JobDraft:
    """A random job with its parts and settings."""
    return drafted_of(random_entries(seed))


def drafted_of(entries: Entry) -> JobDraft:
    """The same for a job's entries."""
    return draft_job(job_of(Document.of(entries)))


def flaws_of(entries: Entry, draft: JobDraft) -> Iterator[Flaw]:
    """Everything that does not go together in a job that should be as its entries say."""
    seen: set[object] = set()
    drawers = {drawer.box.name: drawer for drawer in draft.assembled}
    wanted = {}
    for bank in draft.job.banks:
        entry = next(entry for entry in entries["banks"] if entry["name"] == bank.bank.name)
        wanted |= {box.name: entry for box in bank.boxes}
        yield from _Bank(entry, draft, bank.bank, [drawers[box.name] for box in bank.boxes]).flaws()
    for entry in entries.get("boxes", ()):
        wanted |= {
            name: entry for name in drawers if name == entry["name"] or name.startswith(entry["name"] + " ")
        }
    for name, drawer in drawers.items():
        yield from _Drawer(entries, wanted[name], draft, drawer).flaws(seen)


class _Drawer:
    """One drawer out of boards."""

    def __init__(self, entries: Entry, entry: Entry, draft: JobDraft, drawer: AssembledDrawer) -> None:
        self.entry, self.draft, self.drawer = entry, draft, drawer
        self.cutter = VirtualCutter(entries["cutter"])
        self.flushness = entries["fences"]["flushness"]
        self.fence_mark = entries["machine"]["router_table"].get("fence_gauge_step", USUAL_MARK)
        self.placed = {each.kind: each for each in drawer.placed}
        self.solids = {kind: self._board(each) for kind, each in self.placed.items()}

    def flaws(self, seen: set[object]) -> Iterator[Flaw]:
        """`seen` are the joints that other drawers of the job have shown."""
        yield from self._sizes()
        yield from self._overlaps()
        yield from self._bottom()
        yield from self._runners_pass()
        yield from self._joints(seen)

    def _flaw(self, what: str, by: float) -> Flaw:
        return Flaw(what, self.drawer.box.name, float(by))

    def _runners_pass(self) -> Iterator[Flaw]:
        """A runner as wide and high as the notch of its sheet runs along each side, from the front out at the back."""
        notch = self.entry.get("runner", {}).get("notch")
        if notch is None:
            return
        drawer = manifold3d.Manifold.batch_boolean(list(self.solids.values()), manifold3d.OpType.Add)
        width, depth = self.drawer.box.width, self.drawer.box.depth
        side = self.drawer[PartKind.LEFT].part.thickness
        steel = manifold3d.Manifold.cube((notch["width"], depth + 5, notch["height"]))
        for left in (side, width - side - notch["width"]):
            shared = float((drawer ^ steel.translate((left, 0, 0))).volume())
            if shared > ROUNDING:
                yield self._flaw("wood in the runner's way", shared)

    def _board(self, placed: PlacedPart) -> Any:
        part = placed.part
        outline = shapely.box(0, 0, part.length, part.thickness)
        for number, end in enumerate(part.ends):
            setting = self.draft.settings[end.corner]
            fence = setting.fence_flat if end.role is Role.FLAT else setting.fence_upright
            path = self.cutter.path(end.role, setting.bit_height, fence, part.thickness)
            if number:
                path = [(part.length - along, through) for along, through in path]
            outline = outline - shapely.Polygon(path)
        if outline.geom_type != "Polygon":  # what the cutter takes off as a whole falls down
            outline = max(outline.geoms, key=lambda piece: piece.area)
        solid = raised(np.array(shapely.geometry.polygon.orient(outline).exterior.coords)[:-1], part.width)
        if part.groove is not None:
            groove = part.groove
            tool = manifold3d.Manifold.cube((part.length + 2, groove.depth + 1, groove.width))
            solid -= tool.translate((-1, -1, groove.height))
        for notch in part.notches:
            saw = manifold3d.Manifold.cube((notch.end - notch.begin, part.thickness + 2, notch.height + 1))
            solid -= saw.translate((notch.begin, -1, -1))
        place = placed.place.in_drawer
        corner = np.array(place((0.0, 0.0, 0.0)))
        along, through, across = (
            np.array(place(unit)) - corner for unit in ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0))
        )
        return solid.transform(np.column_stack([along, through, across, corner]))

    def bounds(self, kind: PartKind) -> Box:
        return bounds(self.solids[kind])

    def _sizes(self) -> Iterator[Flaw]:
        """The walls are as far apart as the box is wide and deep, and stand where the job wants them."""
        box = self.drawer.box
        front, back, left, right = (self.bounds(kind) for kind in WALLS)
        for part in self.drawer.parts:
            edging = part.banding * np.array([part.banded_short_edges, part.banded_long_edges])
            missing = np.array([part.cut_length, part.cut_width]) + edging - (part.length, part.width)
            if abs(missing).max() > part.step / 2 + ROUNDING:
                yield self._flaw("cut size and edging make another size", abs(missing).max())
        if "outer" in self.entry:
            outer = self.entry["outer"]
            wanted = {"width": outer["width"], "depth": outer["depth"], "height": outer["height"]}
            wanted["front"] = self.entry.get("front_height", outer["height"])
            wanted["lip"], wanted["below"] = self.entry.get("lip", 0.0), 0.0
        else:
            wanted = {"width": box.width, "depth": box.depth, "height": box.height}
            wanted["front"] = box.front_height
        has = {
            "width": right[1][0] - left[0][0],
            "depth": back[1][1] - front[0][1],
            "height": left[1][2] - left[0][2],
            "front": front[1][2] - front[0][2],
            "lip": left[0][0] - front[0][0],
            "below": left[0][2] - front[0][2],
        }
        for what, size in wanted.items():
            # A front between the sides has no lip, and a mitre of two thicknesses takes the front's edge off.
            is_shorter = what == "lip" and (box.orientation == "sides-flat" or not self.cutter.is_wide_above)
            if abs(has[what] - size) > ROUNDING and not is_shorter:
                yield self._flaw(f"outer size: {what}", has[what] - size)
        if PartKind.APPLIED_FRONT in self.solids:
            gap = front[0][1] - self.bounds(PartKind.APPLIED_FRONT)[1][1]
            if abs(gap) > ROUNDING:
                yield self._flaw("applied front off the box", gap)

    def _overlaps(self) -> Iterator[Flaw]:
        """Parts that take the same room; where the fence's marks give less than the lip, heads are pressed by that."""
        for one, other in combinations(self.solids, 2):
            shared = (self.solids[one] ^ self.solids[other]).volume()
            height = self.drawer.box.height
            faces = height * sum(self.placed[kind].part.thickness for kind in (one, other))
            pressed = 0.0
            for key in self._corners_of(one) & self._corners_of(other):
                deep = min(self.draft.settings[key].engagement, self.placed[one].part.thickness)
                pressed = max(pressed, height * deep * max(0.0, -self._off_lip(key)))
            if shared > pressed + faces * ROUNDING:
                yield self._flaw(f"{one} and {other} take the same room", shared)

    def _corners_of(self, kind: PartKind) -> set[Any]:
        return {end.corner for end in self.placed[kind].part.ends}

    def _off_lip(self, key: Any) -> float:
        """How far the fence positions of a corner go beyond its lip, as far as the job allows it.

        That is what it gives away for fewer positions, and half a mark of the fence scale for each of two pieces.
        """
        setting = self.draft.settings[key]
        total = setting.fence_flat + setting.fence_upright
        off = total - key.lip - setting.corner.upright_thickness - self.cutter.step
        allowed = self.flushness + self.fence_mark
        return max(-allowed, min(off, allowed))

    def _bottom(self) -> Iterator[Flaw]:
        wanted = self.entry.get("bottom")
        grooved = {kind for kind in WALLS if self.placed[kind].part.groove is not None}
        if (PartKind.BOTTOM in self.solids) != (wanted is not None):
            yield self._flaw("a bottom more or less", 1.0)
        if wanted is None or PartKind.BOTTOM not in self.solids:
            return
        low, high = self.bounds(PartKind.BOTTOM)
        style, clearance = wanted["style"], wanted.get("clearance", 1.5)
        walls = {"captured": set(WALLS), "slid": set(WALLS) - {PartKind.BACK}, "fixed": set()}[style]
        if grooved != walls:
            yield self._flaw("grooves in other walls", len(grooved ^ walls))
        for kind in grooved & walls:
            part, place = self.placed[kind].part, self.placed[kind].place
            groove = part.groove
            assert groove is not None
            corners = [
                place.in_drawer((along, across, through))
                for along, across, through in (
                    (0.0, groove.height, 0.0),
                    (part.length, groove.height + groove.width, groove.depth),
                )
            ]
            room = np.min(corners, axis=0), np.max(corners, axis=0)
            if room[0][2] - low[2] > TOLD or high[2] - room[1][2] > TOLD:
                yield self._flaw(
                    f"bottom beside the groove of the {kind}", max(room[0][2] - low[2], high[2] - room[1][2])
                )
            inwards = 0 if kind in (PartKind.LEFT, PartKind.RIGHT) else 1
            deep = min(high[inwards], room[1][inwards]) - max(low[inwards], room[0][inwards])
            if abs(deep - (groove.depth - clearance / 2)) > ROUNDING:
                yield self._flaw(f"bottom not as deep in the groove of the {kind}", deep - groove.depth)
        sides = self.bounds(PartKind.LEFT)
        if style == "fixed" and abs(high[2] - sides[0][2]) > ROUNDING:
            yield self._flaw("fixed bottom off the sides", high[2] - sides[0][2])
        if style != "fixed" and abs(low[2] - sides[0][2] - wanted["groove_height"]) > TOLD:
            yield self._flaw("bottom at another height", low[2] - sides[0][2] - wanted["groove_height"])

    def _joints(self, seen: set[object]) -> Iterator[Flaw]:
        """Each upright piece stops at once when it is pushed on, into the flat piece and towards the inside."""
        across = self.drawer.box.orientation == "sides-flat"
        for end, kind in ((0, PartKind.FRONT), (1, PartKind.BACK)):
            for side in (PartKind.LEFT, PartKind.RIGHT):
                key = self.placed[kind].part.ends[0 if side is PartKind.LEFT else 1].corner
                known = (key, side, kind)
                if known in seen:
                    continue
                seen.add(known)
                flat, upright = (side, kind) if across else (kind, side)
                home = np.array([0.0, -1.0 if end == 0 else 1.0, 0.0])
                inwards = np.array([1.0 if side is PartKind.LEFT else -1.0, 0.0, 0.0])
                if across:
                    home, inwards = -inwards, -home
                height = min(self.placed[each].part.width for each in (flat, upright)) / 2
                for way, name in ((home, "home"), (inwards, "to the inside")):
                    pushed = self.solids[upright].translate(way * (NUDGE + abs(self._off_lip(key))))
                    if (pushed ^ self.solids[flat]).volume() < NUDGE * 1.0 * height:
                        yield self._flaw(f"joint of {flat} and {upright} not {name}", 0.0)


class _Bank:
    """The drawers of one opening, each where the plan hangs it."""

    def __init__(self, entry: Entry, draft: JobDraft, bank: Any, drawers: list[AssembledDrawer]) -> None:
        self.entry, self.bank, self.drawers = entry, bank, drawers
        self.opening = entry["opening"]
        self.origins = [
            np.array(place.origin(drawer.box)) for place, drawer in zip(bank.places(), drawers, strict=True)
        ]
        self.parts: list[dict[PartKind, Box]] = []
        for origin, drawer in zip(self.origins, drawers, strict=True):
            own = {each.kind: [np.array(corner) + origin for corner in each.bounds] for each in drawer.placed}
            self.parts.append({kind: (low, high) for kind, (low, high) in own.items()})

    def flaws(self) -> Iterator[Flaw]:
        yield from self._fronts()
        yield from self._boxes()
        yield from self._pulled_out()
        yield from self._marks()

    def _flaw(self, what: str, number: int, by: float) -> Flaw:
        return Flaw(what, self.drawers[number].box.name, float(by))

    def _off(self, what: str, number: int, has: float, wanted: float) -> Iterator[Flaw]:
        if abs(has - wanted) > ROUNDING:
            yield self._flaw(what, number, has - wanted)

    def _shown(self, number: int) -> Box:
        """What is seen of a drawer in front: its applied front, or the front of the box with the ends of the sides
        where it stands between them."""
        parts = self.parts[number]
        if PartKind.APPLIED_FRONT in parts:
            return parts[PartKind.APPLIED_FRONT]
        low, high = (corner.copy() for corner in parts[PartKind.FRONT])
        if self.entry.get("orientation") == "sides-flat":
            low[0], high[0] = parts[PartKind.LEFT][0][0], parts[PartKind.RIGHT][1][0]
        return low, high

    def _overlay(self, edge: str) -> float:
        fronts = self.entry["fronts"]
        usual = fronts["overlay"].get("sides") if edge in ("left", "right") else None
        return float(fronts["overlay"].get(edge, -fronts["reveal"] if usual is None else usual))

    def _fronts(self) -> Iterator[Flaw]:
        shown = [self._shown(number) for number in range(len(self.drawers))]
        for number, (low, high) in enumerate(shown):
            yield from self._off("front beside its place", number, low[0], -self._overlay("left"))
            right = self.opening["width"] + self._overlay("right")
            yield from self._off("front beside its place", number, high[0], right)
            is_outside = max(self._overlay(edge) for edge in ("left", "right", "top", "bottom")) > 0
            yield from self._off(
                "front before or behind its place", number, (high if is_outside else low)[1], 0.0
            )
        yield from self._off("reveal above", 0, shown[0][1][2], self.opening["height"] + self._overlay("top"))
        last = len(shown) - 1
        yield from self._off("reveal below", last, shown[last][0][2], -self._overlay("bottom"))
        for number, (above, below) in enumerate(pairwise(shown)):
            yield from self._off("reveal", number, above[0][2] - below[1][2], self.entry["fronts"]["reveal"])

    def _boxes(self) -> Iterator[Flaw]:
        runner = self.entry["runner"]
        standing = STANDARD_RUNNERS[RunnerKind(runner["kind"])]
        top, bottom, back = (runner.get(name, getattr(standing, name)) for name in ("top", "bottom", "back"))
        is_inset = self.entry["fronts"]["style"] == "inset"
        for number, parts in enumerate(self.parts):
            left, right, shown = parts[PartKind.LEFT], parts[PartKind.RIGHT], self._shown(number)
            between = left[0][0], self.opening["width"] - right[1][0]
            if not is_inset:  # a box behind an inset front is as wide as that where the runners leave more
                yield from self._off("box off the middle", number, between[0], between[1])
            if runner["kind"] == "under-mounted":
                assert standing.inside_deduction is not None
                wanted = standing.inside_deduction / 2 - (left[1][0] - left[0][0])
            else:
                wanted = runner.get("side", standing.side)
            for edge, space in zip(("left", "right"), between, strict=True):
                least = max(wanted, -self._overlay(edge)) if is_inset else wanted
                yield from self._off("room beside the box", number, space, least)
            lowest = min(
                low[2] for kind, (low, _high) in parts.items() if kind in (*WALLS[1:], PartKind.BOTTOM)
            )
            room = lowest - max(shown[0][2], 0.0) - bottom
            if room < -ROUNDING:
                yield self._flaw("room below the box", number, room)
            room = (
                min(shown[1][2], self.opening["height"]) - top - max(left[1][2], parts[PartKind.BACK][1][2])
            )
            if room < -ROUNDING or (room > ROUNDING and "side_height" not in self.entry):
                yield self._flaw("room above the box", number, room)
            behind = self.opening["depth"] - parts[PartKind.BACK][1][1]
            if behind < back - ROUNDING or (behind > back + ROUNDING and "length" not in runner):
                yield self._flaw("room behind the box", number, behind - back)
            if "length" in runner:
                length = parts[PartKind.BACK][1][1] - shown[1][1]
                yield from self._off("box not as long as its runner", number, length, runner["length"])
            if standing.bottom_recess and "bottom" in self.entry:
                recess = parts[PartKind.BOTTOM][0][2] - left[0][2]
                if recess < standing.bottom_recess - ROUNDING:
                    yield self._flaw("bottom in the way of the runner", number, recess)

    def _pulled_out(self) -> Iterator[Flaw]:
        """Nothing stands before a part: neither another drawer nor the carcase, which is all that is not opening."""
        for number, parts in enumerate(self.parts):
            others = [
                box for place, each in enumerate(self.parts) if place != number for box in each.values()
            ]
            for kind, (low, high) in parts.items():
                for other_low, other_high in others:
                    shared = np.minimum(high, other_high) - np.maximum(low, other_low)
                    if shared[0] > ROUNDING and shared[2] > ROUNDING and other_low[1] < high[1] - ROUNDING:
                        yield self._flaw(f"{kind} meets another drawer", number, min(shared[0], shared[2]))
                out = max(-low[0], high[0] - self.opening["width"], -low[2], high[2] - self.opening["height"])
                if high[1] > ROUNDING and out > ROUNDING:
                    yield self._flaw(f"{kind} meets the carcase", number, out)

    def _marks(self) -> Iterator[Flaw]:
        """Runner lines on the sides and holes in the fronts meet where the carcase has them."""
        runner = self.entry["runner"]
        line_above = runner.get("line", STANDARD_RUNNERS[RunnerKind(runner["kind"])].line)
        names = [drawer.box.name for drawer in self.drawers]
        lines = {line.drawer: line.height for line in runner_lines(self.bank)}
        for number, name in enumerate(names):
            if line_above is not None:
                low, _high = self.parts[number][PartKind.LEFT]
                yield from self._off("runner line", number, lines[name], low[2] + line_above)
        pull = self.entry["fronts"].get("pull")
        for hole in pull_holes(self.bank, self.drawers):
            number = names.index(hole.drawer)
            parts = self.parts[number]
            low, high = parts.get(PartKind.APPLIED_FRONT, parts[PartKind.FRONT])
            middle = (low[0] + high[0]) / 2
            spread = pull["spacing"] / 2
            yield from self._off("pull hole", number, abs(low[0] + hole.from_left - middle), spread)
            yield from self._off("pull hole", number, low[2] + hole.above_front, hole.above_opening)
            wanted = high[2] - pull["below_top"] if "below_top" in pull else (low[2] + high[2]) / 2
            yield from self._off("pull hole", number, hole.above_opening, wanted)


def bounds(solid: Any) -> Box:
    edges = np.array(solid.bounding_box())
    return edges[:3], edges[3:]
