"""The moisture of wood: what the air makes of it, and the climates that drawers live in."""

from __future__ import annotations

from dataclasses import dataclass

from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import Phrase, phrase
from drawerwright.wood.sourced import Provenance, Source

EMC_SOURCE = Source(
    "USDA Wood Handbook FPL-GTR-282, 2021, Eq. (4-5), p. 4-3",
    Provenance.READ,
)
TEMPERATURES = (-1.1, 132.2)
"""Between these (°C) the handbook's table was reckoned with the equation (Table 4-2, p. 4-4)."""
HUMIDITIES = (5.0, 95.0)
"""Between these (%) as well."""
COLDEST, HOTTEST = -40.0, 150.0
"""Beyond these (°C) no shop and no house lies, and no drying kiln."""
FIBRE_SATURATION = 30.0
"""Above this moisture (%) wood neither swells nor shrinks (USDA Wood Handbook FPL-GTR-282, 2021, Eq. (4-9), where it is
not known better; read)."""


@dataclass(frozen=True, slots=True)
class Air:
    """Air as wood feels it: temperature (°C) and relative humidity (%)."""

    temperature: float
    humidity: float

    def __post_init__(self) -> None:
        if not 0 <= self.humidity <= 100:
            raise InvalidValueError(
                phrase(
                    "a relative humidity lies between 0 and 100 %, not at {given:g} %", given=self.humidity
                ),
                entry=("humidity",),
            )
        if not COLDEST <= self.temperature <= HOTTEST:
            raise InvalidValueError(
                phrase(
                    "a temperature must lie between {low:g} and {high:g} °C, not at {given:g} °C: check the unit",
                    low=COLDEST,
                    high=HOTTEST,
                    given=self.temperature,
                ),
                entry=("temperature",),
            )

    @property
    def equilibrium(self) -> float:
        """The moisture (% of dry mass) that wood comes to when it stays in this air long enough.

        The two-hydrate equation of Hailwood and Horrobin with Simpson's coefficients; `EMC_SOURCE`. What a board
        really has differs by species and by whether it got there by drying or by wetting, by a point or two.

        >>> round(Air(21.1, 65).equilibrium, 1)
        12.0
        """
        heat, wet = self.temperature, self.humidity / 100
        weight = 349 + 1.29 * heat + 0.0135 * heat**2
        dissolved = (0.805 + 0.000736 * heat - 0.00000273 * heat**2) * wet
        first = (6.27 - 0.00938 * heat - 0.000303 * heat**2) * dissolved
        both = first * (1.91 + 0.0407 * heat - 0.000293 * heat**2) * dissolved
        return 1800 / weight * (dissolved / (1 - dissolved) + (first + 2 * both) / (1 + first + both))

    @property
    def is_within_table(self) -> bool:
        """Whether the handbook's table reaches here; beyond it the equation is only carried on."""
        return (
            TEMPERATURES[0] <= self.temperature <= TEMPERATURES[1]
            and HUMIDITIES[0] <= self.humidity <= HUMIDITIES[1]
        )


@dataclass(frozen=True, slots=True)
class Climate:
    """Where drawers stand: the air at the dry end of its year and at the damp end."""

    name: str
    dry: Air
    damp: Air

    def __post_init__(self) -> None:
        if self.dry.equilibrium > self.damp.equilibrium:
            raise InvalidValueError(
                phrase(
                    "the dry end of {name} gives wood {dry:.1f} % moisture and its damp end {damp:.1f} %: swap them",
                    name=self.name,
                    dry=self.dry.equilibrium,
                    damp=self.damp.equilibrium,
                ),
                entry=("damp",),
            )

    @property
    def words(self) -> Phrase | str:
        """Its name; of a standing one in the reader's language."""
        return _STANDING_WORDS.get(self.name, self.name)

    @property
    def range(self) -> tuple[float, float]:
        """Least and greatest moisture (%) of wood that stands there."""
        return self.dry.equilibrium, self.damp.equilibrium

    @property
    def middle(self) -> float:
        """The moisture (%) half-way between: what a board is taken for that nobody has read."""
        low, high = self.range
        return (low + high) / 2


CLIMATES = {
    climate.name: climate
    for climate in (
        Climate("heated-room", Air(20, 30), Air(24, 60)),
        Climate("humidified-room", Air(20, 45), Air(22, 55)),
        Climate("unheated-room", Air(20, 45), Air(5, 80)),
        Climate("damp-cellar", Air(12, 65), Air(18, 85)),
    )
}
"""Climates by name. Common practice, no source; a heated room's wood swings between 6 and 11 % in what is taught."""
_STANDING_WORDS = {
    "heated-room": phrase("heated room"),
    "humidified-room": phrase("humidified room"),
    "unheated-room": phrase("unheated room"),
    "damp-cellar": phrase("damp cellar"),
}
USUAL_CLIMATE = CLIMATES["heated-room"]
"""Where nothing is said."""


def climate_named(name: str) -> Climate:
    """One of the standing climates.

    Raises:
        InvalidValueError: there is none of this name.
    """
    if name not in CLIMATES:
        raise InvalidValueError(
            phrase("there is no climate {name!r}; known are {names}", name=name, names=", ".join(CLIMATES))
        )
    return CLIMATES[name]


def air_words(air: Air) -> Phrase:
    """Temperature and humidity, as people say them."""
    return phrase("{temperature:g} °C and {humidity:g} %", temperature=air.temperature, humidity=air.humidity)
