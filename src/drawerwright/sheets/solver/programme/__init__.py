"""The linear programme over columns, which grows by the columns that it lacks.

There are more ways to cut a sheet than can be listed. So a programme over the few that are known tells what each part
is worth, the fillings tell which column would be worth more than it costs, that one comes in, and so on until none
is missing (Gilmore and Gomory, Oper. Res. 9, 1961, pp. 849-859, and 13, 1965, pp. 94-120). Values of the parts are
drawn towards those of the best bound so far, which saves rounds (Wentges, Int. Trans. Oper. Res. 4, 1997,
pp. 151-162).

At any moment the parts' values, scaled so that no sheet holds more than it costs, give a cost that no plan undercuts
(Farley, Oper. Res. 38, 1990, p. 922). `known_columns` is the programme as it stands, `master` lets it grow, `pricing`
is what a sheet holds at most and the bound, `whole_choice` the best whole numbers of known columns, `shortlist` all
columns that can be in a better plan, `whole_sheets` the way from columns to sheets. `highs` is the only door to HiGHS.
"""
