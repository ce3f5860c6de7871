"""How much memory a result holds, as nearly as is needed to keep no more than there is room for."""

from __future__ import annotations

import gc
import sys
from types import BuiltinFunctionType, FunctionType, ModuleType

SHARED = (type, ModuleType, FunctionType, BuiltinFunctionType)
"""What many results share, and the program itself holds."""


def bytes_of(made: object) -> int:
    """The bytes of a value and of all that it holds, each thing counted once."""
    seen: set[int] = set()
    rest = [made]
    found = 0
    while rest:
        each = rest.pop()
        if id(each) in seen or isinstance(each, SHARED):
            continue
        seen.add(id(each))
        found += sys.getsizeof(each)
        rest += gc.get_referents(each)
    return found
