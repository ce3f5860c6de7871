"""A hooked corner by finite elements: where the stress goes, averaged over the planes that can part.

The section is the joint's own (`Joint.flat_outline` and `upright_outline`), and so are the planes (`Hook.planes`). The
glue is a line of springs. The upright is held at its foot; the flat piece is loaded at the far end of its section, and
forces and moments there are put together so that the line of action is the one wanted.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

import numpy as np
from plane_elements import Body, Row, Wood, graded, grid_triangles, inside
from scipy.sparse import bmat, csc_matrix
from scipy.sparse.linalg import splu
from skfem import BilinearForm, FacetBasis

from drawerwright.joints.holding import Hook, PlaneName, PullOff, WoodPlane
from drawerwright.joints.joint import joint_of
from drawerwright.joints.setting import CornerSetting

NORMAL, TANGENT = 1e4, 4e3
"""Stiffness of the glue line (N/mm³, assumed): ten times as much or as little moves averages over wood by a few per
cent."""
AWAY = 4.0
"""So many thicknesses the pieces go on beyond the corner."""
NEAR_SHARE = 0.4
"""The share of a plane next to its root over which the cautious average is taken."""
PLY_APART = 0.1
"""A ply that ends no further from a corner of the section or the end of a plane is taken to end there (mm)."""
SAME = 1e-6
SAMPLES = 300
ASIDE = 1e-4
"""How far beside a plane the stress is read, on both sides (mm)."""


class Glue(Enum):
    """Which faces of the corner hold."""

    ALL = "all"
    SHOULDER_OPEN = "shoulder-open"
    NONE = "none"
    """The hook bears, and nothing slips sideways."""


class Load(Enum):
    """Which way the corner is loaded; the corner is free to turn where nothing is said of a moment."""

    PULL = "pull"
    """1 N along the upright, on its centre line."""
    TURN = "turn"
    """1 Nmm that turns the flat piece's far end away from the upright's foot: it opens."""
    PULL_FLAT = "pull-flat"
    """1 N along the flat piece, on its centre line, away from the corner."""


@dataclass(frozen=True)
class Average:
    """Mean stress over a plane or the part of it next to its root, square to it (pulled: more than 0) and along it
    (MPa)."""

    normal: float
    shear: float


SIDES = {
    PlaneName.HEAD: (-1.0, 0.0),
    PlaneName.NECK_ROOT: (1.0, 0.0),
    PlaneName.HOOK: (0.0, 1.0),
}
"""On which side of a plane the wood is whose nodes' forces are counted: the one whose other face at the root of the
plane is free once the glue is gone."""


@dataclass(frozen=True)
class Plies:
    """Plywood: veneers of one thickness, face grain along the piece, every other one across; `phase` moves all of them
    by a share of a veneer, as sanding does."""

    veneer: float
    phase: float

    def bounds(self, low: float, high: float) -> list[float]:
        """Where one ply ends and the next begins between two faces, the first ply cut thinner by the phase."""
        first = low + self.veneer * (1 - self.phase)
        return [float(place) for place in np.arange(first, high - 0.15, self.veneer) if place > low + 0.15]

    def is_cross(self, depth: Row) -> Row:
        """Whether the ply at a depth below the face runs across."""
        return np.floor(depth / self.veneer + self.phase).astype(int) % 2 == 1


class CornerElements:
    """One corner, its mesh and matrices; `solve` for a state of its glue."""

    def __init__(self, made: CornerSetting, wood: Wood, fine: float = 0.15, plies: Plies | None = None):
        joint = joint_of(made.cutter)
        hook = joint.holding(made, PullOff.ALONG_UPRIGHT).hook
        assert hook is not None
        self.hook: Hook = hook
        self.flat_thickness = made.corner.flat_thickness
        self.far = hook.inside + AWAY * self.flat_thickness
        self.foot = -AWAY * hook.thickness
        self.plies = plies
        flat = joint.flat_outline(made, self.far)
        upright = joint.upright_outline(made, hook.outer, made.engagement, hook.tip - self.foot)
        points, triangles = grid_triangles(*self._lines(flat, upright, fine))
        self.flat = self._body(inside(points, triangles, flat), wood, on_upright=False)
        self.upright = self._body(inside(points, triangles, upright), wood, on_upright=True)

    def _lines(
        self, flat: Sequence[tuple[float, float]], upright: Sequence[tuple[float, float]], fine: float
    ):
        """Grid lines through every corner of both sections, the ends of every plane and every ply; on the slope as many
        of one as of the other, at matching places, so that it runs along the cells' diagonals."""
        hook = self.hook
        sure_x = _apart({x for x, _ in (*flat, *upright)} | {self.far}, least=SAME)
        sure_y = _apart({y for _, y in (*flat, *upright)} | {self.foot}, least=SAME)
        hot_x, hot_y = [x for x in sure_x if x < self.far], [y for y in sure_y if y > self.foot]
        xs, ys = sure_x, sure_y
        for plane in hook.planes:  # their ends, and those of the parts next to their roots
            for part in (NEAR_SHARE, 1.0):
                x, y = (a + part * (b - a) for a, b in zip(plane.start, plane.end, strict=True))
                if plane.along and abs(plane.end[0] - plane.start[0]) > abs(plane.end[1] - plane.start[1]):
                    xs = _apart({x}, xs)
                elif plane.along:
                    ys = _apart({y}, ys)
        if self.plies:
            xs = _apart(self.plies.bounds(hook.outer, hook.inside), xs, PLY_APART)
            ys = _apart(self.plies.bounds(0.0, self.flat_thickness), ys, PLY_APART)
        rise = hook.top - hook.foot
        if rise < 1e-3:
            return graded(xs, hot_x, fine), graded(ys, hot_y, fine)
        shares = [0.0, 1.0]
        shares = _apart({(x - hook.neck) / hook.step for x in xs if hook.neck < x < hook.head}, shares)
        shares = _apart({(y - hook.foot) / rise for y in ys if hook.foot < y < hook.top}, shares)
        count = max(2, round(max(hook.step, rise) / (2 * fine)))
        shares = _apart(np.linspace(0, 1, count + 1), shares)
        x_in = [hook.neck + share * hook.step for share in shares]
        y_in = [hook.foot + share * rise for share in shares]
        return (
            _through(xs, hot_x, fine, (hook.neck, hook.head), x_in),
            _through(ys, hot_y, fine, (hook.foot, hook.top), y_in),
        )

    def _body(self, mesh, wood: Wood, on_upright: bool) -> Body:
        fibre = "y" if on_upright else "x"
        if self.plies is None:
            return Body(mesh, [wood.stiffness(fibre)])
        middle = mesh.p[:, mesh.t].mean(axis=1)
        depth = middle[0] - self.hook.outer if on_upright else self.flat_thickness - middle[1]
        cross = self.plies.is_cross(depth).astype(int)
        return Body(mesh, [wood.stiffness(fibre), wood.stiffness("z")], cross)

    def solve(self, glue: Glue) -> Solved:
        """Displacements for a push along x, a push along y and a turn at the flat piece's far end."""
        size = self.flat.matrix.shape[0], self.upright.matrix.shape[0]
        springs = self._springs(glue)
        pairs = self._pairs()
        here = csc_matrix(springs)
        across = here @ pairs
        whole = bmat(
            [[self.flat.matrix + here, -across], [-across.T, self.upright.matrix + pairs.T @ across]]
        ).tocsc()
        thick, far = self.flat_thickness, self.far
        at_end = lambda x: x[0] > far - 1e-6  # noqa: E731
        tractions = (
            lambda x, y: (0 * x + 1 / thick, 0 * y),
            lambda x, y: (0 * x, 6 * y * (thick - y) / thick**3),
            lambda x, y: (-12 * (y - thick / 2) / thick**3, 0 * y),
        )
        loads = np.zeros((sum(size), 3))
        for number, traction in enumerate(tractions):
            loads[: size[0], number] = self.flat.load(at_end, traction)
        foot = self.foot
        held = [size[0] + self.upright.dofs(lambda x: x[1] < foot + 1e-6, one) for one in (0, 1)]
        if glue is Glue.NONE:
            held.append(self.flat.dofs(at_end, 0))
        free = np.setdiff1d(np.arange(sum(size)), np.concatenate(held))
        solution = np.zeros_like(loads)
        solution[free] = splu(whole[free][:, free]).solve(loads[free])
        return Solved(self, glue, solution[: size[0]], solution[size[0] :], here, pairs)

    def _facets(self, glue: Glue):
        """Facets of the flat piece that hold on the upright."""
        there = {tuple(np.round(p, 6)) for p in _middles(self.upright.mesh)[1].T}
        facets, middle = _middles(self.flat.mesh)
        hook = self.hook
        shared = np.array([tuple(np.round(p, 6)) in there for p in middle.T])
        x, y = middle
        if glue is Glue.SHOULDER_OPEN:
            shared &= y > hook.shoulder + 1e-6
        if glue is Glue.NONE:
            shared &= (x > hook.neck + 1e-6) & (x < hook.head - 1e-6) & (y > hook.shoulder + 1e-6)
            shared &= y < hook.tip - 1e-6
        return facets[shared]

    def _springs(self, glue: Glue):
        along = 0.0 if glue is Glue.NONE else TANGENT

        @BilinearForm
        def form(u, v, w):
            un, vn = u[0] * w.n[0] + u[1] * w.n[1], v[0] * w.n[0] + v[1] * w.n[1]
            ut, vt = u[1] * w.n[0] - u[0] * w.n[1], v[1] * w.n[0] - v[0] * w.n[1]
            return NORMAL * un * vn + along * ut * vt

        facets = FacetBasis(self.flat.mesh, self.flat.basis.elem, facets=self._facets(glue), intorder=4)
        return form.assemble(facets)

    def _pairs(self):
        """Which unknown of the upright lies at the place of one of the flat piece."""
        rows, columns = [], []
        for component in (0, 1):
            there = self.upright.of_component(component)
            at = {
                tuple(p): d
                for p, d in zip(np.round(self.upright.basis.doflocs[:, there].T, 6), there, strict=True)
            }
            here = self.flat.of_component(component)
            for place, dof in zip(np.round(self.flat.basis.doflocs[:, here].T, 6), here, strict=True):
                if (other := at.get(tuple(place))) is not None:
                    rows.append(dof)
                    columns.append(other)
        shape = self.flat.matrix.shape[0], self.upright.matrix.shape[0]
        return csc_matrix((np.ones(len(rows)), (rows, columns)), shape=shape)


