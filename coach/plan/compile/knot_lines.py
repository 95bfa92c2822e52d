"""Lines of knots within groups, round neighbours, round the bundle, and in nets."""

from collections.abc import Iterator, Sequence
from functools import partial

from coach.board.board import Board, Order
from coach.board.board_errors import TooFew
from coach.knots.catalogue import pass_count
from coach.knots.names import (
    BARREL,
    CHAIN,
    FLAT_KNOTS,
    GATHERING,
    HALF_KNOT,
    JOSEPHINE,
    REVERSE_HALF_KNOT,
)
from coach.plan.compile.step_context import (
    Misfit,
    StepContext,
    WorkLine,
    check_apart,
    placed,
    refuse,
)
from coach.plan.steps import Count, Role
from coach.project.model import AroundKnot, Gathering, GroupKnot, Net
from coach.text import counted
from coach.yaml_reader.diagnostics import Span

_FEWEST = 2
_EXCHANGING = (HALF_KNOT, REVERSE_HALF_KNOT)


def group_lines(step: GroupKnot, hands: StepContext) -> Iterator[WorkLine]:
    """Yield the one line of a knot tied in each group. Raises Misfit."""
    spans = [member.span for member in step.groups.members]
    yield _tied(step, hands, hands.groups(step.groups), spans)


