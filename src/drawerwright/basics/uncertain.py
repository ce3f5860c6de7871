"""Values with the doubt that belongs to them, and what that doubt does to a result.

One physical cause is one named variable, however often it enters the model: a fence that stands 0.1 mm too
far out does so for both pieces that are cut at it. Two ways lead from the causes to the result: `propagate`
(first order, with the share of each cause) and `simulate` (draws from the causes' distributions). Both follow
JCGM 100:2008 (clause 5.1) and JCGM 101:2008 (clauses 6.4, 7); tests/validation holds worked examples.

numpy is imported inside the functions that draw, so that a value with its uncertainty costs no start-up time.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from statistics import NormalDist
from typing import TYPE_CHECKING, Any, TypeAlias
from zlib import crc32

from drawerwright.basics.declared import checked
from drawerwright.basics.errors import InvalidValueError
from drawerwright.basics.phrases import phrase

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Values: TypeAlias = NDArray[np.float64]

Model: TypeAlias = Callable[[Mapping[str, Any]], Any]
"""A result as a function of named inputs. It must work on numbers and, element by element, on arrays."""

SeveralModel: TypeAlias = Callable[[Mapping[str, Any]], Mapping[str, Any]]
"""Several named results as functions of the same named inputs."""

DERIVATIVE_STEP = 0.01
"""Sensitivities are central differences over this share of a cause's standard uncertainty."""
DEFAULT_SEED = 20240
"""Draws are repeatable: the same question gives the same answer."""
PIECE = 32_768
"""How many values are drawn and reckoned at a time."""


class Origin(StrEnum):
    """Where an uncertainty is from."""

    STATED = "stated"
    """Somebody has said so; an uncertainty of zero says exact."""
    ASSUMED = "assumed"
    """Nobody has said anything, and the usual one stands in (`drawerwright.basics.usual`)."""
    LEARNT = "learnt"
    """Test cuts have shown it."""


@checked
@dataclass(frozen=True, slots=True)
class Estimate:
    """A value and its standard uncertainty, both in the same unit, and where the uncertainty is from.

    Zero means exact. What a person gave without saying how well it is known goes through `given`.
    """

    value: float
    uncertainty: float = 0.0
    origin: Origin = Origin.STATED

    @classmethod
    def given(cls, value: float, uncertainty: float | None, *, usual: float) -> Estimate:
        """A value as it was given: with the usual uncertainty, marked as assumed, where none was stated."""
        if uncertainty is None:
            return cls(value, usual, Origin.ASSUMED)
        return cls(value, uncertainty)

    @property
    def is_assumed(self) -> bool:
        """Whether nobody has stated how well the value is known."""
        return self.origin is Origin.ASSUMED

    def __post_init__(self) -> None:
        if not math.isfinite(self.value):
            raise InvalidValueError(phrase("a value must be a finite number, not {value}", value=self.value))
        if not (math.isfinite(self.uncertainty) and self.uncertainty >= 0):
            raise InvalidValueError(
                phrase("an uncertainty must be zero or more, not {uncertainty}", uncertainty=self.uncertainty)
            )

    def __float__(self) -> float:
        return self.value

    def interval(self, coverage: float = 0.95) -> tuple[float, float]:
        """The interval about the value that holds the truth with this probability (normal distribution)."""
        reach = _normal_reach(coverage) * self.uncertainty
        return self.value - reach, self.value + reach

    def chance(self, low: float, high: float) -> float:
        """Probability that the truth lies between two values (normal distribution)."""
        if self.uncertainty == 0:
            return 1.0 if low <= self.value <= high else 0.0
        known = NormalDist(self.value, self.uncertainty)
        return known.cdf(high) - known.cdf(low)


class Density(StrEnum):
    """How the possible values of a cause are distributed (JCGM 101:2008, table 1)."""

    NORMAL = "normal"
    RECTANGULAR = "rectangular"
    """Equally likely between two limits, which may themselves be known only so well."""
    ARCSINE = "arcsine"
    """A quantity that swings between two limits."""
    STUDENT = "student"
    """The mean of a few repeated readings: wider than normal."""


