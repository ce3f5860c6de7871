"""Fewest fence positions by trying every place where they could lie: slow, and nothing shared with the search.

For a given hand-out of pairs, the positions that serve it form a polytope: each sum lies between two bounds, each
position between two limits. If there is such a point at all there is a corner of it, where every position follows
from bounds that are met exactly: from a limit, or from an odd ring of sums (x + y = a, y + z = b, z + x = c gives
x = (a - b + c) / 2; a ring of one is 2 x = a), and along a chain of further sums (y = a - x). No chain or ring is
longer than there are positions. So it is enough to look at these values.
"""

import bisect
import itertools

EPS = 1e-7


class Corner:
    """What one corner allows: a range for the sum, and limits for the larger and the smaller of two settings."""

    def __init__(self, joint, tolerance):
        self.low, self.high = joint.wanted_sum - tolerance, joint.wanted_sum + tolerance
        self.least = joint.step
        self.flat = min(joint.largest_setting, 100.0)
        self.upright = min(self.flat, joint.upright_thickness - joint.least_neck)

    def is_served_by(self, x, y):
        return (
            self.low - EPS <= x + y <= self.high + EPS
            and min(x, y) >= self.least - EPS
            and max(x, y) <= self.flat + EPS
            and min(x, y) <= self.upright + EPS
        )


def candidates(corners, count):
    values = set()
    limits = {limit for corner in corners for limit in (corner.least, corner.flat, corner.upright)}
    for length in range(count + 1):
        for chosen in itertools.permutations(corners, length):
            for ends in itertools.product(*((corner.low, corner.high) for corner in chosen)):
                if length < count:
                    values.update(chained(limit, ends) for limit in limits)
                for ring in range(1, length + 1, 2):
                    start = sum(end * (-1) ** i for i, end in enumerate(ends[:ring])) / 2
                    values.add(chained(start, ends[ring:]))
    least, most = min(c.least for c in corners), max(c.high for c in corners)
    kept = sorted(value for value in values if least - EPS <= value <= most)
    return [v for i, v in enumerate(kept) if i == 0 or v - kept[i - 1] > EPS / 10]


def chained(value, ends):
    for end in ends:
        value = end - value
    return value


def can_be_served(joints, tolerance, count):
    """Whether `count` positions serve all joints within the tolerance and their limits."""
    corners = [Corner(joint, tolerance) for joint in joints]
    places = candidates(corners, count)

    def near(low, high):
        return places[bisect.bisect_left(places, low - EPS) : bisect.bisect_right(places, high + EPS)]

    def extends(held):
        unserved = next(
            (
                c
                for c in corners
                if not any(c.is_served_by(x, y) for x, y in itertools.combinations_with_replacement(held, 2))
            ),
            None,
        )
        if unserved is None:
            return True
        if len(held) == count:
            return False
        low, high = unserved.low, unserved.high
        single = {x for x in near(low / 2, high / 2) if unserved.is_served_by(x, x)}
        single |= {x for y in held for x in near(low - y, high - y) if unserved.is_served_by(x, y)}
        if any(extends((*held, x)) for x in single):
            return True
        return len(held) + 2 <= count and any(
            extends((*held, x, y))
            for x in places
            for y in near(max(low - x, x), high - x)
            if unserved.is_served_by(x, y)
        )

    return extends(())
