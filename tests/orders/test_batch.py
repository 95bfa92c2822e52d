"""Which piece of an order comes next, and what an order took and earned."""

from decimal import Decimal

import pytest

from coach.orders.batch import PieceAt, following, next_piece
from coach.orders.desk_events import OrderBegun, OrderEnded, OrderWorked, PieceJoined, PieceSpoilt
from coach.orders.desk_state import fold_desk
from coach.orders.order_outcome import order_outcome, outcome_json


def at(**done: int) -> list[PieceAt]:
    return [PieceAt(name, made, 10) for name, made in done.items()]


@pytest.mark.parametrize(
    ("pieces", "current", "over_all", "found"),
    [
        (at(a=3, b=0, c=0), "a", False, "a"),
        (at(a=10, b=0, c=0), "a", False, "b"),
        (at(a=3, b=10, c=10), "c", False, "a"),
        (at(a=10, b=10), "a", False, None),
        (at(a=4, b=0, c=0), "a", True, "b"),
        (at(a=4, b=4, c=0), "b", True, "c"),
        (at(a=4, b=4, c=4), "c", True, "a"),
        (at(a=4, b=10, c=4), "c", True, "a"),
        (at(a=0, b=0), "", True, "a"),
        ([], "", False, None),
    ],
)
def test_one_after_the_other_or_the_one_that_is_least_far(
    pieces: list[PieceAt], current: str, over_all: bool, found: str | None
) -> None:
    assert next_piece(pieces, current, over_all=over_all) == found


def test_going_on_never_comes_back_to_the_piece_at_hand() -> None:
    pieces = at(a=3, b=0, c=0)
    assert following(pieces, "a", over_all=False) == "b"
    assert following(pieces, "b", over_all=False) == "c"
    assert following(at(a=3, b=10), "a", over_all=True) is None


def test_step_by_step_over_all_every_piece_gets_each_step_once() -> None:
    """Twelve pieces of five counts, one count at a time: sixty turns, five rounds of all."""
    done, current, order = dict.fromkeys("abcdefghijkl", 0), "", []
    while found := next_piece([PieceAt(p, d, 5) for p, d in done.items()], current, over_all=True):
        done[found] += 1
        order.append(found)
        current = found
    assert "".join(order) == "abcdefghijkl" * 5


QUOTE = {"copies": 12, "hours": {"likely": 2.0}, "price": {"total": 60.0, "currency": "€"},
         "cost": {"material": 12.0, "overhead": 6.0}}  # fmt: skip


def test_the_rate_is_what_is_left_for_an_hour_by_hand() -> None:
    """62.50 earned, 13 pieces' material 13, overhead of 12 6: 43.50 in 3 hours is 14.50."""
    told = order_outcome(QUOTE, 12, 1, 3 * 3600, "62.50")
    assert told.rate == Decimal("14.50")
    assert (told.quoted_hours, told.quoted) == (2.0, Decimal(60))
    assert outcome_json(told)["rate"] == 14.5
    half = order_outcome(QUOTE, 6, 0, 3600, "")
    assert (half.earned, half.quoted_hours) == (Decimal(30), 1.0)


@pytest.mark.parametrize(
    "quote",
    [{}, {"copies": 0}, {"copies": 12, "price": None, "cost": None, "hours": None},
     {"copies": 12, "price": {"total": None}, "cost": {"material": "much"}}],
)  # fmt: skip
def test_what_was_not_quoted_is_none(quote: dict[str, object]) -> None:
    told = order_outcome(quote, 3, 0, 3600, "")
    assert (told.rate, told.material, told.earned) == (None, None, None)


def test_an_order_follows_what_happens_to_it() -> None:
    events = [
        OrderBegun(at_ms=1, order="Stall", title="Keyring", source="x", quote=QUOTE),
        PieceJoined(at_ms=2, order="stall", piece="a", colourway="dusk", length_mm=118.0),
        PieceJoined(at_ms=2, order="stall", piece="b"),
        PieceSpoilt(at_ms=3, order="STALL", piece="a", why="too short"),
        OrderWorked(at_ms=4, order="stall", over_all=True),
    ]
    order = fold_desk(events).order(" stall ")
    assert order
    assert ([p.piece for p in order.sound], order.over_all, order.is_open) == (["b"], True, True)
    assert fold_desk(events).order_of("a") == order
    ended = fold_desk([*events, OrderEnded(at_ms=9, order="stall", earned="60")]).order("stall")
    assert ended
    assert (ended.is_open, ended.earned, ended.given_up) == (False, "60", False)


def test_an_order_whose_beginning_was_lost_is_still_there() -> None:
    order = fold_desk([PieceJoined(at_ms=2, order="stall", piece="b")]).order("stall")
    assert order
    assert order.sound


def test_what_an_order_that_was_given_up_has_brought_is_not_guessed() -> None:
    told = order_outcome(QUOTE, 5, 0, 3600.0, "", given_up=True)
    assert (told.earned, told.rate) == (None, None)
    assert order_outcome(QUOTE, 5, 0, 3600.0, "9", given_up=True).earned == 9