@dataclass(frozen=True, slots=True)
class Cause:
    """One physical cause of doubt.

    Make it with `normal`, `rectangular`, `arcsine` or `student`. `scale` is the parameter of its shape: the
    standard deviation, the half width, or the scale of the t-distribution.
    """

    name: str
    value: float
    scale: float
    shape: Density = Density.NORMAL
    degrees_of_freedom: float = math.inf
    limits_known_to: float = 0.0

    @classmethod
    def normal(cls, name: str, estimate: Estimate) -> Cause:
        """A cause known by value and standard uncertainty."""
        return cls(name, estimate.value, estimate.uncertainty)

    @classmethod
    def rectangular(cls, name: str, low: float, high: float, limits_known_to: float = 0.0) -> Cause:
        """Equally likely between two limits; each limit itself somewhere within `limits_known_to` of its value
        (JCGM 101:2008, 6.4.3: curvilinear trapezoid).

        Raises:
            InvalidValueError: the limits are the wrong way round.
        """
        return cls(name, (low + high) / 2, _half(low, high), Density.RECTANGULAR, math.inf, limits_known_to)

    @classmethod
    def arcsine(cls, name: str, low: float, high: float) -> Cause:
        """A quantity that swings sinusoidally between two limits, met at an unknown moment."""
        return cls(name, (low + high) / 2, _half(low, high), Density.ARCSINE)

    @classmethod
    def student(cls, name: str, value: float, uncertainty: float, degrees_of_freedom: float) -> Cause:
        """A value with a standard uncertainty from few observations."""
        return cls(name, value, uncertainty, Density.STUDENT, degrees_of_freedom)

    @property
    def uncertainty(self) -> float:
        """Standard uncertainty, as first-order propagation takes it."""
        if self.shape is Density.RECTANGULAR:
            return math.sqrt(self.scale**2 / 3 + self.limits_known_to**2 / 9)
        if self.shape is Density.ARCSINE:
            return self.scale / math.sqrt(2)
        return self.scale

    def draw(self, trials: int, generator: np.random.Generator) -> Values:
        """So many random values of the cause."""
        import numpy as np

        if self.shape is Density.NORMAL:
            values = generator.standard_normal(trials)
            values *= self.scale
        elif self.shape is Density.STUDENT:
            values = self.scale * generator.standard_t(self.degrees_of_freedom, trials)
        elif self.shape is Density.ARCSINE:
            values = self.scale * np.sin(2 * np.pi * generator.random(trials))
        else:
            half_width: Any = self.scale
            if self.limits_known_to:
                half_width = self.scale + self.limits_known_to * generator.uniform(-1, 1, trials)
            values = half_width * generator.uniform(-1, 1, trials)
        values += self.value
        return values


@dataclass(frozen=True, slots=True)
class Contribution:
    """What one cause does to a result: change of the result per unit of the cause, and its uncertainty."""

    cause: str
    sensitivity: float
    uncertainty: float
    degrees_of_freedom: float = math.inf

    @property
    def signed(self) -> float:
        """The uncertainty with the sign of the sensitivity."""
        return math.copysign(self.uncertainty, self.sensitivity)


@dataclass(frozen=True, slots=True)
class Propagated:
    """A result with its first-order uncertainty, and each cause's contribution, largest first."""

    value: float
    contributions: tuple[Contribution, ...]

    @property
    def uncertainty(self) -> float:
        """Combined standard uncertainty (JCGM 100:2008, equation 10)."""
        return math.hypot(*(part.uncertainty for part in self.contributions))

    @property
    def estimate(self) -> Estimate:
        return Estimate(self.value, self.uncertainty)

    def part(self, *causes: str) -> float:
        """The uncertainty that some causes bring in together."""
        return math.hypot(*(part.uncertainty for part in self.contributions if part.cause in causes))

    def without(self, *causes: str) -> Propagated:
        """The result as it is when some causes are in doubt no more."""
        return Propagated(self.value, tuple(part for part in self.contributions if part.cause not in causes))

    def covariance(self, other: Propagated) -> float:
        """Covariance with another result of the same causes."""
        rates = {part.cause: part.signed for part in other.contributions}
        return sum(part.signed * rates.get(part.cause, 0.0) for part in self.contributions)

    def share(self, *causes: str) -> float:
        """The part of the result's variance that some causes bring in together, 0 to 1."""
        total = self.uncertainty
        return (self.part(*causes) / total) ** 2 if total else 0.0


