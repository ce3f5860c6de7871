"""Bent plates against tables, series and finite elements that share nothing with the program."""

from __future__ import annotations

import math

import numpy as np
import pytest
from skfem import Basis, BilinearForm, ElementQuadBFS, LinearForm, MeshQuad, condense, solve
from skfem.helpers import dd, ddot

from drawerwright.job.bearing_bottom import bear
from drawerwright.strength.bottom_load import GRAVITY
from drawerwright.strength.plate import BentPlate, Patch, Rigidity, Supports, bend

SIDE, PRESSURE, MODULUS, THICK = 400.0, 0.001, 9000.0, 6.4
ALIKE = Rigidity.of(THICK, MODULUS, MODULUS, MODULUS / 2.6, 0.3)
PLY = Rigidity.of(6.4, 12737, 4763, 620, 0.05)


def all_over(span: float, breadth: float) -> tuple[Patch, ...]:
    return (Patch(PRESSURE * span * breadth, span / 2, breadth / 2, span, breadth),)


def evenly(span: float, breadth: float, rigidity: Rigidity, supports: Supports = Supports.FOUR) -> BentPlate:
    return bend(span, breadth, rigidity, supports, all_over(span, breadth))


@pytest.mark.parametrize(
    ("ratio", "sag", "moment"),
    [
        (1.0, 0.00406, 0.0479),
        (1.1, 0.00485, 0.0554),
        (1.2, 0.00564, 0.0627),
        (1.3, 0.00638, 0.0694),
        (1.4, 0.00705, 0.0755),
        (1.5, 0.00772, 0.0812),
        (1.6, 0.00830, 0.0862),
        (1.7, 0.00883, 0.0908),
        (1.8, 0.00931, 0.0948),
        (1.9, 0.00974, 0.0985),
        (2.0, 0.01013, 0.1017),
        (3.0, 0.01223, 0.1189),
        (4.0, 0.01282, 0.1235),
        (5.0, 0.01297, 0.1246),
    ],
)
def test_square_and_long_plates(ratio: float, sag: float, moment: float) -> None:
    """Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., 1959, Table 8, p. 120 (b/a = 1
    read, the rest from memory; the printed table is low by up to 3 in the fifth decimal between 1.1 and 1.8)."""
    bent = evenly(SIDE, ratio * SIDE, ALIKE)
    assert bent.sag * ALIKE.along / PRESSURE / SIDE**4 == pytest.approx(sag, abs=3.5e-5)
    assert bent.moment_along / PRESSURE / SIDE**2 == pytest.approx(moment, abs=1e-4)


@pytest.mark.parametrize(
    ("ratio", "moment"),
    [(1.0, 0.0479), (1.1, 0.0493), (1.2, 0.0501), (1.3, 0.0503), (1.4, 0.0502), (1.5, 0.0498), (2.0, 0.0464)],
)
def test_the_moment_the_other_way(ratio: float, moment: float) -> None:
    """Source: the same table (from memory but for b/a = 1). It gives the middle of the plate; the program looks for the
    greatest, which from b/a = 3 on lies nearer the short edges, so those rows cannot be compared."""
    assert evenly(SIDE, ratio * SIDE, ALIKE).moment_across / PRESSURE / SIDE**2 == pytest.approx(
        moment, abs=2e-4
    )


def test_a_plate_without_end() -> None:
    """Source: the last rows of both tables, b/a = ∞: 0.01302, 0.1250 (Timoshenko, from memory) and 0.1421, 0.7500,
    0.500 (Roark, read). One that is fifteen times as long as wide has no more than its ends to tell."""
    bent = evenly(SIDE, 15 * SIDE, ALIKE)
    assert bent.sag * ALIKE.along / PRESSURE / SIDE**4 == pytest.approx(0.01302, abs=1e-5)
    assert bent.moment_along / PRESSURE / SIDE**2 == pytest.approx(0.1250, abs=1e-4)
    assert bent.sag * MODULUS * THICK**3 / PRESSURE / SIDE**4 == pytest.approx(0.1421, abs=2e-4)
    assert 6 * bent.moment_along / PRESSURE / SIDE**2 == pytest.approx(0.7500, abs=5e-4)
    assert bent.reaction / PRESSURE / SIDE == pytest.approx(0.500, abs=5e-3)


