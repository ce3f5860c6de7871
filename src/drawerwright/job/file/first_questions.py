"""The questions of a guided start: a dozen entries to a first packet, asked by the app and on the terminal."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

from drawerwright.basics.lengths import LengthStyle
from drawerwright.basics.phrases import phrase
from drawerwright.job.file.entry_paths import EntryPath
from drawerwright.job.file.first_jobs import BOTTOM, BOX
from drawerwright.job.file.typed_entries import BARE

Answer: TypeAlias = Literal["text", "length", "lengths", "whole"]


@dataclass(frozen=True, slots=True)
class Question:
    """One thing asked: what it is, where it is measured, the entries it fills, an example in mm and one in inches.

    may_be_blank: somebody may not know it yet. usual: what a blank answer is taken for, in mm and in inches.
    beside: the name of another question that is as likely to be at fault, where the answer can be read but does not go.
    """

    name: str
    label: str
    hint: str
    kind: Answer
    paths: tuple[EntryPath, ...]
    example: str = ""
    example_inches: str = ""
    may_be_blank: bool = False
    usual: tuple[str, str] = ("", "")
    beside: str = ""

    def shown_example(self, style: LengthStyle) -> str:
        """The example as a reader of this style would type it."""
        is_in_inches = style.typed_unit == "in" and self.example_inches
        return self._as_typed(self.example_inches if is_in_inches else self.example, style)

    def shown_usual(self, style: LengthStyle) -> str:
        """What a blank answer is taken for, as a reader of this style would type it; empty for nothing."""
        return self._as_typed(self.usual[style.typed_unit == "in"], style)

    def _as_typed(self, text: str, style: LengthStyle) -> str:
        said = style.say(text)
        return said if self.kind == "text" else said.replace(".", style.decimal_sign)

    @property
    def is_thickness(self) -> bool:
        """Whether it asks how thick stock is."""
        return all(path[0] == "stock" and path[-1] in ("nominal", "measured") for path in self.paths)

    @property
    def is_plain(self) -> bool:
        """Whether digits and a decimal sign are all that it takes."""
        return self.kind == "whole" or (
            self.kind == "length" and bool(BARE.fullmatch(self.example or self.usual[0]))
        )


@dataclass(frozen=True, slots=True)
class QuestionGroup:
    """Questions about one thing, beside the picture `picture` that shows what they ask."""

    title: str
    questions: tuple[Question, ...]
    picture: str = ""


def question_groups(style: LengthStyle) -> tuple[QuestionGroup, ...]:
    """What is asked; stocks are named as in `skeleton`, in words of `style`."""
    box, bottoms = style.say(BOX), style.say(BOTTOM)
    sheet, of_bottoms = ("stock", box, "sheets", 0), ("stock", bottoms, "sheets", 0)
    opening = ("banks", 0, "opening")
    return (
        QuestionGroup(
            phrase("Job"),
            (Question("job", phrase("Name"), "", "text", (("job",),), phrase("Trays of the print room")),),
        ),
        QuestionGroup(
            phrase("Cutter"),
            (
                Question(
                    "mid_depth",
                    phrase("Mid depth"),
                    phrase("from the cutter's top to the middle of the slope"),
                    "length",
                    (("cutter", "mid_depth"),),
                    "6.1 ± 0.05",
                    "0.240 ± 0.002",
                ),
                Question(
                    "step",
                    phrase("Step"),
                    phrase("how far the tooth stands out"),
                    "length",
                    (("cutter", "step"),),
                    "3.8 ± 0.05",
                    "0.150 ± 0.002",
                    beside="mid_depth",
                ),
            ),
            "cutter",
        ),
        QuestionGroup(
            phrase("Stock"),
            (
                Question(
                    "nominal",
                    phrase("Box: nominal thickness"),
                    phrase("as it is sold, for fronts, sides and backs"),
                    "length",
                    (("stock", box, "nominal"),),
                    "15",
                    "1/2",
                ),
                Question(
                    "measured",
                    phrase("Box: as measured"),
                    phrase("in several places, parted by semicolons; leave blank if not measured yet"),
                    "lengths",
                    (("stock", box, "measured"),),
                    "14.6; 14.7",
                    "0.472; 0.476",
                    may_be_blank=True,
                ),
                Question(
                    "bottom",
                    phrase("Bottoms: nominal thickness"),
                    phrase("as it is sold"),
                    "length",
                    (("stock", bottoms, "nominal"),),
                    "6.5",
                    "1/4",
                ),
                Question(
                    "bottom_measured",
                    phrase("Bottoms: as measured"),
                    phrase("the groove follows from it; leave blank if not measured yet"),
                    "lengths",
                    (("stock", bottoms, "measured"),),
                    "6.3; 6.4",
                    "0.210; 0.214",
                    may_be_blank=True,
                ),
                Question(
                    "length",
                    phrase("Sheets: length"),
                    phrase("along the grain"),
                    "length",
                    ((*sheet, "length"), (*of_bottoms, "length")),
                    usual=("2500", "96"),
                ),
                Question(
                    "width",
                    phrase("Sheets: width"),
                    phrase("across the grain"),
                    "length",
                    ((*sheet, "width"), (*of_bottoms, "width")),
                    usual=("1250", "48"),
                ),
            ),
            "sheet",
        ),
        QuestionGroup(
            phrase("Opening in the carcase"),
            (
                Question(
                    "opening_width",
                    phrase("Width"),
                    phrase("inside"),
                    "length",
                    ((*opening, "width"),),
                    "480",
                    "18 1/2",
                ),
                Question(
                    "opening_height",
                    phrase("Height"),
                    phrase("inside"),
                    "length",
                    ((*opening, "height"),),
                    "700",
                    "28",
                ),
                Question(
                    "opening_depth",
                    phrase("Depth"),
                    phrase("from the front edge back"),
                    "length",
                    ((*opening, "depth"),),
                    "450",
                    "17 3/4",
                ),
                Question(
                    "count",
                    phrase("Number of drawers"),
                    phrase("all alike; you can change them later"),
                    "whole",
                    (("banks", 0, "fronts", "heights", "equal"),),
                    "5",
                    beside="opening_height",
                ),
            ),
            "opening",
        ),
    )
