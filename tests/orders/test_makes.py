"""How many, or how long, comes out of what is there, against counting by hand."""

import pytest
from desk_data import keyring

from coach.orders.stock import Item, Stock
from coach.orders.stock_yield import stock_yield
from coach.plan.cord.cut_list import cut_list
from coach.plan.pieces import pieces_of

PLAN = keyring()
REED, CLAY = (cut.cut_mm for cut in cut_list(PLAN))


def stock(reed: tuple[float, ...], clay: tuple[float, ...], rings: int | None = None) -> Stock:
    there = Stock().with_item(Item("reed cotton 2 mm", reed)).with_item(Item("clay", clay))
    if rings is None:
        return there
    return there.with_item(Item("25 mm split ring", count=rings, by_number=True))


@pytest.mark.parametrize(
    ("there", "copies", "first"),
    [
        (stock((5 * REED,), (50 * CLAY,)), 5, "reed cotton 2 mm"),
        (stock((50 * REED,), (3.5 * CLAY,)), 3, "clay"),
        (stock((0.9 * REED, 0.9 * REED), (50 * CLAY,)), 0, "reed cotton 2 mm"),
        (stock((1.5 * REED,) * 4, (50 * CLAY,)), 4, "reed cotton 2 mm"),
        (stock((50 * REED,), (50 * CLAY,), 7), 7, "25 mm split ring"),
        (stock((50 * REED,), (50 * CLAY,), -2), 0, "25 mm split ring"),
    ],
)
def test_the_number_is_what_can_be_cut_and_the_cord_that_ends_first_is_named(
    there: Stock, copies: int, first: str
) -> None:
    """One piece of each cord a copy: remnants too short for a piece give none."""
    found = stock_yield(PLAN, there)
    assert (found.sure, found.bounding[0].what) == (copies, first)


def test_what_is_spared_is_told_as_a_range_and_not_as_cord() -> None:
    """The bare need is the cut without the project's margin and rounding."""
    need = max(piece.need_mm for piece in pieces_of(PLAN) if piece.cord == "reed")
    found = stock_yield(PLAN, stock((20 * need,), (100 * CLAY,)))
    assert found.most == 20
    assert found.sure == int(20 * need // REED) < 20


def test_a_cord_of_which_nothing_is_there_ends_first() -> None:
    found = stock_yield(PLAN, Stock().with_item(Item("clay", (50 * CLAY,))))
    assert (found.sure, found.bounding[0].what, found.longest) == (0, "reed cotton 2 mm", None)


def test_the_longest_piece_takes_all_that_the_next_would_not_get() -> None:
    """One more repeat would need a longer piece than is there."""
    found = stock_yield(PLAN, stock((5000.0,), (5000.0,)))
    assert found.longest
    assert found.longest.length_mm > PLAN.length_mm
    from coach.plan.resize.refit import as_wished, recompiled  # noqa: PLC0415 - for this test alone
    from coach.plan.resize.size_request import Wish  # noqa: PLC0415 - the same

    for more, fits in ((0, True), (1, False)):
        wish = Wish(repeats={found.longest.part: found.longest.times + more})
        longest = max(c.cut_mm for c in cut_list(recompiled(as_wished(PLAN.project, wish))))
        assert (longest <= 5000) == fits
