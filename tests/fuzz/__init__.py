"""Random input at every door, kept going for as long as anybody likes: `make fuzz SECONDS=3600`.

A target is one door, a maker of texts for it (`targets`, `requests`), and what must hold. Whatever comes in ends in a
result or in words; an exception that nobody allowed for, more than two seconds or more than 500 MB is a find. What is
found is made small, and its text lies in `tests/corpus/TARGET`, which the tests go through from then on.

A maker draws from a `random.Random`. Plain numbers are quick and give the mass; hypothesis draws from the same makers
and looks near what did something new.
"""
