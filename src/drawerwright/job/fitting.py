"""How a corner seats, as the interfaces show it."""

from __future__ import annotations

from typing import Any

from drawerwright.basics.lengths import LengthStyle
from drawerwright.joints.fit import Fit, SeatedState


def fit_data(fit: Fit) -> dict[str, Any]:
    """A fit as plain data: lengths in mm, areas in mm²."""
    return {
        "closes": fit.closes,
        "stands_proud": _clean(fit.stands_proud),
        "play": _clean(fit.play),
        "lip": _clean(fit.lip),
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


def _state_data(state: SeatedState) -> dict[str, Any]:
    return {
        "engagement": _clean(state.engagement),
        "roof_gap": _clean(state.roof_gap),
        "shoulder_gap": _clean(state.shoulder_gap),
        "hook_gap": _clean(state.hook_gap),
        "tip_step": _clean(state.tip_step),
        "gaps": [
            {"place": str(gap.place), "width": _clean(gap.width), "area": _clean(gap.area)}
            for gap in state.gaps
        ],
    }


def _clean(length: float | None) -> float | None:
    """Rounded to a hundredth of a micrometre: what lies below is arithmetic."""
    return None if length is None else round(length, 5) + 0.0
