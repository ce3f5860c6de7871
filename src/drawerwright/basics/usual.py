"""What a careful shop usually achieves: the doubt that stands in for what nobody has stated; and its thickest stock.

Every figure here is common practice without a source, and but for the last four a standard uncertainty. A file, a
command or a page that gives a figure without `±` gets the one from this table, marked as assumed; `± 0` says exact and
keeps the table out.
"""

from __future__ import annotations

from drawerwright.basics.lengths import Degrees, Mm
from drawerwright.basics.uncertain import Estimate

CUTTER_MEASURE: Mm = 0.08
"""A mid depth or a step measured on the cutter."""
SLOPE: Degrees = 1.0
"""A slope that is stated as a bare angle."""
UNKNOWN_SLOPE = Estimate.given(45.0, None, usual=5.0)
"""The slope of a cutter of which nothing is said (degrees)."""
PROFILE_INSET: Mm = 0.02
"""One inset of a measured profile."""
GAUGE: Mm = 0.1
"""How far a height gauge or a fence scale is off, beyond what is known."""
UNKNOWN_GAUGE = Estimate.given(0.0, None, usual=GAUGE)
"""The offset of a gauge of which nothing is said (mm)."""
REPEATABILITY: Mm = 0.03
"""A setting that is dialled in again."""
CALIPERS_ZERO: Mm = 0.02
"""The zero of the shop's calipers, which all that they measure has in common."""
CALIPER_READING: Mm = 0.03
"""A single caliper reading, on a routed edge or a face."""
SLICE_READING: Mm = 0.3
"""How high a sawn slice stands, by caliper: it is not quite even."""
EYE: Mm = 0.02
"""How much play, or standing proud, the eye misses now and then."""
NOMINAL: Mm = 0.2
"""How far stock without published limits is off its nominal thickness."""
SCATTER: Mm = 0.04
"""How far single places of a sheet stand off its mean."""
THICKEST: Mm = 40.0
"""The thickest stock that a joint of drawers is made in: what is thicker is most often a slip of the pen. No
cutter of them has a larger mid depth or step."""
THINNEST: Mm = 1.5
"""The thinnest stock of drawers, a bottom's: what is thinner was most often measured in another unit."""
LEAST_CUTTER_MEASURE: Mm = 0.8
"""The least mid depth or step of a cutter: what is less was most often measured in another unit."""
LEAST_DEPTH: Mm = 80.0
"""The least depth of an opening that a job is begun with: what is less was most often meant in centimetres."""
