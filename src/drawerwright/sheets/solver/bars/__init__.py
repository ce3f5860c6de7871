"""Tasks of one dimension: parts on bars of one length, and columns side by side on sheets.

When every sheet is a bar that parts share lengthwise, or when the columns are known and only want sheets, the linear
programme rounded up is nearly always the true number of bars; what is missing is a plan that needs no more. So a plan
with one bar too many is taken, and parts are swapped between the bars and what lies beside them until one bar less
holds them all, with moves just made forbidden for a while (after Glover, ORSA J. Comput. 1, 1989, pp. 190-206).

`one_dimension` tells which tasks are such and asks for one bar less, `swapping` swaps, `columns_as_bars` makes such a
task of columns and puts them back on sheets.
"""
