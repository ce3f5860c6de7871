"""Whether a finished plan is right, told by somebody who does not know how it was made.

The referee shares no code with the planner: it knows what was asked (`problem`) and what was answered (`patterns`),
and the contract of imports keeps it so. `whole_plan` counts and measures what a plan says it makes; for each sheet
`saw_bench` makes every cut in the order given and looks at what lies on the bench: each cut from edge to edge of one
piece and one kerf wide, stages in order, bands free before they are ripped, areas adding up. `published_patterns`
judges the answers to instances from the literature by their own rules. A check that is simpler than the search makes
an answer trustworthy that nobody can follow (certifying algorithms: McConnell, Mehlhorn, Näher and Schweitzer,
Comput. Sci. Rev. 5, 2011, pp. 119-161).
"""

from drawerwright.sheets.referee.whole_plan import check

__all__ = ["check"]
