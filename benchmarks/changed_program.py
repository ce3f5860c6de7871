"""The program with a small mistake in it: put into what is loaded, or into a module while it is loaded."""

from __future__ import annotations

import ast
import gc
import importlib.abc
import importlib.machinery
import importlib.util
import inspect
from collections import defaultdict
from collections.abc import Iterator, Sequence
from pathlib import Path
from types import CodeType, FunctionType, ModuleType

from small_mistakes import Changes, Mutant, Names

SOURCE = Path(__file__).resolve().parents[1] / "src" / "drawerwright"
NAMES = Names.of(SOURCE.rglob("*.py"))
Place = tuple[str, str, int]
"""Of a function: its file, its qualified name and its first line."""


def changed_code(mutant: Mutant) -> CodeType:
    """The code of a module with its change in it."""
    tree = ast.parse(mutant.file.read_bytes())
    changed = Changes(mutant.file, NAMES, mutant.number).visit(tree)
    code: CodeType = compile(ast.fix_missing_locations(changed), str(mutant.file), "exec")
    return code


def place_of(code: CodeType) -> Place:
    return code.co_filename, code.co_qualname, code.co_firstlineno


def outermost(code: CodeType) -> Iterator[CodeType]:
    """The functions and methods of a module, not what stands inside of them."""
    for each in code.co_consts:
        if isinstance(each, CodeType):
            if each.co_flags & inspect.CO_OPTIMIZED:
                yield each
            else:
                yield from outermost(each)


class Loaded:
    """The functions of the program that are loaded now."""

    def __init__(self) -> None:
        gc.unfreeze()  # what is frozen is not among the objects
        self._functions: dict[Place, list[FunctionType]] = defaultdict(list)
        for each in gc.get_objects():
            if isinstance(each, FunctionType) and each.__code__.co_filename.startswith(str(SOURCE)):
                self._functions[place_of(each.__code__)].append(each)

    def put(self, mutant: Mutant) -> None:
        """Change the function of a mutant, wherever it is kept."""
        for code in outermost(changed_code(mutant)):
            for function in self._functions[place_of(code)]:
                if function.__code__ != code:
                    function.__code__ = code


class Mutated(importlib.abc.MetaPathFinder):
    """Gives one module of the program with its change in it."""

    def __init__(self, mutant: Mutant) -> None:
        self.mutant = mutant
        parts = mutant.file.relative_to(SOURCE.parent).with_suffix("").parts
        self.name = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)

    def find_spec(
        self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        if fullname != self.name:
            return None
        loader = _Loader(fullname, str(self.mutant.file))
        loader.mutant = self.mutant
        return importlib.util.spec_from_file_location(fullname, self.mutant.file, loader=loader)


class _Loader(importlib.machinery.SourceFileLoader):
    mutant: Mutant

    def get_code(self, fullname: str) -> CodeType:
        return changed_code(self.mutant)
