"""Messages for entries that pydantic refuses: our words, not the library's, so that they can be translated."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import Phrase, phrase, plural
from drawerwright.basics.typed_lengths import shortened

Limits = tuple[int | None, int | None]
_PLAIN = {
    "missing": phrase("is missing"),
    "finite_number": phrase("must be a finite number"),
    **dict.fromkeys(
        ("model_type", "model_attributes_type", "dict_type"),
        phrase("must hold named entries, not a single value"),
    ),
    **dict.fromkeys(("list_type", "tuple_type"), phrase("must be a list")),
    "string_type": phrase("must be text"),
    **dict.fromkeys(("float_type", "float_parsing"), phrase("must be a number")),
    **dict.fromkeys(("bool_type", "bool_parsing"), phrase("must be true or false")),
}


_NO_WHOLE_NUMBER = ("int_type", "int_from_float", "int_parsing")


def fault_words(item: Mapping[str, Any], limits: Callable[[], Limits] = lambda: (None, None)) -> str:
    """The text for one error of pydantic's, as `ValidationError.errors()` lists it; `limits` tells the least and the
    most that a whole number may be there."""
    details = item.get("ctx", {})
    cause = details.get("error")
    if isinstance(cause, InvalidValueError):
        return str(cause)
    kind, given = item["type"], item.get("input")
    if kind in _NO_WHOLE_NUMBER:
        return _with_given(_whole_number(*limits()), given)
    if kind in _PLAIN:
        return _with_given(_PLAIN[kind], given)
    said = _limit_words(kind, details)
    if said is None:
        said = Phrase("{message}", {"message": str(item["msg"]).removeprefix("Value error, ")})
    return _with_given(said, given)


def _whole_number(least: int | None, most: int | None) -> Phrase:
    if least is None:
        return phrase("must be a whole number")
    if most is None:
        return phrase("must be a whole number of {least} or more", least=least)
    return phrase("must be a whole number from {least} to {most}", least=least, most=most)


def _with_given(said: Phrase, given: object) -> Phrase:
    if isinstance(given, str | int | float):
        return phrase("{fault} (read: {given!r})", fault=said, given=shortened(given))
    return said


def _limit_words(kind: str, details: Mapping[str, Any]) -> Phrase | None:
    """What the limit is that an entry does not keep; None for errors that no entry of ours can cause."""
    match kind:
        case "greater_than":
            return phrase("must be more than {limit:g}", limit=details["gt"])
        case "greater_than_equal":
            return phrase("must be {limit:g} or more", limit=details["ge"])
        case "less_than":
            return phrase("must be less than {limit:g}", limit=details["lt"])
        case "less_than_equal":
            return phrase("must be {limit:g} or less", limit=details["le"])
        case "literal_error" | "enum":
            *first, last = str(details["expected"]).replace(" or ", ", ").split(", ")
            choices = phrase("{first} or {last}", first=", ".join(first), last=last) if first else last
            return phrase("must be {choices}", choices=choices)
        case "string_too_short":
            return plural(
                "must have at least {count} character",
                "must have at least {count} characters",
                details["min_length"],
            )
        case "string_too_long":
            return plural(
                "must have at most {count} character",
                "must have at most {count} characters",
                details["max_length"],
            )
        case "too_short":
            return plural(
                "must have at least {count} entry",
                "must have at least {count} entries",
                details["min_length"],
            )
        case "too_long":
            return plural(
                "must have at most {count} entry", "must have at most {count} entries", details["max_length"]
            )
    return None
