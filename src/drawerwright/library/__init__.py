"""The front door for Python: plain arguments to use cases, results that show themselves.

`drawerwright` itself hands out the names of this room (docs/library.md). Like the command line and the pages it holds
no reckoning of its own: it calls the use cases of `job`, and shows what they answer as text, as a table or drawn.
"""
