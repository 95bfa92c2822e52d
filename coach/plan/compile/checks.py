"""Checks of compiled work: whether colours come back, and whether loops have room."""

from collections.abc import Iterator
from itertools import groupby
from typing import Final

from coach.board.board import Board
from coach.plan.compile.strands import Roster
from coach.plan.plan_model import Plan
from coach.project.model import FoldBack, Use
from coach.quantities.formatting import centimetres
from coach.yaml_reader.collector import quoted
from coach.yaml_reader.diagnostics import Problem

MOST_REPEATS: Final = 100  # within which it is reasonable that colours come back
_MOST_SHOWN: Final = 12


def repeats_a_round(step: Use) -> int:
    """Return how many repeats make one round of work: 2 if mirrored in pairs, else 1."""
    return 2 if step.mirror == "every second" else 1


def warn_unless_back(
    step: Use, boards: tuple[Board, Board], once: tuple[Board, Board], roster: Roster
) -> Problem | None:
    """Return a warning if the colours are in another order after a repeat, or None.

    Work that gained or lost strands is not compared.

    Args:
        step: What is repeated.
        boards: The boards before and after as many repeats as should put the colours back.
        once: Those before and after the first round, which every later one is like.
        roster: The strands with their cords.
    """
    if boards[0].here == boards[1].here:
        return None
    colours = [_colours(board, roster) for board in boards]
    if len(colours[0]) != len(colours[1]) or colours[0] == colours[1]:
        return None
    before, after = (_shown(_cords(board, roster)) for board in boards)
    round_, said = (
        ("each repeat", "each pair of repeats")[repeats_a_round(step) - 1],
        step.returns_after,
    )
    what = f"{said} repeats" if said and said > repeats_a_round(step) else round_
    message = (
        f"After {what} of {quoted(step.part)} the colours stand differently: "
        f"{before} has become {after}."
    )
    return Problem("RETURNS", step.about.span, message, _advice(step, once, roster), "warning")


def _advice(step: Use, once: tuple[Board, Board], roster: Roster) -> str:
    """Return the hint: after how many repeats the colours are back, if ever."""
    if set(once[0].here) != set(once[1].here):
        return f"Let {quoted(step.part)} end with its colours as they began."
    rounds = _rounds_until_back(once, roster, repeats_a_round(step))
    if not rounds:
        return (
            f"They are not back within {MOST_REPEATS} repeats. Look for a strand that "
            f"{quoted(step.part)} leaves in the wrong place."
        )
    repeats = rounds * repeats_a_round(step)
    if step.returns_after:
        return f"They are back after {repeats} repeats: write ‘returns: after {repeats}’."
    return (
        f"They are back after {repeats} repeats: add ‘returns: after {repeats}’ if you mean that."
    )


def _rounds_until_back(once: tuple[Board, Board], roster: Roster, unit: int) -> int:
    """Return after how many rounds like this the colours are back, 0 if too many."""
    begun = now = _colours(once[0], roster)
    came_from = [once[0].here.index(strand) for strand in once[1].here]
    for rounds in range(1, MOST_REPEATS // unit + 1):
        now = [now[place] for place in came_from]
        if now == begun:
            return rounds
    return 0


def _colours(board: Board, roster: Roster) -> list[str]:
    return [roster.colours[strand] for strand in board.here]


def _cords(board: Board, roster: Roster) -> list[str]:
    return [roster.strands[strand].cord for strand in board.here]


def _shown(cords: list[str]) -> str:
    """Return an order of cords in words, runs counted: `reed, 3 clay, reed`."""
    runs = [(cord, len(list(run))) for cord, run in groupby(cords)]
    words = [f"{count} {cord}" if count > 1 else cord for cord, count in runs]
    more = ", ..." if len(words) > _MOST_SHOWN else ""
    return ", ".join(words[:_MOST_SHOWN]) + more


def folded_too_far(plan: Plan) -> Iterator[Problem]:
    """Yield a problem for each loop that is longer than the work that it is folded back along."""
    for step in plan.steps:
        source = step.source
        if not isinstance(source, FoldBack):
            continue
        made_mm = plan.height_mm[step.first]
        if source.loop_mm > made_mm:
            message = (
                f"A loop of {centimetres(source.loop_mm)} is folded back along "
                f"{centimetres(round(made_mm))} of work."
            )
            hint = f"Fold back after more work, or write at most ‘loop: {int(made_mm)} mm’."
            yield Problem("FOLD-BACK", source.about.span, message, hint)
