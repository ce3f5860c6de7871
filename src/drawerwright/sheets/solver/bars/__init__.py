"""Tasks of one dimension: parts on bars of one length, and columns side by side on sheets.

When every sheet is a bar that parts share lengthwise, or when the columns are known and only want sheets, the linear
programme rounded up is nearly always the true number of bars; what is missing is a plan that needs no more, which a few
dives find.

`one_dimension` tells which tasks are such, `columns_as_bars` makes such a task of columns and puts them back on sheets.
"""
