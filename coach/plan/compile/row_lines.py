"""Rows and weaves: one strand goes across others, and each meeting is a tie."""

from collections.abc import Iterator

from coach.board.permutations import travel
from coach.knots.catalogue import passes
from coach.knots.names import REVERSE_CLOVE
from coach.plan.compile.step_context import Hands, Line, refuse
from coach.plan.compile.step_error import placed
from coach.plan.steps import Role
from coach.project.model import Row


def row_lines(step: Row, hands: Hands) -> Iterator[Line]:
    """Yield the one line of a row or weave. Raises Misfit."""
    hands.one(step.mover)  # its own place in the file, if it is off the board
    across = None if step.across.everything else step.across.items
    with placed(step.across.span):
        gone = travel(hands.board, step.mover.items[0], across, hands.roster.name)
    knots = _knots(step, len(gone.crossed))
    made = {
        knot: hands.roster.meetings(hands.knot(knot), gone.mover, _holds(step, knot), passes(knot))
        for knot in set(knots)
    }
    ties = [made[knot][crossed] for knot, crossed in zip(knots, gone.crossed, strict=True)]
    if step.times > 1:
        ties = [tie for tie in ties for _ in range(step.times)]
    role: Role = "weave" if step.weave else "row"
    group = (gone.mover, *gone.crossed)
    yield Line(role, gone.board, tuple(ties), (group,), gone.mover, gone.direction)


def _knots(step: Row, crossed: int) -> tuple[str, ...]:
    """Return the knot at each crossed strand. Raises Misfit where a weave's do not add up."""
    if not step.weave:
        return step.knots * crossed
    if len(step.knots) != crossed:
        message = f"the knots are {len(step.knots)} and the strands across are {crossed}"
        raise refuse("WEAVE", step.across.span, message, "one knot for each strand crossed")
    return step.knots


def _holds(step: Row, knot: str) -> bool:
    return knot != REVERSE_CLOVE if step.weave else step.mover_holds
