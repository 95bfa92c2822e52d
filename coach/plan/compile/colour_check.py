"""Whether a repeat brings the colours back, so that the next one can begin the same way."""

from itertools import groupby

from coach.board.board import Board
from coach.plan.compile.strands import Roster
from coach.project.model import Use
from coach.yaml_reader.diagnostics import Problems

_MOST_SHOWN = 12


def warn_unless_back(
    step: Use, boards: tuple[Board, Board], roster: Roster, problems: Problems
) -> bool:
    """Warn where the colours stand otherwise after a repeat than before; give whether not.

    Work that gained or lost strands in the repeat is not compared.
    """
    if boards[0].here == boards[1].here:
        return True
    colours = [list(map(roster.colours.__getitem__, board.here)) for board in boards]
    if len(colours[0]) != len(colours[1]) or colours[0] == colours[1]:
        return True
    before, after = (_cords(board, roster) for board in boards)
    what = "each pair of repeats" if step.mirror == "every second" else "each repeat"
    if step.returns_after:
        what = f"{step.returns_after} repeats"
    problems.warn(
        "RETURNS",
        step.about.span,
        f"after {what} of {step.part} the colours stand otherwise than before: "
        f"{_shown(before)} has become {_shown(after)}",
        "say `returns: after 4` if they come back after so many repeats",
    )
    return False


def _cords(board: Board, roster: Roster) -> list[str]:
    return [roster.strands[strand].cord for strand in board.here]


def _shown(cords: list[str]) -> str:
    """Return an order of cords in words, runs counted: `reed, 3 clay, reed`."""
    runs = [(cord, len(list(run))) for cord, run in groupby(cords)]
    words = [f"{count} {cord}" if count > 1 else cord for cord, count in runs]
    more = ", ..." if len(words) > _MOST_SHOWN else ""
    return ", ".join(words[:_MOST_SHOWN]) + more
