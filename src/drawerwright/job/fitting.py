"""How a corner seats and whether a cutter mates with itself, as the interfaces show it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from drawerwright.basics import usual
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.lengths import LengthStyle, Mm, millimetres
from drawerwright.basics.phrases import phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.file.cutters import edge_of, middle_of
from drawerwright.job.file.file_units import FileUnit
from drawerwright.job.file.profiles import MeasuredProfile, read_profile
from drawerwright.job.plain_data import clean, estimate_data
from drawerwright.joints import law
from drawerwright.joints.corner import Cuts
from drawerwright.joints.cutter import Cutter, MeasuredEdge
from drawerwright.joints.edge import plain_edge
from drawerwright.joints.fit import Fit, SeatedState, seat
from drawerwright.joints.mate import Mate, Verdict
from drawerwright.joints.profile import Profile


@dataclass(frozen=True, slots=True)
class FitDoubt:
    """What the readings of a profile leave in doubt about a fit: standard uncertainties (mm)."""

    play: Mm = 0.0
    stands_proud: Mm = 0.0
    lip: Mm = 0.0


@dataclass(frozen=True, slots=True)
class FittedCorner:
    """How a corner seats, and what is in doubt of it.

    inset: how well each inset of a measured profile is known. ends_inside: whether its cutter is one that leaves a roof
    over the flat piece's cut; of a measured profile nobody knows.
    """

    fit: Fit
    doubt: FitDoubt = FitDoubt()
    inset: Estimate | None = None
    ends_inside: bool | None = None


def fit_corner(
    cutter: Cutter | Path,
    flat_thickness: Mm,
    upright_thickness: Mm,
    bit_height: Mm,
    fence_flat: Mm,
    fence_upright: Mm,
    *,
    profile_uncertainty: Mm | None = None,
    unit: FileUnit = "mm",
) -> FittedCorner:
    """The use case `fit`: how a corner seats at any settings (true sizes, mm).

    Args:
        cutter: its measures, or the file of a measured profile.
        flat_thickness, upright_thickness: of the two pieces.
        bit_height, fence_flat, fence_upright: as they are set.
        profile_uncertainty: standard uncertainty of each inset of a measured profile, None for the usual one.
        unit: of the bare numbers of a profile's CSV.

    Raises:
        FaultyInputError: the profile cannot be read.
        InvalidValueError: a thickness is none, or the cutter does not reach the wood.
    """
    settings = flat_thickness, upright_thickness, bit_height, fence_flat, fence_upright
    if isinstance(cutter, Cutter):
        if not cutter.mating.makes_corners:
            raise InvalidValueError(
                phrase("a cutter of kind {kind} cuts no corners that could seat", kind=cutter.kind)
            )
        cuts = Cuts(cutter.profile(), *settings)
        fit = seat(cuts, cutter.seated_step, give=cutter.give)
        return FittedCorner(fit, ends_inside=cutter.mating.through(flat_thickness) is None)
    measured = read_profile(cutter, unit)
    inset = Estimate.given(0.0, profile_uncertainty, usual=usual.PROFILE_INSET)
    return FittedCorner(*seat_measured(measured, inset.uncertainty, Cuts(measured.profile, *settings)), inset)


def seat_measured(measured: MeasuredProfile, uncertainty: Mm, cuts: Cuts) -> tuple[Fit, FitDoubt]:
    """How a corner seats that is cut with a measured profile.

    The seat is where the first places touch at the best setting. A cutter that does not mate seats, if anything, head
    against hook: its whole inset.

    Args:
        measured: the readings.
        uncertainty: standard uncertainty of each inset (mm); zero takes the readings as the edge.
        cuts: thicknesses and settings; its profile is not looked at.
    """
    through = None if cuts.has_roof else cuts.flat_thickness
    try:
        mate = middle_of(measured.points, uncertainty, through)
        edge = edge_of(measured.points, uncertainty, through)
    except InvalidValueError:
        profile, give = plain_edge(measured.points, uncertainty)
        return seat(replace(cuts, profile=profile), _whole(profile, cuts), give=give), FitDoubt()
    is_uneven = mate.verdict is Verdict.FAILS and through is None
    step = _whole(edge.profile, cuts) if is_uneven else edge.seated_step
    fit = seat(replace(cuts, profile=edge.profile), step, give=edge.give)
    if uncertainty == 0:
        return fit, FitDoubt()
    return fit, _doubt(fit, mate, edge, measured, uncertainty, through)


def _doubt(
    fit: Fit, mate: Mate, edge: MeasuredEdge, measured: MeasuredProfile, uncertainty: Mm, through: Mm | None
) -> FitDoubt:
    """First-order propagation from the middle, the step and the slope that the readings give."""
    play = 2 * mate.mid_depth.uncertainty
    proud = 0.0
    if through is None:
        rate = law.run_over_rise(edge.slope_angle)
        rise = edge.step / rate
        read = sum(abs(depth - edge.mid_depth) <= rise / 2 for depth, _ in measured.points)
        # The slope of a line through n readings evenly spread over its rise.
        of_rate = uncertainty * math.sqrt(12 / max(read, 1)) / rise
        proud = math.hypot(play * rate, fit.stands_proud / rate * of_rate)
    return FitDoubt(play, proud, math.hypot(mate.step.uncertainty, 0.0 if fit.closes else proud))


def _whole(profile: Profile, cuts: Cuts) -> Mm:
    """The deepest inset of what cuts."""
    return max(inset for _, inset in profile.between(0.0, cuts.bit_height))


def inset_data(inset: Estimate) -> dict[str, Any]:
    """How well each inset of a profile is known, and where that is from, as plain data (mm)."""
    known = estimate_data(inset)
    return {"uncertainty": known["uncertainty"], "origin": known["origin"]}


def assumed_inset_words(inset: Estimate, option: str) -> str:
    """The note for insets whose uncertainty nobody has stated."""
    return phrase(
        "Assumed: each inset is known to ± {doubt} (common practice, no source). Use {option} to "
        "say how well you know them; 0 means exact.",
        doubt=millimetres(inset.uncertainty, "g"),
        option=option,
    )


def fit_data(fit: Fit, doubt: FitDoubt | None = None) -> dict[str, Any]:
    """A fit as plain data: lengths in mm, areas in mm²; `doubt` is what a profile's readings leave."""
    doubt = doubt or FitDoubt()
    return {
        "closes": fit.closes,
        "stands_proud": clean(fit.stands_proud),
        "play": clean(fit.play),
        "lip": clean(fit.lip),
        "uncertainty": {
            "play": clean(doubt.play),
            "stands_proud": clean(doubt.stands_proud),
            "lip": clean(doubt.lip),
        },
        "touches_at": list(fit.touches_at),
        "is_held": fit.is_held,
        "pressed": _state_data(fit.pressed),
        "pulled": _state_data(fit.pulled),
    }


