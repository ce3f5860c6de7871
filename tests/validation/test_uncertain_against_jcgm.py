"""Propagation and simulation against the guides' own examples.

Inputs, published results and their sources are rows of `data/uncertainty_examples.json`; only the models are
written here. Every row goes through the engine that the odds of a corner use.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from drawerwright.basics.uncertain import Cause, Drawn, Estimate, Propagated, propagate, simulate

CASES = json.loads((Path(__file__).parent / "data" / "uncertainty_examples.json").read_text("utf-8"))["cases"]
PROPAGATED = [case for case in CASES if "linear" in case]
SIMULATED = [case for case in CASES if "monte_carlo" in case]
CORRELATED = [case for case in CASES if "readings" in case]
At = Mapping[str, Any]


def end_gauge(at: At) -> Any:
    """Length (nm) of an end gauge compared with a standard of nearly the same length."""
    heat = at["delta_alpha"] * (at["theta"] + at["swing"]) + at["alpha_S"] * at["delta_theta"]
    return at["l_S"] + at["d_0"] + at["d_1"] + at["d_2"] - at["l_S"] * heat


def mass(at: At) -> Any:
    """Deviation (mg) of a weight from 100 g, weighed in air against a reference."""
    buoyancy = (at["rho_a"] - 1.2) * (1 / at["rho_W"] - 1 / at["rho_R"])
    return (at["m_Rc"] + at["dm_Rc"]) * (1 + buoyancy) - 100_000


MODELS: dict[str, Callable[[At], Any]] = {
    "end gauge": end_gauge,
    "sum": lambda at: sum(at.values()),
    "mass": mass,
    "logarithm": lambda at: np.log(at["x"]),
    "expansion": lambda at: (at["L1"] - at["L0"]) / (at["L0"] * (at["T1"] - at["T0"])),
    "viscometer": lambda at: (
        at["mu_c"] * at["t_m"] * (at["rho_b"] - at["rho_m"]) / (at["t_c"] * (at["rho_b"] - at["rho_c"]))
    ),
}


def cause(row: Mapping[str, Any], *, drawn: bool) -> Cause:
    """A row as the engine takes it.

    The guides give a repeated reading's u as the scale of its t-distribution; NIST draws from one whose
    standard deviation is u.
    """
    name, dof = row["name"], row.get("degrees_of_freedom", math.inf)
    if row["shape"] == "normal":
        return Cause.normal(name, Estimate(row["value"], row["u"]))
    if row["shape"] == "student":
        scale = row["u"]
        if drawn and row.get("u_is") == "standard deviation":
            scale *= math.sqrt((dof - 2) / dof)
        return Cause.student(name, row["value"], scale, dof)
    if row["shape"] == "arcsine":
        return Cause.arcsine(name, row["low"], row["high"])
    made = Cause.rectangular(name, row["low"], row["high"], row.get("limits_known_to", 0.0))
    return made if math.isinf(dof) else Cause(**{**_fields(made), "degrees_of_freedom": dof})


def _fields(made: Cause) -> dict[str, Any]:
    return {name: getattr(made, name) for name in Cause.__slots__}


def effective_degrees_of_freedom(result: Propagated) -> float:
    """By the Welch-Satterthwaite formula (JCGM 100:2008, equation G.2b), from each cause's contribution."""
    loss = sum(part.uncertainty**4 / part.degrees_of_freedom for part in result.contributions)
    return result.uncertainty**4 / loss if loss else math.inf


def shortest_interval(result: Drawn, coverage: float) -> tuple[float, float]:
    """The shortest interval of this coverage among the draws (JCGM 101:2008, 7.7)."""
    drawn = np.sort(result.values)
    held = math.ceil(coverage * len(drawn))
    first = int(np.argmin(drawn[held - 1 :] - drawn[: len(drawn) - held + 1]))
    return float(drawn[first]), float(drawn[first + held - 1])


