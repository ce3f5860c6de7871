"""Whole sheets and whole columns first: how many of each, before anything is filled.

Where parts have many lengths and few of each, waste arises because columns are cut whole and sheets are bought whole,
not because columns are filled badly. So a programme counts sheets by frame and columns by width and height, and knows
of the parts only what rules say: values under which the parts of a width are worth more than those columns, prices
under which columns are dearer than those sheets (Farkas' lemma, learnt where counts fail, after Benders, Numer. Math.
4, 1962, pp. 238-252). Its cost is a bound that is close, and its counts nearly always come out.

`sheet_classes` says which sheets take the same columns, `shared_columns` whether columns hold the parts that share
them, `class_room` whether sheets hold the columns, `count_programme` is the programme, `columns_first` leads from
counts to plans.
"""
