"""Orders on the board against permutation algebra of a reference library."""

from dataclasses import dataclass
from typing import Any, Literal

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from reference import permutation

from coach.board.board import Board
from coach.board.board_errors import (
    BoardError,
    NotBeside,
    NotHere,
    NotNeighbours,
    OffBoard,
    Twice,
    WrongTurn,
)
from coach.board.permutations import exchange, plait_crossing, reorder, seam, travel

SIZE = 7


@dataclass(frozen=True)
class Move:
    """One thing done on a board of SIZE strands, places from 0."""

    kind: Literal["row", "half knot", "cross", "plait_crossing", "flip"]
    places: tuple[int, ...] = ()

    def permutation(self) -> Any:
        """Return where the strand at each place goes."""
        if self.kind == "row":
            mover, far = self.places
            way = 1 if far > mover else -1
            return permutation([list(range(far, mover - way, -way))], size=SIZE)
        if self.kind == "half knot":
            return permutation([list(self.places)], size=SIZE)
        if self.kind == "plait":
            first, crossings = self.places
            once = {0: permutation(first + 1, first + 2, size=SIZE),
                    1: permutation(first, first + 1, size=SIZE)}  # fmt: skip
            total = permutation(SIZE - 1)
            for crossing in range(crossings):
                total *= once[crossing % 2]
            return total
        if self.kind == "flip":
            return permutation(list(range(SIZE))[::-1])
        return permutation(list(self.places)) ** -1

    def on(self, board: Board) -> Board:
        """Return the board after the move."""
        if self.kind == "row":
            mover, far = self.places
            way = 1 if far > mover else -1
            across = range(mover + way + 1, far + way + 1, way)
            return travel(board, mover + 1, across, str).board
        if self.kind == "half knot":
            left, right = (board.here[place] for place in self.places)
            return exchange(board, left, right)
        if self.kind == "plait":
            first, crossings = self.places
            strands = board.here[first : first + 3]
            bundles = [(strand,) for strand in strands]
            for crossing in range(crossings):
                bundles = list(plait_crossing(bundles, crossing))
            return board.refill(strands, tuple(strand for bundle in bundles for strand in bundle))
        if self.kind == "flip":
            return board.flip()
        return reorder(board, [place + 1 for place in self.places])


PLACE = st.integers(0, SIZE - 1)
TWO = st.tuples(PLACE, PLACE).filter(lambda pair: pair[0] != pair[1])
MOVES = st.lists(
    st.one_of(
        TWO.map(lambda pair: Move("row", pair)),
        TWO.map(lambda pair: Move("half knot", pair)),
        st.permutations(range(SIZE)).map(lambda order: Move("cross", tuple(order))),
        st.tuples(st.integers(0, SIZE - 3), st.integers(1, 8)).map(lambda at: Move("plait", at)),
        st.just(Move("flip")),
    ),
    min_size=1,
    max_size=8,
)


def product(moves: list[Move]) -> Any:
    """Return all moves as one permutation; the first is done first."""
    total = permutation(SIZE - 1)
    for move in moves:
        total *= move.permutation()
    return total


@examples(150)
@given(MOVES)
def test_moves_one_after_the_other_are_the_product_of_their_permutations(moves: list[Move]) -> None:
    board = Board.hung(range(SIZE))
    for move in moves:
        board = move.on(board)
    total = product(moves)
    assert [board.whole.index(strand) for strand in range(SIZE)] == [total(s) for s in range(SIZE)]


@examples(40)
@given(MOVES)
def test_repeats_bring_the_order_back_after_the_order_of_the_permutation(moves: list[Move]) -> None:
    board = Board.hung(range(SIZE))
    order = product(moves).order()
    for repeat in range(1, order + 1):
        for move in moves:
            board = move.on(board)
        assert (board.whole == tuple(range(SIZE))) == (repeat == order)


@examples(60)
@given(MOVES, st.booleans())
def test_board_is_the_same_however_it_came_about(moves: list[Move], mirrored: bool) -> None:
    """What is known of one board is found for another with the same strands in the same windows."""
    board = Board.hung(range(SIZE)).enter(tuple(range(SIZE)), mirrored=mirrored)
    for move in moves:
        board = move.on(board)
    order = board.whole
    again = Board.hung(order).enter(order, mirrored=mirrored)
    assert (board == again, hash(board) == hash(again)) == (True, True)
    assert board != Board.hung(order)
    assert board != Board.hung(order, closed=True).enter(order, mirrored=mirrored)
    assert board != board.remove(order[:1])


@examples(60)
@given(MOVES)
def test_moves_in_a_mirrored_window_are_conjugates_by_the_flip(moves: list[Move]) -> None:
    board = Board.hung(range(SIZE))
    board = board.enter(board.here, mirrored=True)
    for move in moves:
        board = move.on(board)
    mirror = permutation(list(range(SIZE))[::-1])
    total = mirror * product(moves) * mirror
    assert board.here == board.whole[::-1]
    assert [board.leave().here.index(s) for s in range(SIZE)] == [total(s) for s in range(SIZE)]