def _tied(
    step: GroupKnot, hands: StepContext, groups: tuple[Order, ...], spans: Sequence[Span]
) -> WorkLine:
    """Return the line of a knot tied in groups with their spans in the file. Raises Misfit."""
    board, knot = hands.board, hands.knot(step.knot)
    two_ties = partial(_two_ties, step, knot)
    known = hands.roster.grouped(knot, step.squares, two_ties)
    ties: list[Count] = []
    new: list[int] = []
    changing: list[int] = []
    sound = 0
    for group, span in zip(groups, spans, strict=True):
        if len(group) != sound:
            with placed(span):
                _check_size(step, group)
            sound = len(group)
        clasp = hands.roster.hang(step.clasp, "clasp", "middle") if step.clasp else ()
        new += clasp
        # A chain's first hitch is tied by the strand that the window counts first.
        worked = board.from_left(group) if knot == CHAIN else group
        first, second = two_ties(worked, clasp) if clasp else known[worked]
        ties += [first, second] * (step.times // 2)
        if step.times % 2:
            ties.append(first)
            changing += (group[0], group[-1])
    if not step.clasp and knot in _EXCHANGING and changing:
        swapped = [changing[place ^ 1] for place in range(len(changing))]
        board = board.refill(tuple(changing), tuple(swapped))
    return WorkLine("knot", board, tuple(ties), groups, new_strands=tuple(new))


def _check_size(step: GroupKnot, group: Order) -> None:
    """Raise TooFew if a group has fewer strands than its knot needs."""
    count = len(group)
    if step.knot == CHAIN and count != _FEWEST:
        raise TooFew(step.knot, "two strands", count)
    if step.knot in FLAT_KNOTS and not step.clasp and count < _FEWEST:
        raise TooFew(step.knot, "two strands at least", count)
    if step.knot == JOSEPHINE and (count % 2 or not count):
        raise TooFew(step.knot, "two halves of as many strands", count)
    if step.squares and count <= _FEWEST:
        raise TooFew(step.knot, "three strands at least", count)


def _two_ties(step: GroupKnot, knot: str, group: Order, clasp: Order = ()) -> tuple[Count, Count]:
    """Return the first two ties of a group, which all further ones repeat in turn.

    The strands of a chain begin with the one that knots first; half knots swap their knotters.
    """
    turns = pass_count(step.knot, squares=step.squares)
    if step.knot == CHAIN:
        one, other = group[:1], group[1:]
        return Count(knot, one, other, turns), Count(knot, other, one, turns)
    if not clasp and (step.knot in FLAT_KNOTS or step.squares):
        outer, inner = (group[0], group[-1]), group[1:-1]
        tie = Count(knot, outer, inner, turns)
        return tie, Count(knot, outer[::-1], inner, turns) if knot in _EXCHANGING else tie
    tie = Count(knot, clasp, group, turns) if clasp else Count(knot, group, (), turns)
    return tie, tie


def around_lines(step: AroundKnot, hands: StepContext) -> Iterator[WorkLine]:
    """Yield the one line of a strand knotted round others, or a barrel knot round itself."""
    knotter = hands.one(step.knotter)
    around = hands.from_left(step.around) if step.around else ()
    if knotter in around and step.around:
        message = f"Strand {step.knotter.items[0]} is the knotter, so it cannot be inside as well."
        raise refuse("TWICE", step.around.span, message, "Leave it out of ‘around’.")
    knot = hands.knot(step.knot)
    turns = pass_count(step.knot, turns=step.turns)
    tie = Count(knot, (knotter,), around, turns)
    role: Role = "gathering" if step.knot == BARREL else "around"
    yield WorkLine(role, hands.board, (tie,) * step.times, ((knotter, *around),), knotter)


def gathering_lines(step: Gathering, hands: StepContext) -> Iterator[WorkLine]:
    """Yield the one line of a separate piece wrapped round the bundle."""
    bundle = hands.from_left(step.around)
    wrap = hands.roster.hang(step.wrap, "wrap")
    tie = Count(GATHERING, wrap, bundle, pass_count(GATHERING))
    yield WorkLine("gathering", hands.board, (tie,), (bundle,), new_strands=wrap)


def net_lines(step: Net, hands: StepContext) -> Iterator[WorkLine]:
    """Yield a line for each row of a net, alternate rows offset by half a group."""
    knot, span = GroupKnot(step.about, step.of, step.groups), step.groups.span
    worked: dict[tuple[range, Board], WorkLine] = {}  # every second row is the same again
    for row, starts in enumerate(_net_rows(step, hands.board), start=1):
        here = (starts, hands.board)
        if here not in worked:
            with placed(span):
                groups = _groups_from(starts, hands.board)
            worked[here] = _tied(knot, hands, groups, [span] * len(groups))
        line = worked[here]
        hands = StepContext(line.board, hands.roster)
        yield WorkLine("net", line.board, line.ties, line.groups, net_row=row)


def _groups_from(starts: range, board: Board) -> tuple[Order, ...]:
    """Return the groups that begin at these positions, as wide as these lie apart."""
    size, here = starts.step, board.here
    if starts.start >= 1 and starts.stop <= len(here) + 1:
        groups = [here[at - 1 : at - 1 + size] for at in starts]
    else:
        groups = [board.strands(range(at, at + size)) for at in starts]
        check_apart(groups, board)
    return tuple(map(board.from_left, groups))


def _net_rows(step: Net, board: Board) -> Iterator[range]:
    """Yield the positions at which each row's groups begin. Raises Misfit where a row has none."""
    first = [min(member.items) for member in step.groups.members]
    size = len(step.groups.members[0].items)
    low, high = min(first), max(first) + size - 1
    for row in range(step.rows):
        left, count = _net_row(step, board, row, (low, high, size))
        if count < 1 and step.sides == "widen":
            raise _too_wide(step)
        if count < 1:
            message = f"Row {row + 1} of the net has no group left."
            raise refuse("NET", step.groups.span, message, f"Write ‘rows: {row}’.")
        yield range(left, left + count * size, size)


def _net_row(step: Net, board: Board, row: int, breadth: tuple[int, int, int]) -> tuple[int, int]:
    """Return the first position and the number of groups of a net's row (0-based)."""
    low, high, size = breadth
    groups, half = (high - low + 1) // size, size // 2
    if step.sides == "even":
        if board.wraps and groups * size == len(board.here):
            return low + half * (row % 2), groups
        return low + half * (row % 2), groups - row % 2
    inset = row if step.sides == "narrow" else first_inset(step, len(board.here)) - row
    return low + half * inset, groups - inset


def first_inset(step: Net, strands: int) -> int:
    """Return by how many half groups a side the first row of a net is inset in its range.

    With strands free on both sides, the range of a widening net is its first row, and the net grows
    out of it; without, the range is as wide as its last row.

    Args:
        step: The net.
        strands: How many strands hang where it is worked.
    """
    if step.sides != "widen":
        return 0
    members = step.groups.members
    outward = len(members[0].items) // 2 * (step.rows - 1)
    room = members[0].items[0] - outward >= 1 and members[-1].items[-1] + outward <= strands
    return 0 if room else step.rows - 1


def _too_wide(step: Net) -> Misfit:
    """Return the error of a net that cannot widen to the groups that it names."""
    most, size = len(step.groups.members), len(step.groups.members[0].items)
    out = size // 2 * (step.rows - 1)
    message = (
        f"A net that widens to its {counted(most, 'group')} has at most {counted(most, 'row')}, "
        f"and there are not {out} strands on either side for it to widen from them."
    )
    return refuse("NET", step.groups.span, message, f"Write ‘rows: {most}’.")
