"""Random input at every door, kept going for as long as anybody likes: `make fuzz SECONDS=3600`.

A target is one door with a strategy of texts for it (`targets`, `requests`). Whatever comes in, it ends in a result or
in words; an exception that nobody allowed for, more than two seconds or more than 500 MB is a find. What is found is
made small, and its text lies in `tests/corpus/TARGET`, which the tests go through from then on.
"""
