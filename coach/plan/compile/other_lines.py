"""Lines of plaits, turns, strands that come, go or are hitched on, and steps without a knot."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from coach.board.board import Board, Order
from coach.board.board_errors import TooFew
from coach.board.permutations import plait_crossing, reorder, seam
from coach.knots.catalogue import pass_count
from coach.plan.compile.step_context import (
    StepContext,
    WorkLine,
    check_apart,
    placed,
    refuse,
    single_count,
)
from coach.plan.steps import Count, Direction
from coach.project.model import (
    Add,
    Bead,
    Braid,
    Cross,
    Flip,
    FoldBack,
    LayAside,
    OwnKnot,
    OwnTied,
    Picot,
    RigidRow,
    Seam,
    Space,
    TakeUp,
    Trim,
    Turn,
)


def braid_lines(step: Braid, hands: StepContext) -> Iterator[WorkLine]:
    """Yield the one line of a plait: a count a crossing, or one count when given by length."""
    bundles = _bundles(step, hands)
    strands = tuple(strand for bundle in bundles for strand in bundle)
    if step.crossings is None:
        # Whole periods: the order is kept.
        yield WorkLine("braid", hands.board, (Count("", strands),), tuple(bundles))
        return
    ties = []
    now = bundles
    for crossing in range(step.crossings):
        mover = now[2] if crossing % 2 == 0 else now[0]
        ties.append(Count("", mover, now[1]))
        now = list(plait_crossing(now, crossing))
    after = tuple(strand for bundle in now for strand in bundle)
    yield WorkLine("braid", hands.board.refill(strands, after), tuple(ties), tuple(bundles))


def _bundles(step: Braid, hands: StepContext) -> list[Order]:
    """Return the three bundles in the window's order. Raises Misfit if they lie apart."""
    members = sorted(step.bundles.members, key=lambda member: min(member.items, default=1))
    bundles = [
        hands.strands(replace(member, items=tuple(sorted(member.items)))) for member in members
    ]
    with placed(step.bundles.span):
        check_apart(bundles, hands.board)
        hands.board.run_of(tuple(strand for bundle in bundles for strand in bundle))
    return bundles


def turn_lines(step: Turn, hands: StepContext) -> Iterator[WorkLine]:
    """Return the line of a holder turned round a neighbour or a pin."""
    holder = hands.one(step.holder)
    if step.around is None:
        return single_count(hands.board, (holder,))
    around = hands.one(step.around)
    with placed(step.around.span):
        _check_beside(hands.board, holder, around)
    tie = Count("", (holder,), (around,))
    return iter([WorkLine("plain", hands.board, (tie,), ((holder, around),), holder)])


def _check_beside(board: Board, one: int, other: int) -> None:
    """Raise NotNeighbours unless two strands stand side by side, over the seam too."""
    pair = tuple(sorted((one, other), key=board.here.index))
    over_seam = board.wraps and pair == (board.here[0], board.here[-1])
    board.run_of(pair[::-1] if over_seam else pair)


def cross_lines(step: Cross, hands: StepContext) -> Iterator[WorkLine]:
    """Return the line of strands put into a new order."""
    with placed(step.order.span):
        board = hands.board
        order = step.order.items or range(1, len(board.here) + 1)
        return single_count(reorder(board, order), board.strands(order))


def space_lines(step: Space, hands: StepContext) -> Iterator[WorkLine]:
    """Yield the line of a length left unknotted."""
    groups = hands.groups(step.groups) if step.groups else (hands.board.here,)
    strands = tuple(strand for group in groups for strand in group)
    yield WorkLine("plain", hands.board, (Count("", strands),), groups)


def strand_lines(step: Picot | Bead | Trim, hands: StepContext) -> Iterator[WorkLine]:
    """Return the line of loops, a bead or a cut on some strands."""
    return single_count(hands.board, hands.from_left(step.strands))


def add_lines(step: Add, hands: StepContext) -> Iterator[WorkLine]:
    """Yield the line of new pieces hung in."""
    board = hands.board
    at = hands.place(step.at, len(board.here) + 1)
    held = (hands.one(step.onto),) if step.onto else ()
    new: list[int] = []
    for piece in step.pieces:
        strands = hands.roster.hang(piece.cord, "added", step.fold)
        # End a is the one further left on the board.
        new += board.from_left(strands)
    grown = board.insert(at, tuple(new))
    tie = Count("", tuple(new), held)
    yield WorkLine("plain", grown, (tie,), (tuple(new),), new_strands=tuple(new))


def aside_lines(step: LayAside, hands: StepContext) -> Iterator[WorkLine]:
    """Return the line of strands laid aside."""
    strands = hands.from_left(step.strands)
    return single_count(hands.board.remove(strands), strands)


def take_up_lines(step: TakeUp, hands: StepContext) -> Iterator[WorkLine]:
    """Return the line of strands brought back. Raises Misfit for one that is not aside."""
    strands = tuple(_aside(name, step, hands) for name in step.strands)
    if len(set(strands)) < len(strands):
        raise refuse("TWICE", step.about.span, "A strand is taken up twice in one step.")
    at = hands.place(step.at, len(hands.board.here) + 1)
    return single_count(hands.board.take_up(at, strands), strands)


def _aside(name: str, step: TakeUp, hands: StepContext) -> int:
    strand = hands.roster.find(name)
    if strand is None or strand not in hands.board.aside:
        there = ", ".join(hands.roster.name(s) for s in sorted(hands.board.aside)) or "none"
        message = f"{name} is not among the strands laid aside."
        raise refuse("ASIDE", step.about.span, message, f"Laid aside now: {there}.")
    return strand


def flip_lines(step: Flip, hands: StepContext) -> Iterator[WorkLine]:
    """Return the line of the whole work turned over."""
    del step
    board = hands.board.flip()
    return single_count(board, board.whole)


def seam_lines(step: Seam, hands: StepContext) -> Iterator[WorkLine]:
    """Return the line that moves the seam of round work."""
    with placed(step.at.span):
        board: Board = seam(hands.board, step.at.items[0])
    return single_count(board, board.here)


def rigid_lines(step: RigidRow, hands: StepContext) -> Iterator[WorkLine]:
    """Yield the one line of strands hitched onto something rigid; they keep their order."""
    strands = hands.strands(step.across)
    tie = (hands.knot(step.knot), pass_count(step.knot))
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
    return single_count(hands.board, hands.from_left(step.strands))


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
