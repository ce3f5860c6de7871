"""A test cut that did not go home, and the one after it: what to set next, and how sure that is."""

import drawerwright as dw

cutter = dw.Cutter(mid_depth=5.65, step=3.45)
corner = dw.corner(cutter, flat=14.6, upright=14.6)

first = dw.TestCut(
    height_shown=11.2,
    fence_shown=9.05,
    seen="proud",  # put together: it does not go home
    readings={"roof": 3.25, "deepest_cut": 9.12},
)
advice = dw.correct(corner, first)
print(f"Second cut: height gauge at {advice.height_shown:.2f} mm ({advice.height_change:+.2f} mm)")
print(f"Fits in {advice.odds:.0%} of tries; {advice.odds_as_it_is:.0%} if nothing is touched")

second = dw.TestCut(
    height_shown=round(advice.height_shown, 2),
    fence_flat_shown=round(advice.fence_flat_shown, 2),
    fence_upright_shown=round(advice.fence_upright_shown, 2),
    seen="play",  # it goes home, and a gap shows when it is pulled
    readings={"play": 0.05, "lip": 0.02},
)
print()
print(dw.correct(corner, first, second))
