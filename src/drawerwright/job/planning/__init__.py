"""A job walks through the rooms: parts, corners and fences (`draft`), then sheets and order of work (`job_plan`).

What is asked of a plan stands beside it: how sure its first cuts are, what must be settled before cutting, what else
its sheets could be, how many drawers the sheets on hand give.
"""
