"""Whether a drawer carries what is put into it: its bottom, its runners, its corners.

Every answer is an estimate from published or recalled figures of wood, and says which; no joint and no drawer was
tested.
"""