@pytest.mark.parametrize(
    ("ratio", "alpha", "beta", "gamma"),
    [
        (1.0, 0.0444, 0.2874, 0.420),
        (1.2, 0.0616, 0.3762, 0.455),
        (1.4, 0.0770, 0.4530, 0.478),
        (1.6, 0.0906, 0.5172, 0.491),
        (1.8, 0.1017, 0.5688, 0.499),
        (2.0, 0.1110, 0.6102, 0.503),
        (3.0, 0.1335, 0.7134, 0.505),
        (4.0, 0.1400, 0.7410, 0.502),
        (5.0, 0.1417, 0.7476, 0.501),
    ],
)
def test_sag_stress_and_force_on_the_edge(ratio: float, alpha: float, beta: float, gamma: float) -> None:
    """Source: Young and Budynas, Roark's Formulas for Stress and Strain, 7th ed., 2002, Table 11.4 case 1a, p. 502
    (read): y = α q b⁴/(E t³), σ = β q b²/t², R = γ q b."""
    bent = evenly(SIDE, ratio * SIDE, ALIKE)
    assert bent.sag * MODULUS * THICK**3 / PRESSURE / SIDE**4 == pytest.approx(alpha, abs=5e-4)
    assert 6 * bent.moment_along / PRESSURE / SIDE**2 == pytest.approx(beta, abs=1e-3)
    assert bent.reaction / PRESSURE / SIDE == pytest.approx(gamma, abs=5e-3)


