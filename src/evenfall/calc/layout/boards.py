"""Board plans: insulation boards laid in courses over a roof, and sawn out of real boards.

A quick answer and a searched one; both keep the rules where a plan that keeps them is found, and
list what they break where not. All sizes in whole millimetres. A roof, its quarter turns and its
mirror images get the same plan.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from shapely import Polygon

from evenfall.calc.layout.board_bound import fewest_boards
from evenfall.calc.layout.board_lines import edges_kept, uneven_lines
from evenfall.calc.layout.board_plan import BoardPiece, BoardPlan, BoardRules
from evenfall.calc.layout.board_search import search
from evenfall.calc.layout.board_settings import (
    Setting,
    Terms,
    Under,
    first_courses,
    set_at,
    setting,
    sides_to_try,
)
from evenfall.calc.layout.courses import Ring, roof_less_openings, turned
from evenfall.calc.layout.laid_boards import Laid, drawn
from evenfall.calc.layout.roof_images import Image, image
from evenfall.errors import InvalidInput

__all__ = ["BoardPiece", "BoardPlan", "BoardRules", "plan_boards"]

DEFAULT_RULES = BoardRules()
STEPS = 16_000  # beginnings looked at by the searched answer
MENDING = 12_000  # the same, where an answer breaks a rule and is looked for the other way: quick
# after the searched one, searched after the quick one
MANY = 1000  # all settings
QUICK = ((MANY, 1, 5), (3, 4, 16))  # the quick answer, in turn: settings, plans kept, beginnings
# tried for each course; the second turn only where the first breaks a rule
STAGES = ((MANY, 1, 5), (10, 4, 10), (2, 10, 20))  # the searched answer, in turn
SAWS_QUICK = 6  # ways of sawing tried
SAWS_CLOSE = 24  # the same, for the searched answer
FINALISTS = 8  # plans drawn out and compared, after each turn
PAIRED_QUICK = 5  # settings a side of a first layer under a second, for the quick answer
UNEVEN_QUICK = 2  # settings with uneven courses, where no even ones keep the rules
UNEVEN = 8  # the same, for the searched answer
SECOND_QUICK = 6  # first courses of a second layer, for the quick answer


def plan_boards(
    outline: Ring,
    holes: Sequence[Ring],
    board: tuple[int, int],
    rules: BoardRules = DEFAULT_RULES,
    *,
    quick: bool = False,
    layers: int = 1,
    share: bool = True,
    steps: int = STEPS,
) -> BoardPlan:
    """Lay boards in courses over a roof and saw the pieces out of as few boards as found.

    Parameters
    ----------
    outline : tuple of (int, int)
        Corners of the roof; a simple polygon, square or not [mm].
    holes : sequence of tuple
        Openings where no board lies [mm].
    board : tuple of int
        Length and width of a board; the courses are as wide as it [mm].
    rules : BoardRules
        Smallest pieces, shift of joints, saw cut [mm].
    quick : bool
        Only the likeliest beginnings; more of them only while a rule is broken [-].
    layers : int
        One layer, or two with their joints apart [-].
    share : bool
        Whether both layers are of one thickness, so that they may share a board [-].
    steps : int
        Most beginnings to be looked at in each layer; what is begun is finished [-].

    Returns
    -------
    BoardPlan
        Pieces in the order of laying, boards with their saw cuts, bound, breaches [mm].

    Examples
    --------
    >>> roof = ((0, 0), (7000, 0), (7000, 3000), (3500, 3000), (3500, 5600), (0, 5600))
    >>> plan = plan_boards(roof, [], (2400, 1200), quick=True)
    >>> plan.boards_bought, plan.lower_bound, plan.breaches
    (11, 11, ())
    """
    _check(board, rules, layers)
    roof_less_openings(outline, holes)
    seen = image(outline, holes)
    parts = roof_less_openings(seen.outline, seen.holes)
    terms = Terms(
        max(board), min(board), rules.min_piece, rules.min_perimeter_piece, rules.stagger,
        rules.kerf, rules.layer_offset,
    )  # fmt: skip
    task = _Task(seen.outline, tuple(parts), terms, layers, share)
    plan = task.lay(steps, quick=quick)
    if plan.breaches:  # the other way of looking may find one that breaks none
        closer = task.lay(min(steps, MENDING), quick=not quick, any_clean=True)
        plan = replace(min(plan, closer, key=_rank), steps=plan.steps + closer.steps)
    return _as_asked(plan, seen, outline)


def _check(board: tuple[int, int], rules: BoardRules, layers: int) -> None:
    if min(rules.min_piece, rules.min_perimeter_piece) <= 0 or min(rules.stagger, rules.kerf) < 0:
        raise InvalidInput(f"{rules}", "pieces above 0, saw cut and shift not below", where="rules")
    if min(board) <= max(rules.min_perimeter_piece, rules.min_piece, rules.kerf):
        raise InvalidInput(
            f"board {board}", "a board wider than the smallest piece and the saw cut",
            where="board", do="take a larger board, or allow smaller pieces",
        )  # fmt: skip
    if layers not in (1, 2):
        raise InvalidInput(f"{layers} layers", "1 or 2", where="layers")


def _as_asked(plan: BoardPlan, seen: Image, outline: Ring) -> BoardPlan:
    """Return the plan of an image to the roof that was asked."""
    corners = [*seen.outline, seen.outline[0]]
    ends = set(seen.back(corners[plan.side : plan.side + 2]))
    side = next(i for i, e in enumerate(pairwise((*outline, outline[0]))) if set(e) == ends)
    pieces = tuple(
        replace(p, polygon=seen.back(p.polygon), cutouts=tuple(seen.back(c) for c in p.cutouts))
        for p in plan.pieces
    )
    return replace(plan, side=side, along=seen.vector(plan.along), pieces=pieces)


@dataclass(frozen=True, slots=True)
class _Task:
    """What is to be laid: the roof, board and rules, layers, and whether these share boards."""

    outline: Ring
    parts: tuple[Polygon, ...]
    terms: Terms
    layers: int
    share: bool

    def lay(self, steps: int, *, quick: bool, any_clean: bool = False) -> BoardPlan:
        """Lay one layer after the other, each on the best found for the one below."""
        terms, area = self.terms, round(sum(p.area for p in self.parts))
        size = (terms.length, terms.width)
        below: tuple[Laid, ...] = ()
        taken = 0
        for number in range(1, self.layers + 1):
            together, times = (number, 1) if self.share else (1, number)
            bound = times * fewest_boards(self.outline, self.parts, size, terms.kerf, together)
            hunt = _Hunt(
                terms, bound, number * area, quick, below, self.share, quick or any_clean
            )  # fmt: skip
            if below:
                settings = _second(below[-1], quick=quick)
            else:
                settings = _settings(
                    self.outline, self.parts, terms, quick=quick, paired=self.layers > 1
                )  # fmt: skip
            plan, laid = hunt.best(settings, steps)
            below, taken = (*below, laid), taken + hunt.taken
        return replace(plan, steps=taken)


@dataclass(slots=True)
class _Hunt:
    """The search for one layer over all settings: the best plan so far, and what it took."""

    terms: Terms
    bound: int
    area: int
    quick: bool
    below: tuple[Laid, ...]
    share: bool
    any_clean: bool  # stop at a plan that breaks no rule
    plan: BoardPlan | None = None
    laid: Laid | None = None
    taken: int = 0

    def best(self, settings: list[Setting], steps: int) -> tuple[BoardPlan, Laid]:
        """Look quickly at all settings, then ever more closely at the best while steps last."""
        ways = settings
        for kept, beam, starts in QUICK if self.quick else STAGES:
            if self.plan is not None and (self._enough or self.taken >= steps):
                break
            found: list[Laid] = []
            for one in ways[:kept]:
                if self.taken >= steps and found:
                    break
                states, used = search(one, beam, starts, max(steps - self.taken, 0))
                found += [Laid(one, state) for state in states[:2]]
                self.taken += used
            found.sort(key=_promise)
            drawn_out = found[: 2 if self.quick else FINALISTS]
            plainest = min(found, key=_plainness)
            self._draw(drawn_out if plainest in drawn_out else [*drawn_out, plainest])
            ways = list({id(one): one for one, _ in found}.values())
        assert self.plan is not None
        assert self.laid is not None
        return self.plan, self.laid

    @property
    def proven(self) -> bool:
        """Whether no plan can do with fewer boards."""
        return self.plan is not None and not self.plan.breaches and self.plan.proven

    @property
    def _enough(self) -> bool:
        """Whether to stop: a proof; or, if that is all that is asked, a plan without a breach."""
        return self.proven or (self.any_clean and self.plan is not None and not self.plan.breaches)

    def _draw(self, found: list[Laid]) -> None:
        saws = SAWS_QUICK if self.quick else SAWS_CLOSE
        for laid in found:
            plan = drawn((*self.below, laid), self.bound, self.area, saws, share=self.share)
            if self.plan is None or _rank(plan) < _rank(self.plan):
                self.plan, self.laid = plan, laid


def _rank(plan: BoardPlan) -> tuple[int, int, int, int]:
    return len(plan.breaches), plan.boards_bought, plan.cuts, len(plan.pieces)


def _promise(found: Laid) -> tuple[int, int, float, int]:
    state = found.state
    largest = max((l * w for l, w in state.free), default=0)
    return state.breaches, state.boards, -largest, state.pieces


def _plainness(found: Laid) -> tuple[int, int, int]:
    state = found.state
    return state.breaches, state.boards, state.pieces


def _settings(
    outline: Ring, parts: Sequence[Polygon], terms: Terms, *, quick: bool, paired: bool
) -> list[Setting]:
    """Every direction with every first course worth trying."""
    settings, spare = list[Setting](), list[Setting]()
    for side in sides_to_try(outline, quick=quick):
        roof = turned(parts, outline[side], outline[(side + 1) % len(outline)])
        widths = first_courses(roof, terms, quick=quick and not paired)
        own = [setting(side, roof, terms, first) for first in widths]
        own = _uneven(own, UNEVEN_QUICK if quick else UNEVEN) + own
        paired_up = [one for one in own if not paired or _has_partner(one, own)]
        most = PAIRED_QUICK if quick and paired else len(own)
        settings += paired_up[:most]
        spare += own[:most]
    return settings or spare


def _uneven(even: Sequence[Setting], most: int) -> list[Setting]:
    """List settings with courses of uneven width, where no even ones keep off all level edges."""
    one = even[0]
    if any(edges_kept(one.roof, one.terms, other.lines) for other in even):
        return []
    below = one.under.lines if one.under else ()
    ways = uneven_lines(one.roof, one.terms, most, below)
    return [set_at(one.side, one.roof, one.terms, lines, one.under) for lines in ways]


def _has_partner(one: Setting, others: Sequence[Setting]) -> bool:
    """Tell whether a second layer can lie on one with all lines between courses apart."""
    return any(
        all(abs(y - z) >= one.terms.offset for y in one.lines for z in other.lines)
        for other in others
    )


def _second(below: Laid, *, quick: bool) -> list[Setting]:
    """List the settings of a second layer: it follows the side that the first follows."""
    lower, under = below.setting, _under(below)
    made = [
        setting(lower.side, lower.roof, lower.terms, first, under)
        for first in first_courses(lower.roof, lower.terms, quick=False)
    ]
    made = _uneven(made, UNEVEN) + made
    made.sort(key=lambda s: len(s.near_lines))
    return made[:SECOND_QUICK] if quick else made


def _under(laid: Laid) -> Under:
    """Gather the lines of the courses of a layer, and its joints with their ends."""
    one, joints = laid.setting, iter(laid.state.joints)
    found = []
    for course in one.courses:
        for run in course:
            found += [(x, run.y0, run.y1) for x in next(joints)]
    return Under(one.lines, tuple(found))
