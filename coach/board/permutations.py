"""How each kind of step changes the order of the strands, as permutations."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from coach.board.board import Board, Order, find_run
from coach.board.board_errors import NotBeside, NotHere, NotNeighbours, WrongTurn

Namer = Callable[[int], str]


@dataclass(frozen=True, slots=True)
class Travel:
    """The path of a strand across others: who, over whom in order, and which way."""

    mover: int
    crossed: Order
    direction: Literal["right", "left"]
    board: Board


def travel(board: Board, mover: int, across: Sequence[int] | None, name: Namer) -> Travel:
    """Move the strand at position `mover` across others, one after the other.

    Args:
        board: The board, or a window on it.
        mover: The position of the strand that travels.
        across: The positions it crosses, in order; None for all other strands of the window.
        name: Return a strand's name in words, for error messages.

    Raises:
        OffBoard: There is no strand at one of the positions.
        NotBeside: The path does not start beside the mover, or leaves a strand out.
        WrongTurn: The path turns back or crosses the mover.
        NotNeighbours: Other strands of the board hang between those of the window.
    """
    start = board.place(mover)
    positions = _others(board, start) if across is None else across
    places = board.places(positions)
    way = _way(board, start, places)
    if not _goes_on(board, start, places, way):
        _check_path(board, start, list(zip(positions, places, strict=True)), way, name)
    here = board.here
    moving, crossed = here[start], tuple([here[place] for place in places])
    path = (moving, *crossed)
    if board.outer and not find_run(board.whole, path):
        _check_gaps(board, path, name)
    moved = board.refill(path, (*crossed, moving))
    right = (way > 0) != board.mirrored
    return Travel(moving, crossed, "right" if right else "left", moved)


def _others(board: Board, start: int) -> list[int]:
    """Return the positions of all other strands, for a mover at an edge or in the round."""
    count = len(board.here)
    if count == 1:
        raise NotHere("There is no other strand for the row to cross.")
    if board.wraps:
        return [start + 1 + step for step in range(1, count)]
    if start == 0:
        return list(range(2, count + 1))
    if start == count - 1:
        return list(range(count - 1, 0, -1))
    raise NotHere(
        "A row across all the others starts at an edge.", "Write the positions, as in 3-6."
    )


def _way(board: Board, start: int, places: list[int]) -> int:
    """Return +1 for a row that goes to higher positions, -1 to lower ones."""
    count, first = len(board.here), places[0]
    if len(places) > 1:
        step = places[1] - first
        if board.wraps and abs(step) == count - 1:
            return -1 if step > 0 else 1
        if step:
            return 1 if step > 0 else -1
    if board.wraps and (first - start) % count in (1, count - 1):
        return 1 if (first - start) % count == 1 else -1
    return 1 if first > start else -1


def _goes_on(board: Board, start: int, places: list[int], way: int) -> bool:
    """Return whether places follow each other from beside the start, each strand met once."""
    count = len(board.here)
    wanted = list(range(start + way, start + way * (len(places) + 1), way))
    if board.wraps:
        wanted = [place % count for place in wanted]
    return places == wanted and len(places) < count


def _check_path(
    board: Board, start: int, path: list[tuple[int, int]], way: int, name: Namer
) -> None:
    """Raise unless the path starts beside the mover and goes one way without a gap."""
    count = len(board.here)
    seen, at = {start}, start
    for position, place in path:
        wanted = (at + way) % count if board.wraps else at + way
        behind = not board.wraps and (place - at) * way < 0
        if place in seen or behind:
            raise WrongTurn(position, name(board.here[place]))
        if place != wanted:
            far = max(position * way for position, _ in path) * way
            hint = f"Start beside it and leave none out, such as {start + 1 + way}-{far}."
            raise NotBeside(position, name(board.here[wanted]), wanted + 1, hint)
        seen.add(place)
        at = place


def _check_gaps(board: Board, path: Order, name: Namer) -> None:
    """Raise NotNeighbours where a group's neighbours have other strands between them."""
    whole = board.whole
    at = {strand: place for place, strand in enumerate(whole)}
    for before, after in pairwise([at[strand] for strand in path]):
        apart = abs(after - before)
        if apart != 1 and not (board.closed and apart == len(whole) - 1):
            left, right = sorted((before, after))
            raise NotNeighbours(left + 1, right + 1, name(whole[left + 1]))


def exchange(board: Board, left: int, right: int) -> Board:
    """Swap two strands, as a half knot does with its knotters.

    Args:
        board: The board, or a window on it.
        left: One strand.
        right: The other strand, wherever it hangs.
    """
    return board.refill((left, right), (right, left))


def plait_crossing(bundles: Sequence[Order], crossing: int) -> tuple[Order, Order, Order]:
    """Return the three bundles of a plait after one more crossing.

    Six crossings bring all three back: C. W. Ashley, The Ashley Book of Knots (1944),
    nos 2954-2955 (read).

    Args:
        bundles: The three bundles, from the left.
        crossing: How many crossings came before; in crossing 0 the right bundle goes over.
    """
    left, middle, right = bundles
    return (left, right, middle) if crossing % 2 == 0 else (middle, left, right)


def reorder(board: Board, order: Sequence[int]) -> Board:
    """Put strands into a new order within the run that they occupy.

    Args:
        board: The board, or a window on it.
        order: The old positions, in their new order from the left.

    Raises:
        OffBoard: There is no strand at one of the positions.
        Twice: A position is named twice.
        NotHere: The positions do not form one unbroken run.
    """
    strands = board.strands(order)
    low = min(order)
    if sorted(order) != list(range(low, low + len(order))):
        raise NotHere(
            "The new order leaves out a strand between those that it names.",
            "Name every position from the lowest to the highest once.",
        )
    places = board.strands(range(low, low + len(order)))
    return board.refill(places, strands)


def seam(board: Board, at: int) -> Board:
    """Move the seam of round work, so that the strand at `at` is position 1.

    Raises:
        NotHere: The work is not in the round, or this is a window.
        OffBoard: There is no strand at `at`.
    """
    if not board.wraps:
        raise NotHere("Only work in the round has a seam.", "Write ‘round: yes’ under ‘start’.")
    place = board.place(at)
    here = board.here
    return board.refill(here, here[place:] + here[:place])