def fit_text(fitted: FittedCorner, style: LengthStyle) -> str:
    """A fit in sentences, for a person at the bench."""
    fit, doubt = fitted.fit, fitted.doubt
    proud = style.show(fit.stands_proud, fine=True)
    lines = _cut_through(fitted, style)
    if fit.closes:
        lines.append(f"The corner closes with {style.show(fit.play, fine=True)} of play.")
        if fit.stands_proud > 0:
            lines.append(f"It stands {proud} proud, less than any bit or fence can be set.")
    else:
        lines.append(
            f"The corner does not close: the upright stands {proud} proud of its seat. Lower the bit."
        )
    known = doubt.play if fit.closes else doubt.stands_proud
    if known > 0:
        what = "play" if fit.closes else "amount it stands proud"
        shown = style.show_doubt(known, digits=3)
        lines.append(
            f"The readings of the profile leave the {what} uncertain by {shown} (standard uncertainty)."
        )
    if not fit.closes and fit.stands_proud <= 2 * known:
        lines.append("So it may close after all.")
    lines.append(f"Lip: {style.show(fit.lip, fine=True)}. It touches at {', '.join(fit.touches_at)}.")
    if not fit.is_held:
        lines.append("No hook: only glue resists a pull along the upright.")
    for name, state in (("Pressed", fit.pressed), ("Pulled", fit.pulled)):
        gaps = [
            f"{gap.place} {style.show(gap.width, fine=True)} ({style.show_small_area(gap.area)})"
            for gap in state.gaps
        ]
        lines.append(f"{name}: " + (", ".join(gaps) if gaps else "no gap") + ".")
    return "\n".join(lines)