@examples(60)
@given(MOVES)
def test_moves_in_the_window_of_a_group_leave_the_others_alone(moves: list[Move]) -> None:
    moves = [move for move in moves if move.kind != "flip"]
    board = Board.hung(range(SIZE + 4))
    board = board.enter(board.whole[2 : 2 + SIZE])
    for move in moves:
        board = move.on(board)
    total = product(moves)
    assert board.whole[:2] + board.whole[-2:] == (0, 1, SIZE + 2, SIZE + 3)
    assert [board.whole.index(s + 2) - 2 for s in range(SIZE)] == [total(s) for s in range(SIZE)]


def test_row_with_all_the_others_begins_at_an_edge() -> None:
    board = Board.hung(range(4))
    assert travel(board, 1, None, str).board.whole == (1, 2, 3, 0)
    assert travel(board, 4, None, str).board.whole == (3, 0, 1, 2)
    with pytest.raises(NotHere, match="starts at an edge"):
        travel(board, 2, None, str)
    with pytest.raises(NotHere, match="no other strand"):
        travel(Board.hung([0]), 1, None, str)


@pytest.mark.parametrize(
    ("mover", "across", "error", "said"),
    [
        (1, (3, 4), NotBeside, "jump over s1 at 2"),
        (5, (3, 2), NotBeside, "jump over s3 at 4"),
        (1, (2, 4), NotBeside, "jump over s2 at 3"),
        (3, (4, 2), WrongTurn, "s3 at 4 lies behind it"),
        (3, (4, 5, 3), WrongTurn, "s2 at 3 lies behind it"),
        (2, (3, 6), OffBoard, "no position 6"),
    ],
)
def test_row_that_nobody_can_work_names_the_strand_in_its_way(
    mover: int, across: tuple[int, ...], error: type[BoardError], said: str
) -> None:
    with pytest.raises(error, match=said):
        travel(Board.hung(range(5)), mover, across, lambda strand: f"s{strand}")


def test_row_with_a_strand_left_out_is_told_how_it_could_go() -> None:
    with pytest.raises(NotBeside) as refused:
        travel(Board.hung(range(6)), 2, (4, 5), str)
    assert refused.value.hint.endswith("such as 3-5.")
    with pytest.raises(NotBeside) as refused:
        travel(Board.hung(range(6)), 6, (4, 2), str)
    assert refused.value.hint.endswith("such as 5-2.")


def test_row_across_the_gap_of_a_group_names_the_strand_in_it() -> None:
    board = Board.hung(range(6)).enter((0, 1, 4, 5))
    assert travel(board, 1, (2,), str).board.whole == (1, 0, 2, 3, 4, 5)
    with pytest.raises(NotNeighbours, match="at 2 and 5 do not stand side by side: s2 stands at 3"):
        travel(board, 1, (2, 3), lambda strand: f"s{strand}")


def test_round_board_counts_on_over_the_seam() -> None:
    board = Board.hung(range(4), closed=True)
    assert board.strands((4, 5, 6)) == (3, 0, 1)
    gone = travel(board, 4, (5, 6), str)
    assert (gone.crossed, gone.direction, gone.board.whole) == ((0, 1), "right", (1, 3, 2, 0))
    back = travel(board, 1, (4, 3), str)
    assert (back.crossed, back.direction, back.board.whole) == ((3, 2), "left", (3, 1, 0, 2))
    assert travel(board, 2, None, str).crossed == (2, 3, 0)
    with pytest.raises(OffBoard):
        board.strands((9,))
    with pytest.raises(Twice):
        board.strands((1, 5))


@given(st.integers(1, 6))
def test_seam_counts_anew_and_moves_no_cord(at: int) -> None:
    board = seam(Board.hung(range(6), closed=True), at)
    assert board.whole == tuple((at - 1 + step) % 6 for step in range(6))


def test_seam_is_refused_where_the_work_is_not_in_the_round() -> None:
    with pytest.raises(NotHere):
        seam(Board.hung(range(4)), 2)


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("at", range(1, 4))
def test_strands_put_into_a_group_stand_beside_their_neighbours_everywhere(
    at: int, mirrored: bool
) -> None:
    board = Board.hung(range(6)).enter((2, 3), mirrored=mirrored).insert(at, (8, 9))
    window = [2, 3][:: -1 if mirrored else 1]
    expected = [*window[: at - 1], 8, 9, *window[at - 1 :]]
    assert list(board.here) == expected
    assert list(board.whole) == [0, 1, *expected[:: -1 if mirrored else 1], 4, 5]


def test_strands_laid_aside_leave_every_window_and_come_back() -> None:
    board = Board.hung(range(6)).enter((1, 2, 3)).remove((2,))
    assert (board.here, board.whole, board.aside) == ((1, 3), (0, 1, 3, 4, 5), {2})
    back = board.take_up(1, (2,))
    assert (back.here, back.whole, back.aside) == ((2, 1, 3), (0, 2, 1, 3, 4, 5), frozenset())
    with pytest.raises(OffBoard):
        board.take_up(4, (2,))


def test_new_order_must_be_of_one_run() -> None:
    board = Board.hung(range(5))
    assert reorder(board, (4, 5, 2, 3)).whole == (0, 3, 4, 1, 2)
    with pytest.raises(NotHere, match="leaves out a strand"):
        reorder(board, (4, 2))
