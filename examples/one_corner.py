"""One corner: what to dial in, and what the wood would do with the bit a little too high."""

import drawerwright as dw

cutter = dw.Cutter(mid_depth=dw.Estimate(5.65, 0.02), step=dw.Estimate(3.45, 0.02))
corner = dw.corner(
    cutter,
    flat=14.6,  # the front, as the calipers read it
    upright=14.6,  # the side
    lip=7.5,
    fence=9.05,  # for the side: its neck stays thick enough; the rest of the sum is for the front
    outer=420,
)

print(f"Bit height {corner.bit_height:.2f} mm, which leaves {corner.play:.2f} mm of play")
print(f"Side {corner.upright_length:.2f} mm long")
print(f"Fence {corner.fence_flat:.2f} mm for the fronts, {corner.fence_upright:.2f} mm for the sides")
for finding in corner.findings:
    print(finding)

too_high = dw.fit(
    cutter,
    flat=14.6,
    upright=14.6,
    bit_height=corner.bit_height + 0.25,
    fence_flat=corner.fence_flat,
    fence_upright=corner.fence_upright,
)
print()
print("With the bit 0.25 mm higher:")
print(too_high)
