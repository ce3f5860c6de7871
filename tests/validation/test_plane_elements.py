"""The finite elements that check the strength of corners, against figures from outside.

Sources, all from memory and not read: patch test, B. Irons 1966; slender beam, R. MacNeal and R. Harder 1985 (tip
deflection 0.1081 in shear); S. Timoshenko's beam with shear; S. Lekhnitskii, stress beside a round hole in an
orthotropic plate, 1 + sqrt(2 (sqrt(Ex / Ey) - nu) + Ex / G).
"""

import numpy as np
import pytest
from plane_elements import Body, Wood, graded, grid_triangles, plane_stress
from scipy.sparse.linalg import spsolve
from skfem import MeshTri, condense

BIRCH = Wood(along=15300, across=980, shear=1090, rolling=260, poisson=0.44, poisson_across=0.5)


def grid(xs, ys):
    return MeshTri(*grid_triangles(np.asarray(xs, float), np.asarray(ys, float)))


def solved(body, fixed, forces, values=None):
    """Displacements with some unknowns held at values."""
    given = np.zeros(body.matrix.shape[0]) if values is None else values
    reduced = condense(body.matrix, forces, x=given, D=fixed, expand=False)
    free = np.setdiff1d(np.arange(len(given)), fixed)
    solution = given.copy()
    solution[free] = spsolve(reduced[0].tocsc(), reduced[1])
    return solution


def test_stiffness_of_wood_is_symmetric_and_turns_with_the_fibre():
    """Source: an elastic energy exists and is more than 0."""
    along, across = BIRCH.stiffness("x"), BIRCH.stiffness("y")
    assert along == pytest.approx(along.T)
    assert along[0, 0] == pytest.approx(across[1, 1])
    assert np.all(np.linalg.eigvalsh(BIRCH.stiffness("z")) > 0)


@pytest.mark.parametrize("fibre", ["x", "y", "z"])
def test_patch_of_crooked_triangles_has_one_strain(fibre):
    """Source: patch test, B. Irons (from memory): a linear displacement on the rim gives it everywhere."""
    mesh = grid([0, 0.7, 2, 3], [0, 1.2, 1.7, 3])
    inner = np.setdiff1d(np.arange(mesh.nvertices), mesh.boundary_nodes())
    points = mesh.p.copy()
    points[:, inner] += np.random.default_rng(1).uniform(-0.25, 0.25, (2, len(inner)))
    body = Body(MeshTri(points, mesh.t), [BIRCH.stiffness(fibre)])
    x, y = body.basis.doflocs
    exact = np.zeros(len(x))
    for component, (a, b) in enumerate([(1e-3, 4e-4), (-2e-4, 7e-4)]):
        of = body.of_component(component)
        exact[of] = a * x[of] + b * y[of]
    rim = body.basis.get_dofs().all()
    solution = solved(body, rim, np.zeros(len(x)), np.where(np.isin(np.arange(len(x)), rim), exact, 0.0))
    assert solution == pytest.approx(exact, abs=1e-12)
    stress = body.stress_at(solution, np.array([[0.4, 1.5, 2.6], [2.7, 1.4, 0.3]]))
    assert stress == pytest.approx(
        np.repeat((BIRCH.stiffness(fibre) @ [1e-3, 7e-4, 2e-4])[:, None], 3, axis=1)
    )


@pytest.mark.parametrize("crooked", [0.0, 0.05])
def test_slender_beam_bends_as_published(crooked):
    """Source: MacNeal and Harder's slender beam, 6 by 0.2 by 0.1, E 1e7, nu 0.3: tip deflection 0.1081 (memory)."""
    mesh = grid(np.linspace(0, 6, 7), [0, 0.2])
    points = mesh.p.copy()
    upper = points[1] > 0.1
    middle = (points[0] > 0.1) & (points[0] < 5.9)
    points[0] += np.where(middle, np.where(upper, crooked, -crooked), 0.0)
    body = Body(MeshTri(points, mesh.t), [plane_stress(1e7, 1e7, 1e7 / 2.6, 0.3)])
    fixed = np.concatenate([body.dofs(lambda x: x[0] < 1e-9, one) for one in (0, 1)])
    forces = body.load(lambda x: x[0] > 6 - 1e-9, lambda x, y: (0 * x, 0 * x + 50.0))
    tip = solved(body, fixed, forces)[body.dofs(lambda x: x[0] > 6 - 1e-9, 1)].mean()
    assert tip == pytest.approx(0.1081, rel=0.03)