def _cut_through(fitted: FittedCorner, style: LengthStyle) -> list[str]:
    """That the bit stands higher than the flat piece is thick, where its cutter is not known to be meant so."""
    cuts = fitted.fit.pressed.cuts
    if cuts.has_roof or fitted.ends_inside is False:
        return []
    height, thickness = (style.show(size, fine=True) for size in (cuts.bit_height, cuts.flat_thickness))
    right_through = (
        f"The bit height of {height} is no less than the flat piece is thick, {thickness}: the cutter goes right "
        "through"
    )
    if fitted.ends_inside is None:
        return [f"{right_through}, as only a lock-mitre cutter should."]
    return [f"{right_through} it and leaves no roof. Check the decimal sign; lower the bit."]


def mate_data(
    mate: Mate, *, through: Mm | None = None, upright: Mm | None = None, lip: Mm = 0.0
) -> dict[str, Any]:
    """A cutter's verdict as plain data, lengths in mm.

    Args:
        mate: what the profile says.
        through: thickness of the stock, for a cutter that goes through it.
        upright: thickness of the upright piece; without it no fence sum is given.
        lip: how far the flat piece stands beyond the upright.
    """
    return {
        "verdict": str(mate.verdict),
        "mates": mate.verdict is not Verdict.FAILS,
        "mid_depth": estimate_data(mate.mid_depth),
        "step": estimate_data(mate.step),
        "residual": estimate_data(mate.residual),
        "gapes_at": clean(mate.gapes_at),
        "touches_at": clean(mate.touches_at),
        "limit": clean(mate.limit),
        "hook": clean(mate.hook),
        "has_hook": mate.has_hook,
        "bit_height": clean(mate.bit_height(through)),
        "fence_sum": None if upright is None else clean(mate.fence_sum(upright, lip)),
    }


def mate_text(
    mate: Mate, style: LengthStyle, *, through: Mm | None = None, upright: Mm | None = None, lip: Mm = 0.0
) -> str:
    """A cutter's verdict in sentences; arguments as for `mate_data`."""

    def show(estimate: Estimate) -> str:
        value = style.show(estimate.value, fine=True)
        return (
            value
            if estimate.uncertainty == 0
            else f"{value} ± {style.show_doubt(estimate.uncertainty, digits=3)} (standard)"
        )

    lines = [
        style.say(mate.text),
        f"Mid depth: {show(mate.mid_depth)}. Step: {show(mate.step)}. "
        f"Widest gap at the best setting: {show(mate.residual)}.",
        f"It cuts a hook of {style.show(mate.hook, fine=True)}."
        if mate.has_hook
        else "It cuts no hook: only glue resists a pull along the upright.",
    ]
    if mate.verdict is not Verdict.FAILS:
        lines.append(f"Bit height: {style.show(mate.bit_height(through), fine=True)}.")
        if upright is not None:
            lines.append(
                f"Both fence settings together: {style.show(mate.fence_sum(upright, lip), fine=True)}."
            )
    return "\n".join(lines)


def _state_data(state: SeatedState) -> dict[str, Any]:
    return {
        "engagement": clean(state.engagement),
        "roof_gap": clean(state.roof_gap),
        "shoulder_gap": clean(state.shoulder_gap),
        "hook_gap": clean(state.hook_gap),
        "tip_step": clean(state.tip_step),
        "gaps": [
            {"place": str(gap.place), "width": clean(gap.width), "area": clean(gap.area)}
            for gap in state.gaps
        ],
    }
