"""From a step and a board to lines of ties, and the windows that steps are worked in.

Repeated work comes back to the same boards, so lines and windows are cached by step and board.
"""

from collections.abc import Callable, Iterator
from typing import Any

from coach.board.board import Board
from coach.plan.compile.knot_lines import around_lines, gathering_lines, group_lines, net_lines
from coach.plan.compile.other_lines import (
    OwnKnots,
    add_lines,
    aside_lines,
    braid_lines,
    cross_lines,
    flip_lines,
    fold_back_lines,
    rigid_lines,
    seam_lines,
    space_lines,
    strand_lines,
    take_up_lines,
    turn_lines,
)
from coach.plan.compile.row_lines import row_lines
from coach.plan.compile.side_boards import Boards, attach_line, bring_down_line, end_for_end
from coach.plan.compile.step_context import StepContext, WorkLine, single_count
from coach.plan.compile.strands import Roster
from coach.project import model

_LINES: dict[type, Callable[[Any, StepContext], Iterator[WorkLine]]] = {
    model.Row: row_lines,
    model.GroupKnot: group_lines,
    model.AroundKnot: around_lines,
    model.Gathering: gathering_lines,
    model.Net: net_lines,
    model.Braid: braid_lines,
    model.Turn: turn_lines,
    model.Cross: cross_lines,
    model.Space: space_lines,
    model.Picot: strand_lines,
    model.Bead: strand_lines,
    model.Trim: strand_lines,
    model.Add: add_lines,
    model.LayAside: aside_lines,
    model.TakeUp: take_up_lines,
    model.Flip: flip_lines,
    model.Seam: seam_lines,
    model.RigidRow: rigid_lines,
    model.FoldBack: fold_back_lines,
}
_KEPT = 4096  # lines and windows remembered: work that repeats comes back to few of them
_KEPT_STRANDS = 1_000_000  # fewer where each board is broad, for their memory


class StepLines:
    """Compiles steps to lines, each step once for the same board."""

    def __init__(self, project: model.Project, roster: Roster, boards: Boards) -> None:
        """Set up for the steps of a project.

        Args:
            project: Has the maker's own knots.
            roster: Hands out strands that are added.
            boards: Keeps each board once, so that repeats meet the same one again.
        """
        self._roster = roster
        self._boards = boards
        self._own = OwnKnots(project.knots)
        self._worked: dict[tuple[int, Board], tuple[WorkLine, ...]] = {}
        self._entered: dict[tuple[Board, tuple[int, ...], bool], Board] = {}

    def lines(self, step: model.Step, board: Board) -> tuple[WorkLine, ...]:
        """Return a step's lines on a board, in order. Raises Misfit where it cannot be done."""
        known = self._worked.get((id(step), board))
        if known is not None:
            return known
        hands = StepContext(board, self._roster)
        match step:
            case model.EndForEnd():
                return (end_for_end(step, board, self._boards),)
            case model.Attach():
                return (attach_line(step, hands, self._boards),)
            case model.BringDown():
                return (bring_down_line(step, hands),)
            case model.OwnTied():
                found = tuple(self._own.lines(step, hands))
            case _:
                lines = _LINES.get(type(step))
                found = tuple(lines(step, hands) if lines else single_count(board))
        if self._may_keep(board) and not any(line.new_strands for line in found):
            self._worked[id(step), board] = found
        return found

    def window(self, board: Board, strands: tuple[int, ...], *, mirrored: bool) -> Board:
        """Return a window on strands of a board, named from its left; `mirrored` from the right.

        Args:
            board: The board, or a window on it.
            strands: The ids of those in the window, from the left of the board.
            mirrored: Whether the window counts them from the right.
        """
        known = self._entered.get((board, strands, mirrored))
        if known is None:
            known = board.enter(strands, mirrored=mirrored)
            if self._may_keep(board):
                self._entered[board, strands, mirrored] = known
        return known

    def _may_keep(self, board: Board) -> bool:
        most = min(_KEPT, _KEPT_STRANDS // (1 + len(board.whole)))
        return len(self._worked) + len(self._entered) < most
