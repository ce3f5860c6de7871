"""What fills a column best when every part has a value.

A column is a length to be filled, a bounded knapsack: each part takes its height and one kerf. One table gives the
best value of every height at once, so that all lengths of columns are answered together; parts of which several may
be taken are offered in lots of 1, 2, 4, ... (Martello and Toth, Knapsack Problems, Wiley, 1990, chapter 3; the
chapter is from memory). Values are whole numbers, so the answer is exact and bounds may rest on it.

`fill_table` is that table. `stacks` says what a source of columns has to answer; single parts, bands with strips
that are ripped from them, and rows of loose parts are such sources.
"""
