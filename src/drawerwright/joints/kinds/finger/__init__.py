"""The finger joint: both pieces are notched along the edge, each notch as wide as the other's finger.

`finger_row` is the geometry, `row_doubt` why a long row binds, `finger_joint` the kind.
"""

from drawerwright.joints.kinds.finger.finger_joint import JOINT

__all__ = ["JOINT"]
