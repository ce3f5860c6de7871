"""Blanks and the sheets they are cut from.

A drawer's parts become blanks (`from_parts`, `blanks`), and with the rack (`sheet_stock`), the saw and its kerf (`saw`)
and what the router table asks (`band_rules`) a `problem`. `plan` answers it: sheets with every piece and every cut in
mm (`patterns`), proven to be the cheapest where that can be proven. `shortage` says what sheets on hand lack,
`alternatives` what another choice would give. These modules are what other rooms use. How the answer is found is the
business of `solver` alone, `layout` carries it back to mm, and `referee` checks it without knowing how it was found.
`published` puts the same planner to instances from the literature.

The problem is cutting stock in two or three stages with kerf: first named by Kantorovich (1939, in English Management
Sci. 6, 1960, pp. 366-422) and made solvable by Gilmore and Gomory (Oper. Res. 9, 1961, pp. 849-859; 13, 1965,
pp. 94-120).
"""
