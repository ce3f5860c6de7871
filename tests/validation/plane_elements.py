"""Finite elements for plane strain in wood: quadratic triangles on a grid, each piece of wood with its own fibre.

Independent of the product: what holds a corner (`drawerwright.strength`) is a formula by hand, and is checked with
these. Assembly and elements are scikit-fem's, the solution is scipy's. Lengths in mm, stresses in MPa, forces in N for
each mm of the third direction.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray
from skfem import Basis, BilinearForm, ElementTriP2, ElementVector, FacetBasis, LinearForm, MeshTri

Row = NDArray[np.float64]
ELEMENT = ElementVector(ElementTriP2())


@dataclass(frozen=True)
class Wood:
    """Elastic figures of wood, the two directions across the fibre taken as one (MPa)."""

    along: float
    across: float
    shear: float
    """In a plane with the fibre."""
    rolling: float
    """In the plane across it."""
    poisson: float
    """Shrinking across when stretched along the fibre."""
    poisson_across: float

    def stiffness(self, fibre: str) -> Row:
        """Stress over strain (xx, yy, xy) in plane strain, the fibre along "x", "y" or "z"."""
        order = "xyz"
        young = [self.along if axis == fibre else self.across for axis in order]
        compliance = np.diag([1 / value for value in young])
        for i, j in ((0, 1), (0, 2), (1, 2)):
            with_fibre = fibre in (order[i], order[j])
            # Symmetric by construction: nu_LT / E_L, and nu_TT / E_T.
            value = -self.poisson / self.along if with_fibre else -self.poisson_across / self.across
            compliance[i, j] = compliance[j, i] = value
        plane = compliance[:2, :2] - np.outer(compliance[:2, 2], compliance[2, :2]) / compliance[2, 2]
        matrix = np.zeros((3, 3))
        matrix[:2, :2] = np.linalg.inv(plane)
        matrix[2, 2] = self.rolling if fibre == "z" else self.shear
        return matrix


def plane_stress(along_x: float, along_y: float, shear: float, poisson: float) -> Row:
    """Stress over strain of an orthotropic plate in plane stress; `poisson` is nu_xy."""
    other = poisson * along_y / along_x
    share = 1 - poisson * other
    return np.array(
        [
            [along_x / share, poisson * along_y / share, 0],
            [poisson * along_y / share, along_y / share, 0],
            [0, 0, shear],
        ]
    )


def graded(breaks: Sequence[float], hot: Sequence[float], fine: float, growth: float = 0.4) -> Row:
    """Grid lines through all breaks, `fine` apart at the hot ones and ever wider away from them (mm)."""
    found = [breaks[0]]
    for low, high in itertools.pairwise(breaks):
        places = np.linspace(low, high, 201)
        away = np.min(np.abs(places[:, None] - np.asarray(hot)[None, :]), axis=1)
        density = 1 / (fine + growth * away)
        steps = (density[1:] + density[:-1]) / 2 * np.diff(places)
        total = np.concatenate(([0.0], np.cumsum(steps)))
        count = max(1, int(np.ceil(total[-1])))
        found += list(np.interp(np.linspace(0, total[-1], count + 1)[1:], total, places))
        found[-1] = high
    return np.array(found)


def grid_triangles(xs: Row, ys: Row) -> tuple[Row, NDArray[np.int64]]:
    """Points and triangles of a grid, each cell split from its lower left to its upper right corner."""
    x, y = np.meshgrid(xs, ys, indexing="ij")
    number = np.arange(x.size).reshape(x.shape)
    a, b = number[:-1, :-1].ravel(), number[1:, :-1].ravel()
    c, d = number[1:, 1:].ravel(), number[:-1, 1:].ravel()
    return np.vstack([x.ravel(), y.ravel()]), np.hstack([np.vstack([a, b, c]), np.vstack([a, c, d])])


def inside(points: Row, triangles: NDArray[np.int64], outline: Sequence[tuple[float, float]]) -> MeshTri:
    """The triangles of a grid that lie in an outline."""
    middle = points[:, triangles].mean(axis=1)
    kept = triangles[:, shapely.contains_xy(shapely.Polygon(outline), middle[0], middle[1])]
    used, renumbered = np.unique(kept, return_inverse=True)
    return MeshTri(points[:, used], renumbered.reshape(kept.shape))


@BilinearForm
def _energy(u, v, w):
    e, d = (_strain(field.grad) for field in (u, v))
    m = w["matrix"]
    return sum(m[i, j] * e[j] * d[i] for i in range(3) for j in range(3) if m[i, j])


def _strain(gradient: Row) -> tuple[Row, Row, Row]:
    return gradient[0, 0], gradient[1, 1], gradient[0, 1] + gradient[1, 0]


class Body:
    """One piece: its mesh, and a stiffness for each of its triangles by layer."""

    def __init__(self, mesh: MeshTri, layers: Sequence[Row], layer_of: NDArray[np.int64] | None = None):
        self.mesh = mesh
        self.layers = layers
        self.layer_of = np.zeros(mesh.nelements, dtype=int) if layer_of is None else layer_of
        self.basis = Basis(mesh, ELEMENT, intorder=2)

    @cached_property
    def matrix(self):
        """Its stiffness matrix."""
        total = None
        for number, layer in enumerate(self.layers):
            elements = np.nonzero(self.layer_of == number)[0]
            if len(elements):
                part = Basis(self.mesh, ELEMENT, intorder=2, elements=elements)
                one = _energy.assemble(part, matrix=layer)
                total = one if total is None else total + one
        return total

    def load(self, where, traction) -> Row:
        """Forces of a traction on the facets that `where` picks by their midpoints; `traction` takes x and y."""
        facets = self.mesh.facets_satisfying(where, boundaries_only=True)
        basis = FacetBasis(self.mesh, ELEMENT, facets=facets, intorder=6)

        @LinearForm
        def form(v, w):
            tx, ty = traction(w.x[0], w.x[1])
            return tx * v[0] + ty * v[1]

        return np.asarray(form.assemble(basis))

    def dofs(self, where, component: int) -> NDArray[np.int64]:
        """The unknowns of one direction whose places `where` picks."""
        at = self.basis.doflocs[:, self.of_component(component)]
        return self.of_component(component)[where(at)]

    def of_component(self, component: int) -> NDArray[np.int64]:
        """All unknowns of one direction."""
        return np.concatenate([self.basis.nodal_dofs[component], self.basis.facet_dofs[component]])

    def stress_at(self, solution: Row, points: Row) -> Row:
        """Stress (xx, yy, xy) at points, from the displacement's own gradient: linear in each triangle."""
        corners = (np.array([[0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]), np.ones(3) / 6)
        gradient = Basis(self.mesh, ELEMENT, quadrature=corners).interpolate(solution).grad
        strain = np.stack(_strain(np.asarray(gradient)))  # 3, triangles, corners
        cells = self.mesh.element_finder()(*points)
        local = self.mesh.mapping().invF(points[:, :, None], tind=cells)[:, :, 0]
        weights = np.stack([1 - local[0] - local[1], local[0], local[1]])
        there = np.einsum("cnk,kn->cn", strain[:, cells, :], weights)
        layers = np.stack(self.layers)[self.layer_of[cells]]
        return np.einsum("nij,jn->in", layers, there)

    def force_through(self, solution: Row, start: Row, end: Row, side: Row) -> Row:
        """Force (x, y) that the wood on one side of a line of element edges gets through it, from the nodes' forces: in
        balance to rounding, where sampled stress is not near a re-entrant corner. `side` points to that wood. The end
        of the line shares its node with what goes on beyond it."""
        direction = (end - start) / np.linalg.norm(end - start)
        length = np.linalg.norm(end - start)
        corners = self.mesh.p - start[:, None]
        along = direction @ corners
        on_line = (np.abs(side @ corners) < 1e-9) & (along > -1e-9) & (along < length + 1e-9)
        middle = corners[:, self.mesh.t].mean(axis=1)
        there = (side @ middle > 0) & on_line[self.mesh.t].any(axis=0)
        forces = np.zeros(len(solution))
        for number, layer in enumerate(self.layers):
            elements = np.nonzero(there & (self.layer_of == number))[0]
            if len(elements):
                part = Basis(self.mesh, ELEMENT, intorder=2, elements=elements)
                forces += _energy.assemble(part, matrix=layer) @ solution
        found = []
        for component in (0, 1):
            of = self.of_component(component)
            away = self.basis.doflocs[:, of] - start[:, None]
            along = direction @ away
            on = (np.abs(side @ away) < 1e-9) & (along > -1e-9) & (along < length + 1e-9)
            weight = np.where(along[on] > length - 1e-9, 0.5 if self._goes_on(end, direction) else 1.0, 1.0)
            found.append(float(forces[of][on] @ weight))
        return np.array(found)

    def _goes_on(self, end: Row, direction: Row) -> bool:
        """Whether there is wood beyond the end of a line."""
        triangles = shapely.polygons(self.mesh.p[:, self.mesh.t].transpose(2, 1, 0))
        return bool(np.any(shapely.intersects(triangles, shapely.points(*(end + 1e-3 * direction)))))
