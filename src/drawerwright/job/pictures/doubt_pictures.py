"""What is in doubt, drawn: misfit and lip to expect of a first cut, a stock's thickness, and what is on its rack."""

from __future__ import annotations

from drawerwright.basics.lengths import LengthStyle, Mm
from drawerwright.basics.phrases import phrase
from drawerwright.basics.uncertain import Estimate
from drawerwright.drawings.odds_picture import draw_odds
from drawerwright.drawings.rack import draw_rack
from drawerwright.drawings.thickness_picture import draw_thickness
from drawerwright.job.job import Job
from drawerwright.job.pictures.on_screen import at_lettering_size, on_screen
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.joint import joint_of
from drawerwright.joints.odds import JointOdds
from drawerwright.joints.readings import FitRange
from drawerwright.wood.thickness import Thickness


def misfit_picture(known: Estimate, fit: FitRange, cutter: Cutter, style: LengthStyle) -> str:
    """The misfit to expect of a corner that a cutter makes; what fits is hatched."""
    return _odds_picture(known, fit.misfits(cutter.mating), joint_of(cutter).misfit_ways, style)


def lip_picture(known: Estimate, fit: FitRange, wanted: Mm, style: LengthStyle) -> str:
    """The lip to expect of a corner; what is right is hatched."""
    right = (wanted - fit.flushness, wanted + fit.flushness)
    return _odds_picture(known, right, (phrase("narrower lip"), phrase("wider lip")), style)


def first_cut_pictures(odds: JointOdds, fit: FitRange, style: LengthStyle) -> tuple[str, str]:
    """The misfit and the lip to expect of the first cut of a corner."""
    setting = odds.corner.setting
    return (
        misfit_picture(odds.misfit_estimate, fit, setting.cutter, style),
        lip_picture(odds.lip_estimate, fit, setting.corner.lip, style),
    )


def _odds_picture(known: Estimate, right: tuple[Mm, Mm], ways: tuple[str, str], style: LengthStyle) -> str:
    low, high = (style.say(way) for way in ways)
    return on_screen(draw_odds(known, *right, style=style, words=(low, high)))


def thickness_picture(thickness: Thickness, style: LengthStyle) -> str:
    """A stock's thickness against its published range and its readings; empty where nothing is known."""
    scene = draw_thickness(thickness, style=style)
    return "" if scene is None else on_screen(scene)


def rack_picture(job: Job, stock: str, style: LengthStyle) -> str:
    """The sheets and offcuts of a stock of a job; empty where it has none."""
    is_grained = job.stock[stock].grain != "none"
    scene = draw_rack(job.sheet_sizes[stock], style=style, is_grained=is_grained)
    return "" if scene is None else at_lettering_size(scene)
