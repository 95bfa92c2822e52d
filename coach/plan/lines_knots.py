"""Knots within groups, round neighbours, round the bundle, and nets of them."""

from collections.abc import Iterator

from coach.board.board import Board, Order
from coach.board.errors import TooFew
from coach.board.moves import exchange
from coach.knots.catalogue import passes
from coach.knots.names import (
    BARREL,
    CHAIN,
    FLAT_KNOTS,
    GATHERING,
    HALF_KNOT,
    JOSEPHINE,
    REVERSE_HALF_KNOT,
)
from coach.plan.lines import Hands, Line, Tie, refuse
from coach.plan.misfit import placed
from coach.plan.model import Role
from coach.project.model import AroundKnot, Gathering, GroupKnot, Groups, Net, Positions

_FEWEST = 2


def group_lines(step: GroupKnot, hands: Hands) -> Iterator[Line]:
    """Give the one line of a knot tied in each group. Raises Misfit."""
    groups, board = hands.groups(step.groups), hands.board
    knot = hands.knot(step.knot)
    ties: list[Tie] = []
    new: list[int] = []
    for group, member in zip(groups, step.groups.members, strict=True):
        with placed(member.span):
            _check_size(step, group)
        clasp = hands.roster.hang(step.clasp, "clasp", "middle") if step.clasp else ()
        new += clasp
        # A chain's first hitch is tied by the strand that the window counts first.
        worked = board.from_left(group) if knot == CHAIN else group
        ties += _group_ties(step, knot, worked, clasp)
        if not clasp and knot in (HALF_KNOT, REVERSE_HALF_KNOT) and step.times % 2:
            board = exchange(board, group[0], group[-1])
    yield Line("knot", board, tuple(ties), groups, new_strands=tuple(new))


def _check_size(step: GroupKnot, group: Order) -> None:
    """Raise TooFew where a group has not the strands that its knot needs."""
    count = len(group)
    if step.knot == CHAIN and count != _FEWEST:
        raise TooFew(step.knot, "two strands", count)
    if step.knot in FLAT_KNOTS and not step.clasp and count < _FEWEST:
        raise TooFew(step.knot, "two strands at least", count)
    if step.knot == JOSEPHINE and (count % 2 or not count):
        raise TooFew(step.knot, "two halves of as many strands", count)
    if step.squares and count <= _FEWEST:
        raise TooFew(step.knot, "three strands at least", count)


def _group_ties(step: GroupKnot, knot: str, group: Order, clasp: Order) -> Iterator[Tie]:
    """Give the ties of one group; a chain's strands begin with the first to knot."""
    turns = passes(step.knot, squares=step.squares)
    for made in range(step.times):
        if step.knot == CHAIN:
            knotter, filler = group[made % 2], group[1 - made % 2]
            yield Tie(knot, (knotter,), (filler,), turns)
        elif clasp:
            yield Tie(knot, clasp, group, turns)
        elif step.knot in FLAT_KNOTS or step.squares:
            left, right = _outer(knot, group, made)
            yield Tie(knot, (left, right), group[1:-1], turns)
        else:
            yield Tie(knot, group, (), turns)


def _outer(knot: str, group: Order, made: int) -> tuple[int, int]:
    """Give the two knotters as they stand before tie `made`; half knots exchange them."""
    outer = (group[0], group[-1])
    swapped = knot in (HALF_KNOT, REVERSE_HALF_KNOT) and made % 2
    return (outer[1], outer[0]) if swapped else outer


def around_lines(step: AroundKnot, hands: Hands) -> Iterator[Line]:
    """Give the one line of a strand knotted round others, or a barrel knot round itself."""
    knotter = hands.one(step.knotter)
    around = hands.from_left(step.around) if step.around else ()
    if knotter in around and step.around:
        message = "a strand cannot be knotted round itself and others at once"
        raise refuse("TWICE", step.around.span, message, "leave the knotter out of around")
    knot = hands.knot(step.knot)
    turns = passes(step.knot, turns=step.turns)
    tie = Tie(knot, (knotter,), around, turns)
    role: Role = "gathering" if step.knot == BARREL else "around"
    yield Line(role, hands.board, (tie,) * step.times, ((knotter, *around),), knotter)


def gathering_lines(step: Gathering, hands: Hands) -> Iterator[Line]:
    """Give the one line of a separate piece wrapped round the bundle."""
    bundle = hands.from_left(step.around)
    wrap = hands.roster.hang(step.wrap, "wrap")
    tie = Tie(GATHERING, wrap, bundle, passes(GATHERING))
    yield Line("gathering", hands.board, (tie,), (bundle,), new_strands=wrap)


def net_lines(step: Net, hands: Hands) -> Iterator[Line]:
    """Give a line for each row of a net, every second one set off by half a group."""
    for row, groups in enumerate(_net_rows(step, hands.board), start=1):
        knot = GroupKnot(step.about, step.of, groups)
        for line in group_lines(knot, hands):
            hands = Hands(line.board, hands.roster)
            yield Line("net", line.board, line.ties, line.groups, net_row=row)


def _net_rows(step: Net, board: Board) -> Iterator[Groups]:
    """Give the groups of each row of a net. Raises Misfit where a row has none."""
    first = [min(member.items) for member in step.groups.members]
    size = len(step.groups.members[0].items)
    low, high = min(first), max(first) + size - 1
    for row in range(step.rows):
        left, count = _net_row(step, board, row, (low, high, size))
        if count < 1:
            message = f"row {row + 1} of the net has no group left"
            raise refuse("NET", step.groups.span, message, f"rows: {row}")
        starts = range(left, left + count * size, size)
        members = tuple(Positions(step.groups.span, tuple(range(at, at + size))) for at in starts)
        yield Groups(step.groups.span, members)


def _net_row(step: Net, board: Board, row: int, breadth: tuple[int, int, int]) -> tuple[int, int]:
    """Give the first position and the number of groups of a net's row (0-based)."""
    low, high, size = breadth
    groups, half = (high - low + 1) // size, size // 2
    if step.sides == "even":
        if board.wraps and groups * size == len(board.here):
            return low + half * (row % 2), groups
        return low + half * (row % 2), groups - row % 2
    inset = row if step.sides == "narrow" else _widening(step, board, row, breadth)
    return low + half * inset, groups - inset


def _widening(step: Net, board: Board, row: int, breadth: tuple[int, int, int]) -> int:
    """Give by how many half groups a side a widening row is narrower than the range named.

    Where there are strands on both sides, the range is the first row and the net grows out of
    it; a range with no room beside it is the breadth that the last row reaches.
    """
    low, high, size = breadth
    outward = (size // 2) * (step.rows - 1)
    room = low - outward >= 1 and high + outward <= len(board.here)
    return -row if room else step.rows - 1 - row
