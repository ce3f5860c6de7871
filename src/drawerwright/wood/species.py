"""Species of wood by the names that people give them, each with its rows in the tables. German names are common
knowledge (no source)."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import cache
from importlib import resources

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase
from drawerwright.wood.sourced import SourcedRow, sourced_rows, sourced_table

NEAREST = 4
"""So many names are offered to somebody whose own is unknown."""
ALIKE = 0.65
"""Words are alike from this ratio on, each to its nearest: a letter or two of a short word are wrong."""


@dataclass(frozen=True, slots=True)
class Species:
    """A species, or a group that is sold as one.

    `general` are names of its whole kin (oak, beech), for which it is taken as the commonest (from memory). `rows` are
    the names that it goes by in the tables, where those differ from its own. A group that is sold as one borrows the
    figures of its commonest species.
    """

    name: str
    aliases: tuple[str, ...]
    general: tuple[str, ...]
    rows: tuple[tuple[str, str], ...]

    def row(self, table: str) -> SourcedRow | None:
        """Its row in a table that has one row a species (`movement`, `shrinkage`, `mechanical`)."""
        return sourced_table(table).get(self._called(table))

    def elastic(self, quantity: str) -> SourcedRow | None:
        """One of its elastic ratios; the number stands in the column `value`."""
        called = self._called("elastic")
        rows = sourced_rows("elastic_ratios")
        return next((row for row in rows if row.name == called and row.cells["quantity"] == quantity), None)

    def _called(self, table: str) -> str:
        return dict(self.rows).get(table) or self.name

    @property
    def names(self) -> Iterator[str]:
        """Everything it is called."""
        yield self.name
        yield from self.aliases
        yield from self.general
        yield from dict(self.rows).values()


@cache
def every_species() -> tuple[Species, ...]:
    """All that the tables know, by name."""
    text = resources.files("drawerwright.wood").joinpath("data/species.csv").read_text("utf-8")
    tables = ("movement", "shrinkage", "mechanical", "elastic")
    return tuple(
        Species(
            row["name"],
            _listed(row["aliases"]),
            _listed(row["general"]),
            tuple((table, row[table]) for table in tables if row[table]),
        )
        for row in csv.DictReader(text.splitlines())
    )


def _listed(cell: str) -> tuple[str, ...]:
    return tuple(name.strip() for name in cell.split(";") if name.strip())


def find_species(name: str) -> Species:
    """The species that is meant: `maple, sugar`, `Sugar maple` and `hard maple` are one.

    >>> find_species("sugar maple").name
    'Maple, sugar'

    Raises:
        InvalidValueError: none is called so, or several are; the text names those that come nearest.
    """
    typed, words = " ".join(name.casefold().split()), _words(name)
    everything = every_species()
    for fits in (
        [
            each
            for each in everything
            if typed in map(str.casefold, (each.name, *each.aliases, *each.general))
        ],
        [each for each in everything if words == _words(each.name)],
        [each for each in everything if words in map(_words, each.names)],
        [each for each in everything if words and any(words < _words(own) for own in each.names)],
    ):
        if len(fits) == 1:
            return fits[0]
        if fits:
            raise InvalidValueError(
                phrase(
                    "the species {name!r} could be {names}: say which",
                    name=name,
                    names="; ".join(species.name for species in fits),
                )
            )
    near = _nearest(words)
    if not near:
        raise InvalidValueError(
            phrase(
                "no figures are known for the species {name!r}, and no name is near it; docs/wood.md lists all names",
                name=name,
            )
        )
    raise InvalidValueError(
        phrase(
            "no figures are known for the species {name!r}; the nearest names are {near}",
            name=name,
            near="; ".join(near),
        )
    )


def others_meant(name: str) -> tuple[str, ...]:
    """Which other species a name could have meant beside the one that `find_species` takes; none where it is that one's
    own name, or one that no other has the words of.

    >>> others_meant("white oak"), others_meant("white oak, commercial"), others_meant("sugar maple")
    (('Oak, white',), (), ())
    >>> others_meant("beech") == others_meant("Buche") == ("Beech, American",)
    True

    Raises:
        InvalidValueError: as `find_species`.
    """
    taken, words = find_species(name), _words(name)
    if words == _words(taken.name):
        return ()
    general = [_words(own) for own in taken.general]
    # Kin is seen in any language that names it: "Eiche" means the oaks, whatever they are called.
    asked = general if words in general else [words]
    return tuple(
        other.name
        for other in every_species()
        if other is not taken and any(each <= _words(own) for each in asked for own in other.names)
    )


def _words(name: str) -> frozenset[str]:
    """The words of a name in any order, without what stands in brackets beside them."""
    plain = re.sub(r"\([^)]*\)", " ", name).casefold()
    return frozenset(re.findall(r"[^\W\d_]+", plain))


def _nearest(words: frozenset[str]) -> list[str]:
    """Names that come near to one that nobody has, the nearest first: every word given is held against every word.
    None where no word is alike."""

    def nearness(word: str, own: frozenset[str]) -> float:
        return max(SequenceMatcher(None, word, each).ratio() for each in own)

    def likeness(species: Species) -> float:
        return max(sum(nearness(word, _words(each)) for word in words) for each in species.names)

    alike = {species.name: likeness(species) for species in every_species()}
    nearest = sorted(alike, key=alike.__getitem__, reverse=True)[:NEAREST]
    return [name for name in nearest if alike[name] >= ALIKE * len(words) > 0]
