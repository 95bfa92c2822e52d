"""Lines of strands hitched onto something rigid, folded back, and of the maker's own knots."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from coach.board.board import Order
from coach.board.board_errors import TooFew
from coach.knots.catalogue import passes
from coach.plan.compile.step_context import StepContext, WorkLine, plain
from coach.plan.compile.step_error import placed
from coach.plan.steps import Count, Direction
from coach.project.model import FoldBack, OwnKnot, OwnTied, RigidRow


def rigid_lines(step: RigidRow, hands: StepContext) -> Iterator[WorkLine]:
    """Yield the one line of strands hitched onto something rigid; they keep their order."""
    strands = hands.strands(step.across)
    tie = (hands.knot(step.knot), passes(step.knot))
    ties = tuple(
        Count(tie[0], (strand,), (), tie[1]) for strand in strands for _ in range(step.times)
    )
    groups = tuple((strand,) for strand in strands)
    yield WorkLine("knot", hands.board, ties, groups, direction=_way(strands, hands))


def _way(strands: Order, hands: StepContext) -> Direction:
    """Return which way a row is worked, from its first strand and its last."""
    at = hands.board.whole.index
    return "left" if at(strands[-1]) < at(strands[0]) else "right"


def fold_back_lines(step: FoldBack, hands: StepContext) -> Iterator[WorkLine]:
    """Return the line of strands folded back; they keep their places."""
    return plain(hands.board, hands.from_left(step.strands))


@dataclass(frozen=True, slots=True)
class OwnKnots:
    """Compiles the maker's own knots, by name."""

    knots: Mapping[str, OwnKnot]

    def lines(self, step: OwnTied, hands: StepContext) -> Iterator[WorkLine]:
        """Yield the one line of a knot tied in each group. Raises Misfit."""
        knot, board = self.knots[step.knot], hands.board
        groups = hands.groups(step.groups)
        ties: list[Count] = []
        for group, member in zip(groups, step.groups.members, strict=True):
            if len(group) != knot.strands:
                with placed(member.span):
                    raise TooFew(knot.name, f"{knot.strands} strands", len(group))
            now = group
            for _ in range(step.times):
                ties.append(Count(knot.name, now, (), knot.passes))
                now = reordered(now, knot.order, mirrored=board.mirrored)
            board = board.refill(group, now)
        yield WorkLine("knot", board, tuple(ties), groups)


def reordered(group: Order, order: tuple[int, ...], *, mirrored: bool) -> Order:
    """Return a group's strands in their order below an own knot.

    Args:
        group: The strands above it, in the window's order.
        order: The old positions in their new order, from the left; (0,) reverses them.
        mirrored: Whether positions count from the right.
    """
    if not order:
        return group
    if order == (0,):
        return group[::-1]
    own = group[::-1] if mirrored else group
    new = tuple(own[place - 1] for place in order)
    return new[::-1] if mirrored else new
