"""Cards for corners that no self-mating cutter makes: what to set, the jig at true size, what a test cut shows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import LengthStyle, Mm, millimetres
from drawerwright.basics.names import names_in_row
from drawerwright.basics.phrases import Phrase, joined, phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.drawings.corner_section import FULL_SIZE, draw_corner
from drawerwright.drawings.loose_pieces import draw_loose_pieces, span_letters
from drawerwright.drawings.packet import Align, Figure, PacketTable, SetupCard
from drawerwright.drawings.scales import drawn_to_fit
from drawerwright.drawings.scene import Point, Scene
from drawerwright.job.papers.paper_lengths import PaperLengths
from drawerwright.job.planning.corners import PlainJobCorner
from drawerwright.job.planning.draft import JobDraft
from drawerwright.job.planning.job_plan import JobPlan
from drawerwright.joints.plain_joint import BenchFigure, PlainCorner, plain_joint
from drawerwright.run.bench_work import bench_places

_RIGHT: Align = "right"
ENLARGED = 2.5
ENLARGED_ROOM: tuple[Mm, Mm] = (150.0, 90.0)
"""Scale of a corner with its figures on its card, and the paper for it."""
IN_LARGE = 4
"""So many figures that are the same for all drawers stand in boxes; the others in a table."""


@dataclass(frozen=True, slots=True)
class BenchCorner:
    """A corner that is set up at the bench, and the heights in which drawers have it, the highest first."""

    number: int
    corner: PlainJobCorner
    heights: Mapping[Mm, tuple[str, ...]]
    starts: Mapping[tuple[Phrase, Mm], tuple[str, ...]]
    """The drawers with a piece that reaches below the other one of its corner: which piece, and how far (mm)."""
    rows: tuple[tuple[Mm, Mm, tuple[str, ...]], ...]
    """The drawers that are cut alike: how high their joint is, where it begins above the lower edge of the flat piece
    (mm), and their names."""

    @property
    def made(self) -> PlainCorner:
        return self.corner.keyed.made

    @property
    def tallest(self) -> Mm:
        """What its drawing shows (mm)."""
        return next(iter(self.heights))

    @property
    def figures(self) -> tuple[tuple[str, tuple[BenchFigure, ...]], ...]:
        """What is set, and of which drawers: once where it is the same for all, those of the highest first."""
        joint = plain_joint(self.made.kind)
        heights: dict[tuple[BenchFigure, ...], list[Mm]] = {}
        for height in self.heights:
            heights.setdefault(joint.figures(self.made, height), []).append(height)
        return tuple((self._whose(those), figures) for figures, those in heights.items())

    @property
    def lines(self) -> tuple[Phrase, ...]:
        """What else is to know, with the drawers that it is true of where that is not all."""
        joint = plain_joint(self.made.kind)
        heights: dict[Phrase, list[Mm]] = {}
        for height in self.heights:
            for line in joint.lines(self.made, height):
                heights.setdefault(line, []).append(height)
        return tuple(
            line
            if len(those) == len(self.heights)
            else Phrase("{whose}: {line}", {"whose": self._whose(those), "line": line})
            for line, those in heights.items()
        )

    def _whose(self, heights: Sequence[Mm]) -> str:
        """Names the drawers, and the heights where they are not all: one drawer may have the corner in two."""
        drawers = names_in_row(tuple(dict.fromkeys(name for each in heights for name in self.heights[each])))
        if len(heights) == len(self.heights):
            return drawers
        shown = joined((Phrase("{height}", {"height": millimetres(each, ".1f")}) for each in heights), ", ")
        return phrase("{drawers}, {heights} high", drawers=drawers, heights=shown)

    @property
    def shared_figures(self) -> tuple[BenchFigure, ...]:
        """The figures that are the same for all of them."""
        first, *others = (figures for _, figures in self.figures)
        return tuple(figure for figure in first if all(figure in other for other in others))

    @property
    def drawing_name(self) -> str:
        """Under which name its jig stands among the drawings of a plan."""
        return f"jig-{self.number}"


def bench_corners(draft: JobDraft) -> Iterator[BenchCorner]:
    """Every corner of a job that has something to set at the bench; heights without room for the joint are left out,
    since a finding says that they have none."""
    for number, corner in enumerate(draft.plain_corners, start=1):
        heights: dict[Mm, list[str]] = {}
        for drawer in draft.assembled:
            for keyed, height in drawer.plain_corners:
                if keyed.key == corner.key and _figures(corner.keyed.made, height):
                    heights.setdefault(round(height, 3), []).append(drawer.box.name)
        if heights:
            tall_first = {
                height: tuple(dict.fromkeys(heights[height])) for height in sorted(heights, reverse=True)
            }
            rows = tuple(_rows(draft, corner, tall_first))
            yield BenchCorner(number, corner, tall_first, _starts(draft, corner), rows)


def _starts(draft: JobDraft, corner: PlainJobCorner) -> dict[tuple[Phrase, Mm], tuple[str, ...]]:
    found: dict[tuple[Phrase, Mm], dict[str, None]] = {}
    for drawer in draft.assembled:
        for keyed, place in bench_places(drawer):
            lows = ((place.flat_words, place.flat_low), (place.upright_words, place.upright_low))
            for start in lows if keyed.key == corner.key else ():
                if start[1] > 0:
                    found.setdefault(start, {})[drawer.box.name] = None
    return {start: tuple(names) for start, names in found.items()}


def _rows(
    draft: JobDraft, corner: PlainJobCorner, heights: Mapping[Mm, tuple[str, ...]]
) -> Iterator[tuple[Mm, Mm, tuple[str, ...]]]:
    for height, names in heights.items():
        lows: dict[Mm, dict[str, None]] = {}
        for drawer in draft.assembled:
            for keyed, place in bench_places(drawer) if drawer.box.name in names else ():
                if keyed.key == corner.key and round(place.height, 3) == height:
                    lows.setdefault(round(place.flat_low, 3), {})[drawer.box.name] = None
        yield from ((height, low, tuple(those)) for low, those in lows.items())


def _figures(made: PlainCorner, height: Mm) -> tuple[BenchFigure, ...]:
    try:
        return plain_joint(made.kind).figures(made, height)
    except InvalidValueError:
        return ()


def bench_cards(plan: JobPlan, drawings: Mapping[str, Scene]) -> tuple[SetupCard, ...]:
    """A card for each of them; `drawings` from `plan_drawings`."""
    lengths = PaperLengths(plan.job.style)
    return tuple(_card(plan, bench, drawings, lengths) for bench in bench_corners(plan.draft))


def _card(
    plan: JobPlan, bench: BenchCorner, drawings: Mapping[str, Scene], lengths: PaperLengths
) -> SetupCard:
    made = bench.made
    joint, style = plain_joint(made.kind), plan.job.style
    made_key = bench.corner.key
    marked = plan.strengths.marked(made_key)
    section = draw_corner(
        made, scale=FULL_SIZE, annotated=False, title=bench.corner.name, style=style, parting=marked.line
    )
    return SetupCard(
        title=bench.corner.name,
        values=tuple(
            (
                figure.words,
                lengths.fine(figure.value),
                _taught(figure, plan.job.learnt_off(made_key), lengths),
            )
            for figure in bench.shared_figures[:IN_LARGE]
        ),
        drawing=drawings.get(bench.drawing_name) or _enlarged(bench, marked.line, style),
        corners=(Figure(section, marked.caption(bench.corner.name)),),
        pieces=_pieces(bench, style),
        passes=_by_height(bench, lengths),
        has_wide_passes=True,
        targets=_targets(bench, lengths),
        notes=(*joint.remedies, *bench.lines, *_start_lines(bench, lengths)),
        stops=tuple(
            finding.text
            for finding in plan.findings
            if finding.stops and set(bench.corner.drawers) & set(finding.drawers)
        ),
    )


def _pieces(bench: BenchCorner, style: LengthStyle) -> Figure:
    """Both test pieces, lettered as the readings of `_targets` are."""
    words = phrase("Where to hold the calipers")
    pieces = plain_joint(bench.made.kind).test_pieces(bench.made, bench.tallest)
    return Figure(draw_loose_pieces(pieces, words, style), words)


def _enlarged(bench: BenchCorner, parting: Sequence[Point], style: LengthStyle) -> Scene:
    """The corner with its figures, where no jig is to be drawn."""
    return drawn_to_fit(
        lambda scale: draw_corner(
            bench.made,
            scale=scale,
            beside_figures=True,
            style=style,
            title=bench.corner.name,
            parting=parting,
        ),
        ENLARGED,
        ENLARGED_ROOM,
    )


def _start_lines(bench: BenchCorner, lengths: PaperLengths) -> Iterator[Phrase]:
    """Where a row begins, of joints that are laid out along the edge."""
    for (piece, low), drawers in bench.starts.items() if plain_joint(bench.made.kind).needs_width else ():
        yield phrase(
            "{piece}, {drawers}: the row begins {low} above the lower edge.",
            piece=piece,
            drawers=names_in_row(drawers),
            low=lengths.fine(low),
        )


def _taught(figure: BenchFigure, off: Mapping[str, Estimate], lengths: PaperLengths) -> str:
    """What its gauge has to show, where accepted test cuts have taught how far that is off."""
    known = off.get(figure.name)
    if known is None:
        return ""
    return phrase("by accepted test cuts: set {size}", size=lengths.fine(figure.value + known.value))


def _by_height(bench: BenchCorner, lengths: PaperLengths) -> PacketTable | None:
    """Figures that did not find room in large, and those that differ with the height of the drawer."""
    figures = {height: plain_joint(bench.made.kind).figures(bench.made, height) for height in bench.heights}
    large = bench.shared_figures[:IN_LARGE]
    words = figures[bench.tallest]
    shown = [place for place, figure in enumerate(words) if figure not in large]
    if not shown:
        return None
    return PacketTable(
        (phrase("Height"), phrase("Drawers"), *(words[place].words for place in shown)),
        tuple(
            (
                lengths.coarse(height),
                names_in_row(names),
                *(lengths.fine(figures[height][place].at(low)) for place in shown),
            )
            for height, low, names in bench.rows
        ),
        title=phrase("What is cut here"),
        align=("right", "left", *([_RIGHT] * len(shown))),
    )


def _targets(bench: BenchCorner, lengths: PaperLengths) -> PacketTable | None:
    joint = plain_joint(bench.made.kind)
    expected = joint.expected(bench.made, bench.tallest)
    letters = span_letters(joint.test_pieces(bench.made, bench.tallest))
    rows = tuple(
        (letters.get(reading.name, ""), reading.words, lengths.bare(expected[reading.name]), "")
        for reading in joint.readings
        if reading.name in expected
    )
    if not rows:
        return None
    return PacketTable(
        ("", phrase("Reading"), phrase("Expect"), phrase("You read")),
        rows,
        title=phrase("Test cut ({unit})", unit=lengths.unit),
        note=phrase(
            "Lengths along the row are those of a drawer {height} high.", height=lengths.coarse(bench.tallest)
        )
        if joint.needs_width
        else "",
        align=("left", "left", "right", "left"),
    )
