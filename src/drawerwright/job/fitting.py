"""How a corner seats and whether a cutter mates with itself, as the interfaces show it."""

from __future__ import annotations

from typing import Any

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.uncertain import Estimate
from drawerwright.job.plain_data import clean, estimate_data
from drawerwright.joints.fit import Fit, SeatedState
from drawerwright.joints.mate import Mate, Verdict


def fit_data(fit: Fit) -> dict[str, Any]:
    """A fit as plain data: lengths in mm, areas in mm²."""
    return {
        "closes": fit.closes,
        "stands_proud": clean(fit.stands_proud),
        "play": clean(fit.play),
        "lip": clean(fit.lip),
        "touches_at": list(fit.touches_at),
        "is_held": fit.is_held,
        "pressed": _state_data(fit.pressed),
        "pulled": _state_data(fit.pulled),
    }


def fit_text(fit: Fit, style: LengthStyle) -> str:
    """A fit in sentences, for a person at the bench."""
    lines = []
    if fit.closes:
        lines.append(f"The corner closes with {style.show(fit.play, fine=True)} of play.")
    else:
        lines.append(
            f"The corner does not close: the upright stands {style.show(fit.stands_proud, fine=True)} proud "
            "of its seat. Lower the bit."
        )
    lines.append(f"Lip: {style.show(fit.lip, fine=True)}. It touches at {', '.join(fit.touches_at)}.")
    if not fit.is_held:
        lines.append("Nothing hooks: against a pull along the upright there is only glue.")
    for name, state in (("Pressed", fit.pressed), ("Pulled", fit.pulled)):
        gaps = [f"{gap.place} {style.show(gap.width, fine=True)} ({gap.area:.2f} mm²)" for gap in state.gaps]
        lines.append(f"{name}: " + (", ".join(gaps) if gaps else "no gap") + ".")
    return "\n".join(lines)


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
        return value if estimate.uncertainty == 0 else f"{value} ± {estimate.uncertainty:.3f} mm (standard)"

    lines = [
        mate.text,
        f"Mid depth: {show(mate.mid_depth)}. Step: {show(mate.step)}. "
        f"Widest gap at the best setting: {show(mate.residual)}.",
        f"It makes a hook of {style.show(mate.hook, fine=True)}."
        if mate.has_hook
        else "It makes no hook: against a pull along the upright there is only glue.",
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
