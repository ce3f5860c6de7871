"""The last sheet cut as short as it goes, so that one large piece is left over.

Among plans of one cost the better one leaves more of a sheet that the next job can use (cutting with usable leftovers:
Andrade, Birgin and Morabito, "Two-stage two-dimensional guillotine cutting stock problems with usable leftover", Int.
Trans. Oper. Res. 23, 2016). Here the sheet that the leftover comes from is taken shorter, or narrower by a first cut
along its whole length, and the planner is asked whether the rest holds all parts at the same cost.

`last_sheet` says which sheet may be taken shorter and how, `shrinking` asks for shorter ones again and again.
"""