@pytest.mark.parametrize("case", PROPAGATED, ids=lambda case: case["name"])
def test_first_order_propagation(case: dict[str, Any]) -> None:
    """Source: named in each row (JCGM 100 and 101, NIST TN 1900, NPL DEM-ES-011), and whether it was read or is from
    memory.
    """
    expected = case["linear"]
    result = propagate(MODELS[case["model"]], [cause(row, drawn=False) for row in case["causes"]])
    assert result.value + case.get("offset", 0) == pytest.approx(
        expected["value"], abs=expected["value_within"]
    )
    assert result.uncertainty == pytest.approx(expected["u"], abs=expected["u_within"])
    low, high = result.estimate.interval(0.95)
    if "interval" in expected:
        assert (low, high) == pytest.approx(expected["interval"], abs=expected["interval_within"])
    if "upper" in expected:
        assert high == pytest.approx(expected["upper"], abs=expected["interval_within"])
    if "effective_degrees_of_freedom" in expected:
        assert effective_degrees_of_freedom(result) == pytest.approx(
            expected["effective_degrees_of_freedom"], abs=expected["degrees_within"]
        )
    parts = {part.cause: part.uncertainty for part in result.contributions}
    for name, share in expected.get("shares", {}).items():
        assert parts[name] == pytest.approx(share, abs=expected["shares_within"])
        assert result.share(name) == pytest.approx((share / expected["u"]) ** 2, abs=0.01)


@pytest.mark.parametrize("case", SIMULATED, ids=lambda case: case["name"])
def test_simulation(case: dict[str, Any]) -> None:
    """Source: named in each row (JCGM 101, NIST TN 1900, NPL DEM-ES-011), and whether it was read or is from memory."""
    expected = case["monte_carlo"]
    result = simulate(MODELS[case["model"]], [cause(row, drawn=True) for row in case["causes"]])
    assert result.mean + case.get("offset", 0) == pytest.approx(
        expected["value"], abs=expected["value_within"]
    )
    assert result.uncertainty == pytest.approx(expected["u"], abs=expected["u_within"])
    if "interval" in expected:
        assert result.interval(0.95) == pytest.approx(expected["interval"], abs=expected["interval_within"])
    if "shortest_interval" in expected:
        assert shortest_interval(result, 0.95) == pytest.approx(
            expected["shortest_interval"], abs=expected["interval_within"]
        )


@pytest.mark.parametrize("wanted", ["resistance", "reactance", "impedance"])
@pytest.mark.parametrize("case", CORRELATED, ids=lambda case: case["name"])
def test_inputs_that_vary_together_are_written_by_what_they_share(case: dict[str, Any], wanted: str) -> None:
    """Readings taken together are correlated: each input is its mean and a mix of independent causes. Source: JCGM
    100:2008, annex H.2, tables H.2 and H.4; results read, the five readings from memory.
    """
    readings = np.array(list(case["readings"].values()))
    means = readings.mean(axis=1)
    mixed = np.linalg.cholesky(np.cov(readings) / readings.shape[1])
    causes = [Cause.normal(f"cause {number}", Estimate(0.0, 1.0)) for number in range(len(means))]

    def model(at: At) -> Any:
        shared = [at[cause.name] for cause in causes]
        voltage, current, phase = (
            mean + sum(factor * value for factor, value in zip(row, shared, strict=True))
            for mean, row in zip(means, mixed, strict=True)
        )
        impedance = voltage / current
        parts = {"resistance": np.cos(phase), "reactance": np.sin(phase), "impedance": 1.0}
        return impedance * parts[wanted]

    expected = case["results"][wanted]
    result = propagate(model, causes)
    assert result.value == pytest.approx(expected["value"], abs=expected["value_within"])
    assert result.uncertainty == pytest.approx(expected["u"], abs=expected["u_within"])
    drawn = simulate(model, causes)
    assert drawn.mean == pytest.approx(expected["value"], abs=4 * expected["u"] / 1000 + 0.002)
    assert drawn.uncertainty == pytest.approx(expected["u"], rel=0.01)


def test_every_example_is_used() -> None:
    """Source: the rows themselves; each must be asked of the engine once."""
    asked = sorted(case["name"] for case in (*PROPAGATED, *CORRELATED))
    assert asked == sorted(case["name"] for case in CASES)
