"""What earlier pieces teach the next one: paces, compression and slack, by knot and cord."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import islice
from typing import Final, TypeAlias

from coach.pace.cord import Figure, carried
from coach.pace.estimate import Paces, beginning, new_piece
from coach.pace.gaussian import Belief
from coach.piece.changes.effective_plan import fitted
from coach.piece.changes.repeats import CannotFollow
from coach.piece.events import Measured
from coach.piece.learning.beliefs import Beliefs
from coach.piece.learning.estimates import Known, hands_of, known
from coach.piece.piece_errors import PieceError
from coach.piece.state import State
from coach.piece.storage.read_piece import stands
from coach.piece.storage.store import Store
from coach.plan.compile.compiler import compile_project
from coach.plan.measure.tension import NOMINAL, prior_sd
from coach.plan.plan_model import Plan, remeasured
from coach.project.model import Project
from coach.project.read import read_project

MOST: Final = 20
"""Pieces that are looked at, the last touched first."""

Kind: TypeAlias = tuple[str, float]
"""By which a cord is known again: its fibre, and its diameter in mm."""


@dataclass(frozen=True, slots=True)
class Carried:
    """The paces and beliefs that a piece begins with, and from which pieces the latter come."""

    paces: Paces
    beliefs: Beliefs
    pieces: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Past:
    name: str
    state: State
    project: Project | None
    plan: Plan | None


def carry_over(store: Store, project: Project, skill: str = "") -> Carried:
    """Return what the maker's earlier pieces teach about a project's cords and knots.

    Paces are those of the piece touched last, which itself began with what was known before it.
    A piece that cannot be read teaches nothing; without any, the maker's skill is all there is.
    """
    paces: Paces | None = None
    learnt: dict[Figure, Belief] = {}
    names: list[str] = []
    plan = compile_project(project).plan
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
    plain = {figure: Belief(NOMINAL.figure(figure), prior_sd(figure)) for figure in learnt}
    known = new_piece(paces, elsewhere) if paces else beginning(skill)
    return Carried(known, carried(learnt, plain), tuple(names))


def _paces(state: State) -> Paces | None:
    """Return the paces that a piece ended with, None where it has learnt nothing."""
    return state.paces if state.paces.looks or state.paces.open else None


def in_hands(plan: Plan, beliefs: Beliefs) -> Plan:
    """Return a plan in the hands that beliefs take for likely."""
    return remeasured(plan, hands_of(beliefs)) if beliefs else plan


def known_of(state: State) -> Known | None:
    """Return what is known of a kept piece, None where its project cannot be read any more."""
    plan = _begun(state)
    if plan is None:
        return None
    try:
        return known(in_hands(plan, state.beliefs), state.happenings, state.beliefs)
    except CannotFollow:
        return None


def kind_of(project: Project, cord: str) -> Kind:
    """Return by what a project's cord is known again."""
    return project.cords[cord].fibre.casefold(), round(project.cords[cord].diameter_mm, 2)


def _pasts(store: Store) -> Iterator[_Past]:
    for piece in store.pieces():
        try:
            state = stands(store, piece)
        except PieceError:
            continue
        plan = _begun(state)
        yield _Past(piece.name, state, plan.project if plan else None, plan)


def _begun(state: State) -> Plan | None:
    """Return the plan that a piece began with, fitted as it was, in usual hands."""
    project = read_project(state.project_text).project
    plan = compile_project(project).plan if project else None
    try:
        return fitted(plan, state.happenings) if plan else None
    except CannotFollow:
        return None


def _cords_of_knots(plan: Plan) -> Mapping[str, frozenset[Kind]]:
    """Return in which cords each knot is tied."""
    cords: dict[str, set[str]] = {}
    for count in plan.counts:
        cords.setdefault(count.knot, set()).update(plan.strands[s].cord for s in count.knotters)
    return {
        knot: frozenset(kind_of(plan.project, cord) for cord in names)
        for knot, names in cords.items()
    }


def _figures(past: _Past, project: Project) -> dict[Figure, Belief]:
    """Return what a piece knew at its end of the cords that a project has too."""
    beliefs = _beliefs(past)
    if past.project is None or not beliefs:
        return {}
    found: dict[Figure, Belief] = {}
    for cord in project.cords:
        for (other, knot), belief in beliefs.items():
            same = other in past.project.cords and (
                kind_of(past.project, other) == kind_of(project, cord)
            )
            before = found.get((cord, knot))
            if same and (before is None or belief.sd < before.sd):
                found[cord, knot] = belief
    return found


def _beliefs(past: _Past) -> Beliefs:
    """Return what its measures showed, or else what it was begun with."""
    if not any(isinstance(happening, Measured) for happening in past.state.happenings):
        return past.state.beliefs
    found = known_of(past.state)
    if found is None:
        return past.state.beliefs
    told = {f: b for f, b in found.learnt.beliefs.items() if found.is_told(f)}
    return {**past.state.beliefs, **told}
