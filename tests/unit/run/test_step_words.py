"""What a step says is what is meant: its text, read as a woodworker reads it, gives its work again."""

from __future__ import annotations

import re
from collections import Counter
from itertools import groupby

import pytest
from order_cases import VARIANTS, planned

from drawerwright.basics.lengths import LengthStyle
from drawerwright.drawers.parts import Role
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.run.steps import Step
from drawerwright.run.work import (
    BandEdges,
    Bore,
    CheckBottoms,
    CheckSheet,
    CutGrooves,
    CutSheet,
    FetchSheet,
    GroovePass,
    MeasureKerf,
    Rip,
    Rout,
    SetRouter,
    SetSaw,
    TakeWhole,
)

Fact = tuple[object, ...]
KIND = "applied front|left side|right side|bottom|front|back"
STYLE = LengthStyle()


@pytest.fixture(scope="module", params=VARIANTS)
def plan(request: pytest.FixtureRequest) -> JobPlan:
    return planned(VARIANTS[request.param])


# -- reading ---------------------------------------------------------------------------------------------------------


def names_read(text: str) -> list[str]:
    """'A1–A3, Tray 1' as the names that it stands for."""
    names: list[str] = []
    for word in text.split(", "):
        match = re.fullmatch(r"(.*?)(\d+)–\D*(\d+)", word)
        if match is None:
            names.append(word)
        else:
            names += [f"{match[1]}{number}" for number in range(int(match[2]), int(match[3]) + 1)]
    return names


def parts_read(text: str) -> list[tuple[str, str]]:
    """Parts as drawer and kind."""
    parts = []
    for group in text.split("; "):
        match = re.fullmatch(rf"(.+?) ((?:{KIND})(?:, (?:{KIND}))*)", group)
        assert match, group
        parts += [(name, kind) for name in names_read(match[1]) for kind in match[2].split(", ")]
    return sorted(parts)


def length_read(text: str) -> str:
    assert re.fullmatch(r"[\d.]+ mm", text), text
    return text


