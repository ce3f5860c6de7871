"""Values held against what is declared of them: annotations say what may be given, to Python and to whoever gave
something else.

A function or a dataclass that is `checked` refuses every argument that is not of its declared kind, all at once, each
by its name with what is wanted. Python would take it, and stumble over it somewhere below.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, is_dataclass
from functools import cache, wraps
from inspect import Parameter, signature
from numbers import Integral, Real
from os import PathLike
from types import UnionType
from typing import Annotated, Any, Literal, TypeAlias, TypeVar, Union, get_args, get_origin, get_type_hints

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import Phrase, joined, phrase

Checked = TypeVar("Checked", bound=Callable[..., Any])
LONGEST_REPEATED = 60
"""Characters of what was given that a message repeats."""


@dataclass(frozen=True, slots=True)
class Above:
    """Beside a number: it must be more than this."""

    limit: float


Seconds: TypeAlias = Annotated[float, Above(0)]
"""A time limit: more than 0 s."""


def checked(callee: Checked) -> Checked:
    """A function, or a dataclass (above its `dataclass`), that holds its arguments against its annotations.

    A call raises `InvalidValueError`: a line for each argument that is of another kind, and for each that is missing
    beside them. Where arguments are only missing, Python says so as ever.

    >>> @checked
    ... def doubled(length: float) -> float:
    ...     return 2 * length
    >>> doubled("5,65")
    Traceback (most recent call last):
    drawerwright.basics.errors.InvalidValueError: length must be a number, not '5,65'
    """
    made: Any = callee
    call = vars(made)["__init__"] if is_dataclass(made) else made
    taken = list(signature(call).parameters.values())
    placed = (Parameter.POSITIONAL_ONLY, Parameter.POSITIONAL_OR_KEYWORD)
    by_place = [each.name for each in taken if each.kind in placed]
    rest = next((each.name for each in taken if each.kind is Parameter.VAR_POSITIONAL), None)
    needed = [each.name for each in taken[made is not call :] if each.default is Parameter.empty]

    @cache
    def kinds() -> dict[str, _Kind]:
        # Asked for at the first call: an annotation may name what its module makes further down.
        hints = get_type_hints(made, include_extras=True)
        return {name: _row(_kind(hint)) if name == rest else _kind(hint) for name, hint in hints.items()}

    @wraps(call)
    def checking(*args: Any, **kwargs: Any) -> Any:
        given = dict(zip(by_place, args, strict=False), **kwargs)
        if rest is not None:
            given[rest] = args[len(by_place) :]
        wanted = kinds()
        wrong = [name for name in given if name in wanted and not wanted[name].holds(given[name])]
        if wrong:
            faults = [fault for name in wrong for fault in wanted[name].faults(name, given[name])]
            missing = (name for name in needed if name not in given)
            faults += (phrase("{name} is missing", name=name) for name in missing)
            raise InvalidValueError(joined(faults, "\n"))
        return call(*args, **kwargs)

    if made is call:
        return checking  # type: ignore[return-value]
    made.__init__ = checking
    return callee


@dataclass(frozen=True, slots=True)
class _Kind:
    """What is declared of a value: whether one is of the kind, and the words for it; of a row, what each item is."""

    holds: Callable[[Any], bool]
    words: tuple[str, ...] = ()
    item: _Kind | None = None

    def faults(self, name: str, value: Any) -> Iterator[Phrase]:
        """What is wrong with a value that is not of this kind."""
        if self.item is not None and _is_row(value):
            for number, each in enumerate(value, start=1):
                if not self.item.holds(each):
                    yield from self.item.faults(f"{name}[{number}]", each)
            return
        wanted = _one_of(self.words)
        yield phrase("{name} must be {wanted}, not {given}", name=name, wanted=wanted, given=_repeated(value))


def _kind(hint: Any) -> _Kind:
    """What an annotation declares; one that is not foreseen here leaves everything be."""
    origin, inner = get_origin(hint), get_args(hint)
    if origin is Annotated:
        return _marked(_kind(inner[0]), inner[1:])
    if origin in (Union, UnionType):
        return _either(inner)
    if origin is Literal:
        return _Kind(lambda value: any(_same(value, each) for each in inner), tuple(map(repr, inner)))
    if origin is Sequence or (origin is tuple and inner[1:] == (...,)):
        return _row(_kind(inner[0]))
    if origin is Mapping:
        return _Kind(lambda value: isinstance(value, Mapping), (phrase("a dict"),))
    simple = _SIMPLE.get(hint)
    if simple is not None:
        return simple
    cls = origin or hint
    return _Kind(lambda value: isinstance(value, cls), (_named(cls),)) if isinstance(cls, type) else _ANYTHING


def _row(item: _Kind) -> _Kind:
    """A row of what is all of one kind."""
    words = phrase("a list ({item} each)", item=_one_of(item.words)) if item.words else phrase("a list")
    return _Kind(lambda value: _is_row(value) and all(map(item.holds, value)), (words,), item)


def _one_of(words: tuple[str, ...]) -> str:
    *some, last = words
    return phrase("{some} or {last}", some=joined(some, ", "), last=last) if some else last


def _either(hints: tuple[Any, ...]) -> _Kind:
    kinds = [_kind(hint) for hint in sorted(hints, key=_place)]
    holds = [kind.holds for kind in kinds]
    words = dict.fromkeys(word for kind in kinds for word in kind.words)
    if any(get_origin(hint) is PathLike for hint in hints):
        words = {word: None for word in words if word not in (_TEXT, _named(PathLike))} | {
            phrase("a path"): None
        }
    return _Kind(lambda value: any(is_one(value) for is_one in holds), tuple(words))


def _place(hint: Any) -> int:
    """Where an alternative is named: what is written down plainly first, none last."""
    return 2 if hint is type(None) else int(hint not in _SIMPLE)


def _marked(kind: _Kind, marks: tuple[Any, ...]) -> _Kind:
    above = next((mark.limit for mark in marks if isinstance(mark, Above)), None)
    if above is None:
        return kind
    return _Kind(
        lambda value: kind.holds(value) and value > above,
        (phrase("a number above {limit:g}", limit=above),),
    )


def _is_number(value: Any) -> bool:
    is_real = type(value) is float or (isinstance(value, Real) and not isinstance(value, bool))
    return is_real and math.isfinite(value)


def _is_whole(value: Any) -> bool:
    return isinstance(value, Integral) and not isinstance(value, bool)


def _is_row(value: Any) -> bool:
    return isinstance(value, Sequence) and not isinstance(value, str | bytes)


def _same(value: Any, choice: Any) -> bool:
    return isinstance(value, type(choice)) and bool(value == choice)


def _named(cls: type) -> Phrase:
    name = cls.__name__
    return phrase("an {kind}", kind=name) if name[0] in "AEIO" else phrase("a {kind}", kind=name)


def _repeated(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= LONGEST_REPEATED else f"{text[:LONGEST_REPEATED]}…"


_TEXT = phrase("text")
_ANYTHING = _Kind(lambda value: True)
_SIMPLE: dict[Any, _Kind] = {
    float: _Kind(_is_number, (phrase("a number"),)),
    int: _Kind(_is_whole, (phrase("a whole number"),)),
    bool: _Kind(lambda value: isinstance(value, bool), ("True", "False")),
    str: _Kind(lambda value: isinstance(value, str), (_TEXT,)),
    type(None): _Kind(lambda value: value is None, ("None",)),
}
