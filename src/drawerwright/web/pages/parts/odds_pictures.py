"""How sure a cut is, drawn: the misfit and the lip to expect, with what counts as right."""

from __future__ import annotations

from drawerwright.basics.lengths import Mm
from drawerwright.basics.uncertain import Estimate
from drawerwright.joints.cutter import Cutter
from drawerwright.joints.readings import FitRange
from drawerwright.web.reader.preferences import Preferences
from drawerwright.web.reader.words import gettext as _


def misfit_picture(known: Estimate, fit: FitRange, cutter: Cutter, reader: Preferences) -> str:
    """The misfit to expect of a corner, as SVG; what fits is hatched."""
    from drawerwright.joints.joint import joint_of

    low, high = joint_of(cutter).misfit_ways
    return _picture(known, fit.misfits(cutter.mating), (reader.say(low), reader.say(high)), reader)


def lip_picture(known: Estimate, fit: FitRange, wanted: Mm, reader: Preferences) -> str:
    """The lip to expect of a corner, as SVG; what is right is hatched."""
    right = (wanted - fit.flushness, wanted + fit.flushness)
    return _picture(known, right, (_("narrower lip"), _("wider lip")), reader)


def _picture(known: Estimate, right: tuple[Mm, Mm], words: tuple[str, str], reader: Preferences) -> str:
    from drawerwright.drawings.odds_picture import draw_odds
    from drawerwright.drawings.svg import write_svg

    return write_svg(draw_odds(known, *right, style=reader.lengths, words=words), ground=False)
