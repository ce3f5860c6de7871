"""From a first plan to the cheapest one, and then to the one the shop would rather cut.

A greedy plan comes at once. Then the bound is raised by column generation, and plans are looked for where the linear
programme points: a dive commits the columns it is surest of, lets others for the rest come in and goes on
(Sadykov, Vanderbeck, Pessoa, Tahiri and Uchoa, INFORMS J. Comput. 31, 2019, pp. 251-267). The search ends when a plan
costs no more than the bound, when nothing better is left among the columns, or when time is up: then the best plan so
far is returned with its bound.

`within_limits` is the way in: sheets on hand are first planned as if there were any number. `by_width` takes the short
way of parts that fit one width of column each, `cheapest` leads through all the rest: `greedy` gives the first plan,
`repacking`, `dive` and `refining` better ones, `best_so_far` keeps the best. Among plans of equal cost `tie_breakers`
choose in the order that the shop wants, and `gathering` leaves one sheet as empty as can be.
"""
