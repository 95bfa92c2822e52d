"""What earlier pieces teach the next one: paces, compression and slack, by knot and cord."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import islice
from typing import Final, TypeAlias

from coach.pace.cord import Figure, carried
from coach.pace.data import sound
from coach.pace.estimate import Paces, beginning, new_piece
from coach.pace.gaussian import Belief
from coach.piece.events import Measured
from coach.piece.judge import passes
from coach.piece.learning.beliefs import Beliefs
from coach.piece.learning.estimates import Known, known
from coach.piece.open_piece import begun_plan, followed
from coach.piece.piece_errors import PieceError
from coach.piece.state import State
from coach.piece.storage.read_piece import stands
from coach.piece.storage.store import Store
from coach.plan.compile.compiler import compile_project
from coach.plan.measure.tension import NOMINAL, prior_sd
from coach.plan.plan_model import Plan
from coach.project.model import Project

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


def carry_over(
    store: Store, project: Project, plan: Plan | None = None, skill: str = ""
) -> Carried:
    """Return what the maker's earlier pieces teach about a project's cords and knots.

    Paces are those of the piece touched last, which itself began with what was known before it.
    A piece that cannot be read, was left out or holds what cannot be teaches nothing; without
    any, the maker's skill is all there is.

    Args:
        store: Where the earlier pieces are kept.
        project: The project of the piece to come.
        plan: Its plan, where it is compiled already.
        skill: How used the maker says her hands are to knotting.
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
    plain = {figure: Belief(NOMINAL.figure(figure), prior_sd(figure)) for figure in learnt}
    known = new_piece(paces, elsewhere) if paces else beginning(skill)
    return Carried(known, carried(learnt, plain), tuple(names))


def _paces(state: State) -> Paces | None:
    """Return the paces that a piece ended with, None where it has learnt nothing of use."""
    paces = state.paces
    return paces if (paces.looks or paces.open) and sound(paces) else None


def kind_of(project: Project, cord: str) -> Kind:
    """Return by what a project's cord is known again."""
    return project.cords[cord].fibre.casefold(), round(project.cords[cord].diameter_mm, 2)


def _pasts(store: Store) -> Iterator[_Past]:
    for piece in store.pieces():
        try:
            state = stands(store, piece)
        except PieceError:
            continue
        if not state.teaches or not passes(state.happenings):
            continue
        plan = begun_plan(state)
        yield _Past(piece.name, state, plan.project if plan else None, plan)


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
    found = _known(past)
    if found is None or found.wild:
        return past.state.beliefs
    told = {f: b for f, b in found.learnt.beliefs.items() if found.is_told(f)}
    return {**past.state.beliefs, **told}


def _known(past: _Past) -> Known | None:
    """Return what is known of an earlier piece, None where it cannot be followed any more."""
    plan = followed(past.plan, past.state)
    if past.plan is None or plan is None:
        return None
    return known(past.plan, past.state.happenings, past.state.beliefs, plan)