@dataclass(frozen=True)
class Solved:
    """A corner in one state of its glue, for the three unit loads."""

    corner: CornerElements
    glue: Glue
    flat: Row
    upright: Row
    springs: csc_matrix
    pairs: csc_matrix

    def shares(self, load: Load) -> Row:
        """How much of each unit load makes a load up."""
        hook = self.corner.hook
        if load is Load.TURN:
            return np.array([0.0, 0.0, 1.0])
        if load is Load.PULL_FLAT:
            return np.array([1.0, 0.0, 0.0])
        if self.glue is Glue.NONE:  # the flat piece's far end cannot turn, and finds its moment itself
            return np.array([0.0, 1.0, 0.0])
        return np.array([0.0, 1.0, -(self.corner.far - (hook.outer + hook.inside) / 2)])

    def average(self, plane: WoodPlane, shares: Row, part: float = 1.0) -> Average:
        """Mean stress over the part of a plane that is next to its root."""
        body, solution = (
            (self.corner.upright, self.upright) if plane.on_upright else (self.corner.flat, self.flat)
        )
        start, end = np.asarray(plane.start), np.asarray(plane.end)
        end = start + part * (end - start)
        length = np.linalg.norm(end - start)
        if plane.name is PlaneName.SHOULDER:
            share, weight = _samples()
            line = start[:, None] + np.outer(end - start, share) + np.array([[0.0], [ASIDE]])
            _, yy, xy = body.stress_at(solution @ shares, line) @ weight
            return Average(float(yy), float(abs(xy)))
        side = np.asarray(SIDES[plane.name])
        force = body.force_through(solution @ shares, start, end, side)
        direction = (end - start) / length
        return Average(float(force @ -side / length), float(abs(force @ direction)) / length)

    def neck_moment(self, plane: WoodPlane, shares: Row) -> float:
        """Moment over force of the neck's section about its own middle (mm), the upright's inside pulled more."""
        start, end = np.asarray(plane.start), np.asarray(plane.end)
        share, weight = _samples()
        line = start[:, None] + np.outer(end - start, share)
        stress = self.corner.upright.stress_at(self.upright @ shares, line + np.array([[0.0], [ASIDE]]))[1]
        arm = line[0] - (start[0] + end[0]) / 2
        return float((stress * arm) @ weight / (stress @ weight))

    def give(self, shares: Row) -> float:
        """How far the flat piece moves along the upright over its inside face, less the upright's own stretch below the
        shoulder as a straight bar (mm for each N)."""
        hook, corner = self.corner.hook, self.corner
        body = corner.flat
        at = lambda x: (np.abs(x[0] - hook.inside) < 1e-6) & (x[1] >= 0)  # noqa: E731
        moved = (self.flat @ shares)[body.dofs(at, 1)].mean()
        straight = -corner.foot / (corner.upright.layers[0][1, 1] * hook.thickness)
        return float(moved - straight)

    def glue_use(self, line: Sequence[tuple[float, float]], shares: Row, part: float = 1.0) -> float:
        """The greatest stress in the flat piece, pulled or sheared, averaged over a straight stretch of a glued line or
        over a part of it at either end (MPa)."""
        found = []
        for start, end in zip(np.asarray(line), np.asarray(line)[1:], strict=False):
            length = np.linalg.norm(end - start)
            if length < 0.5:
                continue
            direction = (end - start) / length
            normal = np.array([direction[1], -direction[0]])  # the line runs from the shoulder to the tip
            share, weight = _samples()
            for places in (share * part, 1 - share * part):
                points = start[:, None] + np.outer(end - start, places) + ASIDE * normal[:, None]
                xx, yy, xy = self.corner.flat.stress_at(self.flat @ shares, points) @ weight
                tensor = np.array([[xx, xy], [xy, yy]])
                pulled = max(normal @ tensor @ normal, 0.0)
                found.append(float(np.hypot(pulled, direction @ tensor @ normal)))
        return max(found)

    def glue_force(self, shares: Row) -> Row:
        """What the glue carries in all, along x and y: equals the load (N)."""
        jump = self.flat @ shares - self.pairs @ (self.upright @ shares)
        forces = self.springs @ jump
        return np.array([forces[self.corner.flat.of_component(one)].sum() for one in (0, 1)])


def _samples() -> tuple[Row, Row]:
    """Places from 0 to 1 that crowd towards both ends, where stress may be without bound, and their weights."""
    turn = (np.arange(SAMPLES) + 0.5) / SAMPLES
    weight = np.sin(np.pi * turn)
    return (1 - np.cos(np.pi * turn)) / 2, weight / weight.sum()


def _middles(mesh):
    facets = mesh.boundary_facets()
    return facets, mesh.p[:, mesh.facets[:, facets]].mean(axis=1)


def _apart(places, sure=(), least: float = 0.02) -> list[float]:
    """Sure places and others in order, without those others that lie closer than `least` to one that is there."""
    kept = [float(place) for place in sure]
    for place in sorted(places):
        if all(abs(place - other) > least for other in kept):
            kept.append(float(place))
    return sorted(kept)


def _through(places, hot, fine, ends, within) -> Row:
    """Grid lines through places, with those given in the slope's own stretch."""
    low, high = ends
    below = graded([p for p in places if p <= low + 1e-9], hot, fine)
    above = graded([p for p in places if p >= high - 1e-9], hot, fine)
    return np.concatenate([below[:-1], np.array(within), above[1:]])