@dataclass(frozen=True)
class Drawn:
    """Random values of a result."""

    values: Values

    @property
    def mean(self) -> float:
        return float(self.values.mean())

    @property
    def uncertainty(self) -> float:
        """Standard deviation of the values."""
        return float(self.values.std())

    def quantile(self, share: float) -> float:
        """The value that this share of the draws does not exceed."""
        import numpy as np

        return float(np.quantile(self.values, share))

    def quantiles(self, shares: Sequence[float]) -> tuple[float, ...]:
        """Several quantiles at once."""
        import numpy as np

        return tuple(float(value) for value in np.quantile(self.values, shares))

    def chance(self, low: float, high: float) -> float:
        """The share of the draws between two values, both included."""
        return float(((self.values >= low) & (self.values <= high)).mean())

    def interval(self, coverage: float = 0.95) -> tuple[float, float]:
        """The interval that leaves the same share out on either side."""
        low, high = self.quantiles(((1 - coverage) / 2, (1 + coverage) / 2))
        return low, high


def propagate(model: Model, causes: Iterable[Cause]) -> Propagated:
    """First-order propagation: sensitivities at the causes' values, variances added.

    Causes are independent. What two inputs share must be a cause of its own in the model.
    """
    listed = _distinct(causes)
    at = {cause.name: cause.value for cause in listed}
    parts = []
    for cause in listed:
        step = DERIVATIVE_STEP * cause.uncertainty
        if step == 0:
            continue
        above, below = (model({**at, cause.name: cause.value + sign * step}) for sign in (1, -1))
        sensitivity = float(above - below) / (2 * step)
        parts.append(
            Contribution(
                cause.name, sensitivity, abs(sensitivity) * cause.uncertainty, cause.degrees_of_freedom
            )
        )
    parts.sort(key=lambda part: -part.uncertainty)
    return Propagated(float(model(at)), tuple(parts))


def simulate(
    model: Model, causes: Iterable[Cause], trials: int = 1_000_000, seed: int = DEFAULT_SEED
) -> Drawn:
    """Monte Carlo propagation: the model over random values of all causes (JCGM 101:2008, clause 7)."""
    return simulate_all(lambda at: {"": model(at)}, causes, trials, seed)[""]


def simulate_all(
    model: SeveralModel, causes: Iterable[Cause], trials: int = 1_000_000, seed: int = DEFAULT_SEED
) -> dict[str, Drawn]:
    """`simulate` for several results of the same causes: values with the same place belong to the same draw."""
    import numpy as np

    results: dict[str, Values] = {}
    done = 0
    for at, size in draw_causes(causes, trials, seed):
        for name, values in model(at).items():
            results.setdefault(name, np.empty(trials))[done : done + size] = values
        done += size
    return {name: Drawn(values) for name, values in results.items()}


def draw_causes(
    causes: Iterable[Cause], trials: int, seed: int = DEFAULT_SEED
) -> Iterator[tuple[dict[str, float | Values], int]]:
    """So many random values of each cause by name, in pieces with their sizes; a cause without doubt stays a number.

    Pieces fit a processor's cache, so reckoning with them is quicker than with whole arrays. What is drawn of a
    cause depends on its name and the seed alone: models that share a cause share its values.
    """
    import numpy as np

    listed = _distinct(causes)
    generators = {cause.name: np.random.default_rng((seed, crc32(cause.name.encode()))) for cause in listed}
    for first in range(0, trials, PIECE):
        size = min(PIECE, trials - first)
        yield (
            {
                cause.name: cause.draw(size, generators[cause.name]) if cause.uncertainty else cause.value
                for cause in listed
            },
            size,
        )


def _distinct(causes: Iterable[Cause]) -> list[Cause]:
    listed = list(causes)
    names = [cause.name for cause in listed]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise InvalidValueError(
            phrase(
                "{names} is given more than once: name each cause once",
                names=", ".join(twice),
            )
        )
    return listed


def _half(low: float, high: float) -> float:
    if not low <= high:
        raise InvalidValueError(
            phrase("the lower limit {low:g} lies above the upper limit {high:g}", low=low, high=high)
        )
    return (high - low) / 2


def _normal_reach(coverage: float) -> float:
    if not 0 < coverage < 1:
        raise InvalidValueError(
            phrase("a coverage must lie between 0 and 1, not {coverage:g}", coverage=coverage)
        )
    return NormalDist().inv_cdf((1 + coverage) / 2)
