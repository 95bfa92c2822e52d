"""Carrying paces, compression and slack over from earlier pieces to the next one."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import islice
from typing import Final, TypeAlias

from coach.pace.cord_learning import Figure, for_next_piece
from coach.pace.estimate import Paces, initial_paces, new_piece
from coach.pace.gaussian import Belief
from coach.pace.pace_json import sound
from coach.piece.beliefs import Beliefs, Shared, shared
from coach.piece.event_bounds import all_pass
from coach.piece.events import Measured
from coach.piece.learning.estimates import Known, estimates_of
from coach.piece.open_piece import begun_plan, followed_plan
from coach.piece.piece_errors import PieceError
from coach.piece.state import State
from coach.piece.storage.read_piece import read_state
from coach.piece.storage.store import Store
from coach.plan.compile.compiler import compile_project
from coach.plan.doubt.doubt import prior_sd
from coach.plan.plan_model import Plan
from coach.plan.tension import usual_hands
from coach.project.model import Project

MOST: Final = 20
"""Pieces that are looked at, the last touched first."""

Kind: TypeAlias = tuple[str, float]
"""By which a cord is known again: its fibre, and its diameter in mm."""


@dataclass(frozen=True, slots=True)
class PriorLearning:
    """The paces and beliefs that a piece begins with, and the pieces these come from."""

    paces: Paces
    beliefs: Beliefs
    pieces: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Past:
    name: str
    state: State
    project: Project | None
    plan: Plan | None


def carry_over(
    store: Store, project: Project, plan: Plan | None = None, skill: str = ""
) -> PriorLearning:
    """Return what the maker's earlier pieces teach about a project's cords and knots.

    Paces are those of the piece touched last, which itself began with what was known before it.
    A piece that cannot be read, was left out or holds impossible figures teaches nothing; without
    any, the maker's skill is all there is.

    Args:
        store: The store of pieces.
        project: The project of the piece to come.
        plan: Its plan, if it is compiled already.
        skill: The skill that the maker states.
    """
    paces: Paces | None = None
    learnt: dict[Figure, Belief] = {}
    names: list[str] = []
    plan = plan or compile_project(project).plan
    elsewhere = dict(_cords_of_knots(plan)) if plan else {}
    for past in islice(_pasts(store), MOST):
        paces = paces or _paces(past.state)
        for knot, cords in _cords_of_knots(past.plan).items() if past.plan else ():
            if elsewhere.get(knot, frozenset()) & cords:
                del elsewhere[knot]
        found = _figures(past, project)
        if any(figure not in learnt for figure in found):
            names.append(past.name)
        learnt = {**found, **learnt}
    known = new_piece(paces, elsewhere) if paces else initial_paces(skill)
    return PriorLearning(known, starting_beliefs(project, learnt), tuple(names))


def _paces(state: State) -> Paces | None:
    """Return the paces that a piece ended with, None where it has learnt nothing useful."""
    paces = state.paces
    return paces if (paces.looks or paces.open) and sound(paces) else None


def starting_beliefs(project: Project, learnt: Beliefs) -> dict[Figure, Belief]:
    """Return what was learnt of a project's cords and knots, as a prior for the next piece."""
    usual = usual_hands(project)
    plain = {f: Belief(usual.figure(f), prior_sd(project, f)) for f in learnt}
    return for_next_piece(learnt, plain)


def kind_of(project: Project, cord: str) -> Kind:
    """Return the key by which a project's cord is matched with those of other pieces."""
    return project.cords[cord].fibre.casefold(), round(project.cords[cord].diameter_mm, 2)


def _pasts(store: Store) -> Iterator[_Past]:
    for piece in store.pieces():
        try:
            state = read_state(store, piece)
        except PieceError:
            continue
        if not state.teaches or not all_pass(state.happenings):
            continue
        plan = begun_plan(state)
        yield _Past(piece.name, state, plan.project if plan else None, plan)


def _cords_of_knots(plan: Plan) -> Mapping[str, frozenset[Kind]]:
    """Return the cords in which each knot is tied."""
    cords: dict[str, set[str]] = {}
    for count in plan.counts:
        cords.setdefault(count.knot, set()).update(plan.strands[s].cord for s in count.knotters)
    return {
        knot: frozenset(kind_of(plan.project, cord) for cord in names)
        for knot, names in cords.items()
    }


def _figures(past: _Past, project: Project) -> dict[Figure, Belief]:
    """Return what a piece knew at its end about cords that a project has too."""
    beliefs = _beliefs(past)
    if past.project is None or not beliefs:
        return {}
    names = _same_cords(project, past.project, beliefs)
    known = {(cord, knot): (names[cord], knot) for cord in names for _, knot in beliefs}
    found = {figure: other for figure, other in known.items() if other in beliefs}
    return {figure: _renamed(beliefs[other], found) for figure, other in found.items()}


def _same_cords(project: Project, past: Project, beliefs: Beliefs) -> dict[str, str]:
    """Return which of a piece's cords each cord of a project is matched with.

    Each of the piece's cords is used once, the one of the same name first, so that the correlations
    it left still hold; a further cord follows those that are known.
    """
    known = dict.fromkeys(cord for cord, _ in beliefs if cord in past.cords)
    names: dict[str, str] = {}
    for cord in project.cords:
        alike = [other for other in known if kind_of(past, other) == kind_of(project, cord)]
        free = [o for o in alike if o == cord or o not in {*project.cords, *names.values()}]
        if free:
            names[cord] = cord if cord in free else free[0]
    return names


def _renamed(belief: Belief, names: Mapping[Figure, Figure]) -> Belief:
    """Return a belief with its correlated figures renamed for another project."""
    if not isinstance(belief, Shared):
        return belief
    together = {
        figure: belief.together[known] for figure, known in names.items()
        if known in belief.together
    }  # fmt: skip
    return replace(belief, together=together)


def _beliefs(past: _Past) -> Beliefs:
    """Return what its measures showed, or else its prior."""
    if not any(isinstance(happening, Measured) for happening in past.state.happenings):
        return past.state.beliefs
    found = _known(past)
    if found is None or found.wild:
        return past.state.beliefs
    told = [figure for figure in found.learnt.unknowns if found.is_told(figure)]
    return {**past.state.beliefs, **shared(found.learnt, told)}


def _known(past: _Past) -> Known | None:
    """Return what is known of an earlier piece, None where it can no longer be followed."""
    plan = followed_plan(past.plan, past.state)
    if past.plan is None or plan is None:
        return None
    return estimates_of(past.plan, past.state.happenings, past.state.beliefs, plan)