def read(step: Step) -> list[Fact]:
    """Every fact that the lines of a step state."""
    facts: list[Fact] = []
    said = "\n".join(str(line) for line in step.lines)
    fence = ""
    held = Role.FLAT if "flat on the table, inside face down" in said else Role.UPRIGHT
    for line in step.lines:
        text = str(line)
        if match := re.fullmatch(
            r"(.+): (?:this is|these are) sheets? ([\d, –]+)\. Write the number on .*", text
        ):
            facts += [("fetch", match[1], int(number)) for number in names_read(match[2])]
        elif match := re.fullmatch(r"Make (\d+) lengthwise cuts in it\. .*", text):
            facts.append(("kerf cuts", int(match[1])))
        elif match := re.match(
            r"Push all pieces together and measure again: they must be (.+) narrower", text
        ):
            facts.append(("kerf lost", length_read(match[1])))
        elif match := re.fullmatch(
            r"Check sheet (\d+) before .* at least (.+) by (.+), both diagonals alike\.", text
        ):
            facts.append(("check", int(match[1]), length_read(match[2]), length_read(match[3])))
        elif match := re.fullmatch(r"Set the (crosscut stop|rip fence) to (.+)\.", text):
            fence = length_read(match[2])
            facts.append(("saw", match[1] == "crosscut stop", fence))
        elif match := re.fullmatch(r"Stack and cut together: (.+)\.", text):
            facts += [("stack", stack) for stack in match[1].split(", ")]
        elif match := re.fullmatch(r"Sheets? ([\d, –+]+): cuts? ([\d, –]+?)( on each)?\.", text):
            facts += [
                ("cut", int(sheet), int(number))
                for sheet in names_read(match[1].replace("+", ", "))
                for number in names_read(match[2])
            ]
        elif match := re.fullmatch(r"Bands? ([\d, –]+): write the number on .* \(up as drawn\)(.*)\.", text):
            facts += [("marked", int(name), "cross out" in match[2]) for name in names_read(match[1])]
        elif match := re.fullmatch(
            r"On bands? ([\d, –]+) mark the whole (front|left) edge too, as drawn\.", text
        ):
            facts += [("edge", int(name), f"{match[2]} end") for name in names_read(match[1])]
        elif match := re.fullmatch(r"Label the loose parts: (.+)\.", text):
            facts += [("loose", part) for part in parts_read(match[1])]
        elif match := re.fullmatch(r"Set the bit height to (.+) \(gauge shows (.+)\)\.", text):
            facts.append(("height", length_read(match[1]), length_read(match[2])))
        elif match := re.fullmatch(r"Leave the bit height at (.+)\.", text):
            facts.append(("height stays", length_read(match[1])))
        elif match := re.match(r"Set the fence to (.+) \(scale shows (.+)\):", text):
            facts.append(("fence", length_read(match[1]), length_read(match[2])))
        elif match := re.fullmatch(r"Bands? ([\d, –]+): (.+ edges?)\. (.+) wide, (.+?): (.+)\.", text):
            for name in names_read(match[1]):
                facts.append(("rout", held, int(name), match[2], length_read(match[3]), match[4]))
            facts += [("routed", part) for part in parts_read(match[5])]
        elif text.startswith("If the trailing end has no sacrificial strip"):
            facts.append(("backing",))
        elif match := re.fullmatch(r"Rip one sacrificial strip off .*bands? ([\d, –]+)\.", text):
            facts += [("rip", fence, int(name), None, None) for name in names_read(match[1])]
        elif match := re.fullmatch(r"Band (\d+): (.+)\.", text):
            parts, _, left = match[2].partition("; the rest is ")
            facts += [("rip", fence, int(match[1]), *part, bool(left)) for part in parts_read(parts)]
            facts += [("left", int(match[1]), *part) for part in (parts_read(left) if left else [])]
        elif text.startswith("Start at the end without a crossed-out strip"):
            facts.append(("begin without",))
        elif match := re.fullmatch(r"Do not rip band (\d+): it is (.+)\.", text):
            facts += [("whole", int(match[1]), part) for part in parts_read(match[2])]
        elif match := re.match(
            r"Groove (.+) wide and (.+) deep, its near side (.+) from the lower edge; inside face down", text
        ):
            facts.append(("groove", *map(length_read, match.groups())))
        elif match := re.fullmatch(r"(\d+) parts? at this setting: (.+)\.", text):
            assert int(match[1]) == len(parts_read(match[2]))
            facts += [("grooved", part) for part in parts_read(match[2])]
        elif text.startswith("With the inside face down and the fence on the right, "):
            goes_in = re.findall(r"a (left side|right side|front) goes in (\w+ end) first", text)
            facts += [("handed", kind, end) for kind, end in goes_in]
        elif match := re.fullmatch(r"(.+): ([\d.]+ mm) by ([\d.]+ mm)\.", text):
            facts += [("bottom", part, match[2], match[3]) for part in parts_read(match[1])]
        elif match := re.fullmatch(r"(All round|Upper edge), (.+) thick: (.+)\.", text):
            facts += [("edging", match[1], length_read(match[2]), part) for part in parts_read(match[3])]
        elif match := re.fullmatch(
            r"(.+), (.+?) wide: (.+) from the left edge, (.+) above the lower edge; drill (.+)\.", text
        ):
            facts += [
                ("hole", part, *map(length_read, (match[2], left, match[4], match[5])))
                for part in parts_read(match[1])
                for left in match[3].split(", ")
            ]
    return facts


# -- meaning ---------------------------------------------------------------------------------------------------------


def fine(length: float) -> str:
    return STYLE.show(length, fine=True)


def coarse(length: float) -> str:
    return STYLE.show(length)


def handed(passes: tuple[GroovePass, ...]) -> list[Fact]:
    """What a reader needs to know of the ends that go in first."""
    first = {(each.part.kind, each.first) for each in passes if each.first is not None}
    if not first:
        return []
    ends = dict(first)
    assert len(ends) == len(first)
    return [("handed", str(kind), str(end)) for kind, end in ends.items()]


