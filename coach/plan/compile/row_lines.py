"""Lines of rows and weaves: one strand crosses others, and ties at each of them."""

from collections.abc import Iterator
from itertools import pairwise

from coach.board.board_errors import BoardError
from coach.board.permutations import Travel, travel
from coach.knots.catalogue import pass_count
from coach.knots.names import REVERSE_CLOVE
from coach.plan.compile.step_context import StepContext, WorkLine, placed, refuse
from coach.plan.steps import Role
from coach.project.model import Row
from coach.text import join_words


def row_lines(step: Row, hands: StepContext) -> Iterator[WorkLine]:
    """Yield the one line of a row or weave. Raises Misfit."""
    hands.one(step.mover)  # its own place in the file, if it is off the board
    across = None if step.across.everything else step.across.items
    with placed(step.across.span):
        gone = _gone(step, hands, across)
    knots = _knots(step, len(gone.crossed))
    made = {
        knot: hands.roster.meetings(
            hands.knot(knot), gone.mover, _holds(step, knot), pass_count(knot)
        )
        for knot in set(knots)
    }
    ties = [made[knot][crossed] for knot, crossed in zip(knots, gone.crossed, strict=True)]
    if step.times > 1:
        ties = [tie for tie in ties for _ in range(step.times)]
    role: Role = "weave" if step.weave else "row"
    group = (gone.mover, *gone.crossed)
    yield WorkLine(role, gone.board, tuple(ties), (group,), gone.mover, gone.direction)


def _gone(step: Row, hands: StepContext, across: tuple[int, ...] | None) -> Travel:
    """Move the mover across the others. Raises BoardError, or Misfit if it would cross itself."""
    mover = step.mover.items[0]
    try:
        return travel(hands.board, mover, across, hands.roster.name)
    except BoardError:
        own = hands.board.place(mover)
        places = hands.board.places(across or ())
        if across is None or own not in places:
            raise
        hint = _other_than(mover, across, places.index(own))
        message = f"Strand {mover} {_role(step)}, so it cannot be crossed as well."
        raise refuse("ACROSS", step.across.span, message, hint) from None


def _role(step: Row) -> str:
    if step.weave:
        return "weaves this row"
    return f"is the {'holder' if step.mover_holds else 'knotter'} of this row"


def _other_than(mover: int, across: tuple[int, ...], own: int) -> str:
    """Return the hint for a row that names its own mover: which strands it could cross."""
    runs = (across[own + 1 :], across[:own][::-1], across[:own])
    beside = [run for run in runs if run and abs(run[0] - mover) == 1]
    offers = dict.fromkeys(f"‘across: {_span(run)}’" for run in beside)
    return f"Write {join_words(tuple(offers), 'or')}." if offers else "Name the strands beside it."


def _span(positions: tuple[int, ...]) -> str:
    """Return positions as a project file writes them: `2-8`, `7-1` or `[1, 3]`."""
    steps = {after - before for before, after in pairwise(positions)}
    if len(positions) > 1 and steps in ({1}, {-1}):
        return f"{positions[0]}-{positions[-1]}"
    return str(positions[0]) if len(positions) == 1 else str(list(positions))


def _knots(step: Row, crossed: int) -> tuple[str, ...]:
    """Return the knot at each crossed strand. Raises Misfit where a weave's do not add up."""
    if not step.weave:
        return step.knots * crossed
    if len(step.knots) != crossed:
        message = f"{len(step.knots)} knots are given for {crossed} strands."
        raise refuse("WEAVE", step.across.span, message, "Give one knot for each strand crossed.")
    return step.knots


def _holds(step: Row, knot: str) -> bool:
    return knot != REVERSE_CLOVE if step.weave else step.mover_holds
