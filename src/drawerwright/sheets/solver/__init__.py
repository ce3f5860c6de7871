"""How the sheets are found, in whole ticks: the planner's inside, used by `plan`, `layout` and `published` alone.

A sheet is cut in stages: first into columns, each column across into bands and loose parts. So two questions are
asked in turn (Gilmore and Gomory, Oper. Res. 13, 1965, pp. 94-120): what fills a column best, and which columns
share a sheet. `translation` turns a problem in mm into a `task` in ticks; `columns` is the picture of a sheet that
all share.

    filling     the best stack for one column, by dynamic programming
    programme   the linear programme over columns, its bound, and the only door to HiGHS
    bars        tasks of one dimension: parts on bars, columns on sheets
    whole       whole columns of one width, counted before they are filled
    mix         sheets of several heights, several sizes, and offcuts
    search      from a first plan to the cheapest one, and then to the one the shop would rather cut

A room may import only those above it in this list.
"""
