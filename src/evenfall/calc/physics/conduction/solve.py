"""Solve a detail: finite volumes from below, elements from above, refined until they agree."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenfall.calc.physics.conduction import elements, finite_volume
from evenfall.calc.physics.conduction.bracket import Bracket, heat_flow
from evenfall.calc.physics.conduction.detail import Detail
from evenfall.calc.physics.conduction.mesh import (
    Floats,
    Lines,
    Mesh,
    check,
    graded,
    painted,
    part_lines,
)
from evenfall.calc.physics.conduction.refine import finer
from evenfall.errors import InvalidInput
from evenfall.standards import iso_10211

Place = tuple[float, ...]

NO_HEAT = 1e-9
"""Heat below this is the rounding of a detail in one temperature."""

FIRST = 3
"""Cells of the first mesh in each gap between lines of the parts: enough to see where to refine."""

ROUNDS = 12
"""Meshes before the search gives up; each is at least twice the last."""

MOST_CELLS = {2: 200_000, 3: 150_000}
"""Beyond these a detail takes too long to wait for; the bracket tells how far it got."""

ACCURACY = 0.005
"""Half of what the rule on doubling lets through, because the bracket is a promise."""


@dataclass(frozen=True, slots=True)
class Refinement:
    """One mesh on the way.

    Parameters
    ----------
    cells : int
        Solved cells [-].
    heat : Bracket
        All heat that the warm airs give [W/m].
    factor_change : float
        Greatest change of a coldest surface since the last mesh, of the whole difference [-].
    """

    cells: int
    heat: Bracket
    factor_change: float


@dataclass(frozen=True, slots=True)
class Solution:
    """Heat flows and temperatures of a detail.

    Parameters
    ----------
    detail : Detail
        What was solved [-].
    flows : dict of str to Bracket
        Heat that each air gives to the detail, negative where it takes [W/m, W].
    coldest : dict of str to tuple
        Lowest temperature of the surfaces to each air, and its place [C, m].
    mesh : Mesh
        Mesh of the answer [-].
    temperature : array
        Temperature of the nodes, not a number where there is no solid [C].
    cell_temperature : array
        Temperature of the cells, not a number where there is no solid [C].
    lower : array
        Conductances between the airs, from below [W/(m K)].
    upper : array
        Conductances between the airs, from above [W/(m K)].
    refinements : tuple of Refinement
        The meshes on the way, the last one last [-].
    closure : float
        Sum of all flows over the heat that flows [-].
    met : bool
        Whether the accuracy asked for was reached [-].
    """

    detail: Detail
    flows: dict[str, Bracket]
    coldest: dict[str, tuple[float, Place]]
    mesh: Mesh
    temperature: Floats
    cell_temperature: Floats
    lower: Floats
    upper: Floats
    refinements: tuple[Refinement, ...]
    closure: float
    met: bool

    @property
    def cells(self) -> int:
        """Solved cells [-]."""
        return self.refinements[-1].cells

    @property
    def heat(self) -> Bracket:
        """All heat that the warm airs give [W/m, in 3D W]."""
        return self.refinements[-1].heat

    @property
    def lines(self) -> Lines:
        """Lines of the mesh along each axis [m]."""
        return self.mesh.lines


def solve(
    detail: Detail,
    *,
    accuracy: float = ACCURACY,
    most_cells: int | None = None,
) -> Solution:
    """Solve the steady heat flow through a detail.

    Each mesh is solved twice. The finite volumes (harmonic means between cells) keep the flows in
    balance and so never give more heat than truly flows (Thomson's principle); the elements keep
    the temperature continuous and so never give less (Dirichlet's principle). The truth lies
    between, and the mesh is divided where the two differ most until half the gap is within
    ``accuracy`` of the heat that flows, which is the error of the best answer at most. Any finer
    mesh gives an answer inside the bracket: so the standard's rule on doubling (heat within 1 %)
    holds with it. Its rule for the temperature factor (0.005 on doubling) is looked at beside.

    Where two airs of resistance 0 and of different temperature touch, heat has no limit and the
    bracket says so; the search ends at ``most_cells`` with ``met`` false, and temperatures away
    from there hold.

    Parameters
    ----------
    detail : Detail
        Boxes and airs [-].
    accuracy : float
        Greatest error of each flow, as a share of all heat that flows [-].
    most_cells : int, optional
        Cells at which the search ends [-].

    Returns
    -------
    Solution
        Flows in their bracket, coldest surfaces, temperatures, mesh [-].

    Raises
    ------
    InvalidInput
        If parts overlap airs, are hidden, cut off or touch nothing, or a number makes no sense.

    Examples
    --------
    >>> from evenfall.calc.physics.conduction import Box, Surround
    >>> board = Box("board", (0.0, 0.0), (1.0, 0.1), 0.025)
    >>> inside = Surround("inside", (0.0, -1.0), (1.0, 0.0), 20.0, 0.10)
    >>> outside = Surround("outside", (0.0, 0.1), (1.0, 1.0), 0.0, 0.04)
    >>> found = solve(Detail((board,), (inside, outside)))
    >>> round(found.flows["inside"].best, 6), round(20 / (0.10 + 4 + 0.04), 6)
    (4.830918, 4.830918)

    References
    ----------
    ISO 10211, numerical rules (from memory).
    """
    if not 0 < accuracy < 1:
        raise InvalidInput(f"accuracy {accuracy}", "a share between 0 and 1", where="solve")
    check(detail)
    most = most_cells or MOST_CELLS[detail.dimensions]
    mesh = painted(detail, graded(part_lines(detail), FIRST))
    steps: list[Refinement] = []
    coldest: dict[str, tuple[float, Place]] = {}
    while True:
        found = _solved(detail, mesh, steps, coldest, accuracy)
        steps, coldest = list(found.refinements), found.coldest
        if found.met or len(steps) >= ROUNDS:
            return found
        wanted = found.heat.half_width / max(accuracy * abs(found.heat.best), NO_HEAT)
        mesh = painted(detail, finer(found, wanted))
        if int(mesh.solid.sum()) > most:
            return found


def _solved(
    detail: Detail,
    mesh: Mesh,
    before: list[Refinement],
    coldest_before: dict[str, tuple[float, Place]],
    accuracy: float,
) -> Solution:
    """Solve one mesh both ways, and judge it."""
    volumes = finite_volume.network(detail, mesh)
    lower, cells = finite_volume.solved(volumes)
    nodes_of = elements.assembled(detail, mesh)
    nodes = elements.solved(nodes_of)
    upper = nodes_of.between(nodes)
    t = np.array(detail.temperatures)
    one = np.eye(len(t))
    flows = {name: heat_flow(lower, upper, one[n], t) for n, name in enumerate(detail.names)}
    heat = heat_flow(lower, upper, _giving(flows), t)
    if nodes_of.clash(t):
        flows = {name: flow.without_limit() for name, flow in flows.items()}
        heat = heat.without_limit()
    temperature = np.full(nodes_of.active.size, np.nan)
    # between the airs, as the true one is; long thin elements can overshoot a little
    temperature[nodes_of.active] = (nodes @ t).clip(t.min(), t.max())[nodes_of.active]
    temperature = temperature.reshape(nodes_of.shape)
    coldest = _coldest(detail, mesh, temperature)
    change = _change(coldest, coldest_before, float(np.ptp(t)))
    step = Refinement(int(mesh.solid.sum()), heat, change)
    of_cells = cells @ t
    laid = np.where(mesh.solid, of_cells.reshape(mesh.air.shape), np.nan)
    given = volumes.films * (t - of_cells[:, None])
    closure = float(abs(given.sum())) / max(abs(heat.best), NO_HEAT)
    met = (
        all(f.half_width <= accuracy * abs(heat.best) + NO_HEAT for f in flows.values())
        and bool(before)
        and step.cells >= 2 * before[-1].cells
        and change < iso_10211.DOUBLING_FACTOR
        and (closure <= iso_10211.CLOSURE or abs(heat.best) <= NO_HEAT)
    )
    return Solution(
        detail, flows, coldest, mesh, temperature, laid, lower, upper, (*before, step), closure, met
    )


def _giving(flows: dict[str, Bracket]) -> Floats:
    return np.array([1.0 if f.best > 0 else 0.0 for f in flows.values()])


def _coldest(detail: Detail, mesh: Mesh, temperature: Floats) -> dict[str, tuple[float, Place]]:
    found: dict[str, tuple[float, Place]] = {}
    values = temperature.reshape(-1)
    corners = [(f.name, nodes) for f in mesh.faces for nodes in elements.face_nodes(mesh, f)]
    of, nodes = (np.concatenate(part) for part in zip(*corners, strict=True))
    for n, name in enumerate(detail.names):
        own = nodes[of == n]
        least = int(own[np.argmin(values[own])])
        place = np.unravel_index(least, temperature.shape)
        at = tuple(float(x[i]) for x, i in zip(mesh.lines, place, strict=True))
        found[name] = (float(values[least]), at)
    return found


def _change(
    now: dict[str, tuple[float, Place]], before: dict[str, tuple[float, Place]], span: float
) -> float:
    if not before or span == 0:
        return 0.0
    return max(abs(now[name][0] - before[name][0]) for name in now) / span
