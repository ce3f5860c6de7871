"""Several sheet sizes, and offcuts: which of them give which columns.

Waste arises where the parts of one width need a fraction of a column, and where columns need a fraction of a sheet. So
whole columns are counted before they are filled: `column_counts` knows which counts of columns hold the parts of a
width, `sheet_counts` which columns so many sheets hold, both by rules that are learnt where a count fails (values for
which what is wanted is worth more than what there is: Farkas' lemma). `offcut_ways` lists good ways to cut an offcut
and `offcut_choice` takes one of each by annealing (Kirkpatrick, Gelatt and Vecchi, Science 220, 1983, pp. 671-680);
`count_choice` draws the counts one width at a time (S. and D. Geman, IEEE Trans. Pattern Anal. Mach. Intell. 6, 1984,
pp. 721-741). `whole_columns` leads through all of this; `number_proofs` raises the bound by numbers of sheets that
cannot hold the parts, since sheets are bought whole.
"""
