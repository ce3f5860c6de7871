"""A job from its file to the packet for the shop."""

from pathlib import Path

import drawerwright as dw

job = dw.open_job(Path(__file__).with_name("music-school.yaml"))
plan = job.plan()

print(plan)
for corner in plan.corners:
    print(f"{corner.name}: bit height {corner.setting.bit_height:.2f} mm")
for stock, line in plan.shopping_list:
    print(f"{stock}: {line.count} of {line.size.label}")
for finding in plan.findings:
    print(finding)

packet, *others = plan.write("build/music-school")
print(f"Print {packet} at 100 %; {len(others)} more files lie beside it.")