def meant(step: Step) -> list[Fact]:
    """The same facts from the work of a step."""
    facts: list[Fact] = []
    for item in step.work:
        match item:
            case MeasureKerf():
                facts += [("kerf cuts", item.cuts), ("kerf lost", fine(item.lost))]
            case CheckSheet():
                facts.append(("check", item.number, coarse(item.length), coarse(item.width)))
            case FetchSheet():
                facts.append(("fetch", item.size.label, item.number))
                if len(item.stack) > 1 and item.number == item.stack[0]:
                    facts.append(("stack", "+".join(map(str, item.stack))))
            case SetSaw():
                facts.append(("saw", item.is_crosscut, coarse(item.length)))
            case CutSheet():
                facts += [("cut", item.number, cut.order) for cut in item.cuts]
                facts += [("marked", band.number, bool(band.placed.sacrificial)) for band in item.bands]
                facts += [("edge", band.number, str(band.marked)) for band in item.bands if band.marked]
                facts += [("loose", (loose.part.drawer, str(loose.part.kind))) for loose in item.loose]
            case SetRouter():
                facts.append(("fence", fine(item.fence), fine(item.fence_reading)))
                facts.append(
                    ("height stays", fine(item.bit_height))
                    if item.keeps_height
                    else ("height", fine(item.bit_height), fine(item.height_reading))
                )
            case Rout():
                facts += [
                    ("rout", item.role, band.number, str(item.edges), coarse(band.placed.length), band.stock)
                    for band in item.bands
                ]
                facts += [
                    ("routed", (part.drawer, str(part.kind))) for band in item.bands for part in band.parts
                ]
            case Rip():
                facts.append(("saw", False, coarse(item.fence)))
                for _, cuts in groupby(item.cuts, key=lambda cut: cut.band.number):
                    of_band = list(cuts)
                    left = of_band[-1].leaves
                    for cut in of_band:
                        part = cut.frees
                        named = (
                            (None, None) if part is None else (part.drawer, str(part.kind), left is not None)
                        )
                        facts.append(("rip", coarse(item.fence), cut.band.number, *named))
                    if left is not None:
                        facts.append(("left", of_band[0].band.number, left.drawer, str(left.kind)))
            case TakeWhole():
                facts += [
                    ("whole", band.number, (part.drawer, str(part.kind)))
                    for band in item.bands
                    for part in band.parts
                ]
            case CutGrooves():
                facts.append(("groove", fine(item.width), coarse(item.depth), coarse(item.height)))
                facts += [("grooved", (each.part.drawer, str(each.part.kind))) for each in item.passes]
                facts += handed(item.passes)
            case CheckBottoms():
                facts += [
                    ("bottom", (part.drawer, str(part.kind)), coarse(item.length), coarse(item.width))
                    for part in item.parts
                ]
            case BandEdges():
                where = "All round" if item.is_all_round else "Upper edge"
                facts += [
                    ("edging", where, coarse(item.thickness), (part.drawer, str(part.kind)))
                    for part in item.parts
                ]
            case Bore():
                sizes = (item.front_width, item.from_left, item.above_lower)
                drill = str(STYLE.bought(item.diameter))
                facts.append(("hole", (item.part.drawer, str(item.part.kind)), *map(coarse, sizes), drill))
            case _:
                pass
    if any(isinstance(item, Rout) and item.needs_backing for item in step.work):
        facts.append(("backing",))
    if any(
        isinstance(item, Rip) and len(cut.band.placed.sacrificial) == 1
        for item in step.work
        for cut in (item.cuts if isinstance(item, Rip) else ())
    ):
        facts.append(("begin without",))
    return facts


def test_the_words_hold_all_that_is_meant(plan: JobPlan) -> None:
    for step in plan.run.steps:
        assert Counter(map(str, read(step))) == Counter(map(str, meant(step))), step.title


def test_the_steps_are_short(plan: JobPlan) -> None:
    """A phone shows about 40 letters on a line: no line of a step takes more than eight."""
    assert max(len(line) for step in plan.run.steps for line in step.lines) < 8 * 40