@pytest.mark.parametrize("slender", [10, 5, 3])
def test_orthotropic_cantilever_has_timoshenkos_deflection(slender):
    """Source: F L³ / 3 E I + F L / (5/6 G A), fibre along the beam."""
    young, shear = 15300.0, 1090.0
    length, load = float(slender), 1.0
    mesh = grid(np.linspace(0, length, 8 * slender + 1), np.linspace(0, 1, 7))
    body = Body(mesh, [plane_stress(young, 980.0, shear, 0.44)])
    fixed = np.concatenate([body.dofs(lambda x: x[0] < 1e-9, one) for one in (0, 1)])
    parabola = lambda x, y: (0 * x, 6 * load * y * (1 - y))  # noqa: E731
    forces = body.load(lambda x: x[0] > length - 1e-9, parabola)
    tip = solved(body, fixed, forces)[body.dofs(lambda x: x[0] > length - 1e-9, 1)].mean()
    wanted = load * length**3 / (3 * young / 12) + load * length / (5 / 6 * shear)
    assert tip == pytest.approx(wanted, rel=0.012)


@pytest.mark.parametrize(("young_x", "young_y"), [(2600.0, 2600.0), (15300.0, 980.0), (980.0, 15300.0)])
def test_stress_beside_a_hole_is_lekhnitskiis(young_x, young_y):
    """Source: Lekhnitskii (from memory), a quarter of a plate with a hole, pulled along x: greatest stress over far."""
    nu = 0.3 if young_x == young_y else 0.44 * min(1.0, young_x / young_y)
    shear = 1000.0 if young_x == young_y else 1090.0
    turns, rings = 33, 41
    angle = np.linspace(0, np.pi / 2, turns)
    radius = np.geomspace(1, 30, rings)
    flat = grid_triangles(np.arange(rings, dtype=float), np.arange(turns, dtype=float))
    r, a = radius[flat[0][0].astype(int)], angle[flat[0][1].astype(int)]
    body = Body(
        MeshTri(np.vstack([r * np.cos(a), r * np.sin(a)]), flat[1]),
        [plane_stress(young_x, young_y, shear, nu)],
    )
    fixed = np.concatenate(
        [body.dofs(lambda x: np.abs(x[1]) < 1e-9, 1), body.dofs(lambda x: np.abs(x[0]) < 1e-9, 0)]
    )
    # Far away the stress is 1 along x, on a rim that is round.
    far = lambda x: np.hypot(x[0], x[1]) > 29.9  # noqa: E731
    forces = body.load(far, lambda x, y: (x / np.hypot(x, y), 0 * x))
    solution = solved(body, fixed, forces)
    stress = body.stress_at(solution, np.array([[1e-6], [1.0 + 1e-6]]))[0, 0]
    wanted = 1 + np.sqrt(2 * (np.sqrt(young_x / young_y) - nu) + young_x / shear)
    assert stress == pytest.approx(wanted, rel=0.02)


def test_lines_go_through_every_break_and_are_fine_at_hot_ones():
    """Source: what was asked of the lines."""
    lines = graded([0, 4.3, 7.7, 60], [4.3, 7.7], 0.25)
    assert {0, 4.3, 7.7, 60} <= set(lines)
    steps = np.diff(lines)
    assert steps.min() > 0.1
    assert steps[-1] > 5
    assert steps[(lines[:-1] > 4.29) & (lines[:-1] < 4.31)][0] < 0.35