@pytest.mark.parametrize(("breadth", "rigidity"), [(400, ALIKE), (500, PLY), (900, PLY), (300, PLY)])
def test_against_the_double_series(breadth: float, rigidity: Rigidity) -> None:
    """Source: Navier's series for a specially orthotropic plate, Timoshenko and Woinowsky-Krieger 1959, ch. 11 (read),
    summed here: w = 16 q/π⁶ Σ sin sin / (m n (Dx m⁴/a⁴ + 2 H m² n²/(a² b²) + Dy n⁴/b⁴))."""
    a, b, both = SIDE, breadth, rigidity.coupled + 2 * rigidity.torsion
    odd = range(1, 80, 2)
    sag = moment = 0.0
    for m in odd:
        for n in odd:
            cost = (
                rigidity.along * (m / a) ** 4
                + 2 * both * (m * n / a / b) ** 2
                + rigidity.across * (n / b) ** 4
            )
            part = 16 * PRESSURE / math.pi**6 / (m * n * cost) * (-1) ** ((m + n) // 2 - 1)
            sag += part
            bow = rigidity.along * (m / a) ** 2 + rigidity.coupled * (n / b) ** 2
            moment += part * math.pi**2 * bow
    bent = evenly(a, b, rigidity)
    assert bent.sag == pytest.approx(sag, rel=1e-5)
    assert bent.moment_along == pytest.approx(moment, rel=1e-3)


def test_the_sag_of_a_worked_panel() -> None:
    """Source: Navier's series reckoned apart from this program: 6.4 mm, E 9000, ν 0.3, 400 × 400 mm under 0.001 N/mm²
    sags 0.48135 mm."""
    assert evenly(400, 400, ALIKE).sag == pytest.approx(0.4813464741, rel=1e-7)


def test_a_force_in_the_middle() -> None:
    """Source: Timoshenko and Woinowsky-Krieger 1959, art. 34, square plate, force in the middle: 0.01160 P a²/D (from
    memory)."""
    bent = bend(SIDE, SIDE, ALIKE, Supports.FOUR, (Patch(10, SIDE / 2, SIDE / 2, 2, 2),))
    assert bent.sag * ALIKE.along / 10 / SIDE**2 == pytest.approx(0.01160, abs=2e-5)


@pytest.mark.parametrize(
    ("ratio", "sag", "moment"), [(0.5, 0.00710, 0.060), (1.0, 0.01286, 0.112), (2, 0.01507, 0.132)]
)
def test_three_edges_against_a_table(ratio: float, sag: float, moment: float) -> None:
    """Source: Timoshenko and Woinowsky-Krieger 1959, art. 48, three edges carried and one free, ν = 0.3: sag and moment
    in the middle of the free edge (from memory)."""
    bent = evenly(SIDE, ratio * SIDE, ALIKE, Supports.THREE)
    assert bent.sag * ALIKE.along / PRESSURE / SIDE**4 == pytest.approx(sag, rel=0.01)
    assert bent.moment_along / PRESSURE / SIDE**2 == pytest.approx(moment, abs=2e-3)


@pytest.mark.parametrize("rigidity", [ALIKE, PLY])
@pytest.mark.parametrize("supports", list(Supports))
@pytest.mark.parametrize("load", ["even", "at the back"])
def test_against_finite_elements(rigidity: Rigidity, supports: Supports, load: str) -> None:
    """Source: the same plate in scikit-fem with elements of Bogner, Fox and Schmit (1965), whose slope runs on from one
    to the next; neither shapes nor way of solving are ours."""
    a, b, n = 400.0, 500.0, 16
    mesh = MeshQuad.init_tensor(np.linspace(0, a, n + 1), np.linspace(0, b, n + 1)).with_defaults()
    basis = Basis(mesh, ElementQuadBFS())

    @BilinearForm  # type: ignore[untyped-decorator]
    def energy(u, v, _w):  # type: ignore[no-untyped-def]
        bow, other = dd(u), dd(v)
        xx = rigidity.along * bow[0, 0] + rigidity.coupled * bow[1, 1]
        yy = rigidity.coupled * bow[0, 0] + rigidity.across * bow[1, 1]
        xy = 2 * rigidity.torsion * bow[0, 1]
        return ddot(np.array([[xx, xy], [xy, yy]]), other)

    low, high = (0.0, b) if load == "even" else (b / 2, b)

    @LinearForm  # type: ignore[untyped-decorator]
    def pressed(v, w):  # type: ignore[no-untyped-def]
        return PRESSURE * (w.x[1] > low) * (w.x[1] < high) * v

    carried = ["left", "right", "bottom", *(["top"] if supports is Supports.FOUR else [])]
    held: list[int] = []
    for edge in carried:
        along = "u_y" if edge in ("left", "right") else "u_x"
        for name in ("u", along):
            held += basis.get_dofs(edge).all(name).tolist()
    solved = solve(*condense(energy.assemble(basis), pressed.assemble(basis), D=np.unique(held)))
    sag = np.asarray(basis.probes(np.array([np.full(33, a / 2), np.linspace(0, b, 33)])) @ solved).max()
    patch = Patch(PRESSURE * a * (high - low), a / 2, (low + high) / 2, a, high - low)
    ours = bend(a, b, rigidity, supports, (patch,))
    assert ours.sag == pytest.approx(sag, rel=2e-3)


def test_a_long_narrow_bottom_is_a_beam() -> None:
    """Source: elementary beam theory, a strip that lies on two edges: w = 5 q a⁴/(384 D), M = q a²/8.
    Without Poisson's ratio the middle of a long plate is such a strip."""
    bent = evenly(300, 1500, Rigidity(PLY.along, PLY.along, 0.0, PLY.along / 2))
    assert bent.sag == pytest.approx(5 * PRESSURE * 300**4 / 384 / PLY.along, rel=0.01)
    assert bent.moment_along == pytest.approx(PRESSURE * 300**2 / 8, rel=0.01)


def test_a_birch_bottom_by_its_own_figures() -> None:
    """Source: Handbook of Finnish Plywood 2002/2007, birch of 6.5 mm and 5 plies: 12737 and 4763 N/mm², in shear 620
    (from memory); the sag by Navier's series in this module, Poisson's ratio 0.05 (assumed)."""
    answer = bear(400, 500, 6.4, "birch-plywood", 10)
    pressure = 10 * GRAVITY / 400 / 500
    assert answer.data["deflection"] == pytest.approx(
        evenly(400, 500, PLY).sag * pressure / PRESSURE, rel=1e-4
    )
    assert answer.data["limit"] == 2.0
    assert answer.data["ok"] is True
