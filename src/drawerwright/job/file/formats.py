"""The version of a file's format: what this program reads, and what it says of files that a newer one wrote.

Format 1 is the only one there has been: no entry of a released file was ever renamed or taken out.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal, TypeAlias

from pydantic import BeforeValidator

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase

NEWEST = 1


def _known(value: Any) -> Any:
    if isinstance(value, int) and value > NEWEST:
        raise InvalidValueError(
            phrase(
                "{given} is the format of a newer Drawerwright; this one reads {newest} at most: "
                "update it, or open the file with the one that wrote it",
                given=value,
                newest=NEWEST,
            )
        )
    return value


FileFormat: TypeAlias = Annotated[Literal[1], BeforeValidator(_known)]
