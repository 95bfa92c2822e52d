"""What is there after all that came in, was cut, put back and counted."""

import random
from argparse import Namespace

import pytest
import reference
from examples import examples
from hypothesis import given
from hypothesis import strategies as st

from coach.cli.orders.stock_options import WrongStock, amounts, price, weighs_tex
from coach.kept_events import BadEntry, UnknownEntry
from coach.orders.desk_events import (
    DESK_EVENTS,
    DeskEvent,
    StockAdded,
    StockCounted,
    StockCut,
    StockPutBack,
    StockTaken,
)
from coach.orders.desk_state import DeskState, fold_desk
from coach.orders.stock import Item, best_remnant

CLAY = "clay cotton 2 mm"


def clay(*events: DeskEvent) -> Item:
    item = fold_desk(events).stock.find("Clay  cotton 2 mm")
    assert item
    return item


def added(*lengths_mm: float, **more: object) -> StockAdded:
    return StockAdded(at_ms=1, what=CLAY, lengths_mm=list(lengths_mm), **more)  # type: ignore[arg-type]


def cut(piece_mm: float, from_mm: float) -> StockCut:
    return StockCut(at_ms=2, what=CLAY, piece_mm=piece_mm, from_mm=from_mm, piece="a", label="x.1")


def back(piece_mm: float, from_mm: float) -> StockPutBack:
    return StockPutBack(
        at_ms=3, what=CLAY, piece_mm=piece_mm, from_mm=from_mm, piece="a", label="x.1"
    )


def test_a_piece_leaves_its_remnant_and_comes_back_to_it() -> None:
    whole = added(100_000, 4500)
    assert clay(whole, cut(1320, 4500)).lengths_mm == (3180, 100_000)
    assert clay(whole, cut(1320, 4500), back(1320, 4500)).lengths_mm == (4500, 100_000)
    assert fold_desk([whole, cut(1320, 4500), back(1320, 4500)]).cut == {}


def test_more_than_is_there_is_owed_until_somebody_counts_again() -> None:
    short = clay(added(1000), cut(1320, 0))
    assert (short.mm, short.is_short) == (-320, True)
    counted = StockCounted(at_ms=4, what=CLAY, lengths_mm=[2000])
    assert (clay(added(1000), cut(1320, 0), counted).mm, counted.count) == (2000, 0)
    assert not clay(added(1000), cut(1320, 0), back(1320, 0)).is_short
    beads = fold_desk([
        StockAdded(at_ms=1, what="bead", count=3, by_number=True),
        StockTaken(at_ms=2, what="bead", count=5),
    ]).stock.find("bead")  # fmt: skip
    assert beads
    assert (beads.count, beads.is_short) == (-2, True)


def test_a_cord_by_weight_is_a_length_as_soon_as_it_is_known_what_it_weighs() -> None:
    """4 g/m: 500 g are 125 m (ISO 1144:2016: 1 tex = 1 g/km)."""
    by_weight = added(grams=500.0)
    assert (clay(by_weight).mm, clay(by_weight).grams) == (0, 500)
    assert clay(by_weight).lengths(4000.0) == (125_000.0,)
    weighed = clay(by_weight, added(fineness_tex=4000.0))
    assert (weighed.lengths_mm, weighed.grams) == ((125_000.0,), 0)
    taken = StockTaken(at_ms=2, what=CLAY, grams=100.0)
    assert clay(added(grams=500.0, fineness_tex=4000.0), taken).mm == pytest.approx(100_000)


@examples(80)
@given(st.lists(st.integers(50, 4000), min_size=1, max_size=12), st.randoms(use_true_random=False))
def test_all_that_is_cut_and_put_back_again_leaves_what_was_there(
    pieces: list[int], hands: random.Random
) -> None:
    """In any order of putting back; nothing is made and nothing is lost on the way."""
    item, cuts = Item(CLAY, lengths_mm=(2500.0, 7000.0, 9000.0)), list[tuple[float, float]]()
    for piece in pieces:
        source = best_remnant(piece, (), item.lengths_mm)
        item = item.cut(piece, source)
        cuts.append((piece, source))
    assert item.mm == pytest.approx(18_500 - sum(pieces))
    hands.shuffle(cuts)
    for piece, source in cuts:
        item = item.put_back(piece, source)
    assert item.mm == pytest.approx(18_500)
    assert item.owed_mm == 0


@pytest.mark.parametrize(
    ("piece", "others", "there", "source"),
    [
        (500, (), (600, 5000), 600),  # the shortest that is long enough
        (500, (), (400, 5000), 5000),
        (500, (), (400,), 0),
        (200, (300, 300), (300, 500), 500),  # from 300 only one of the others could be cut
    ],
)
def test_a_piece_is_cut_from_the_best_remnant(
    piece: float, others: tuple[float, ...], there: tuple[float, ...], source: float
) -> None:
    assert best_remnant(piece, others, there) == source


@pytest.mark.parametrize(
    ("written", "number", "unit"),
    [
        ("4 g/m", 4, "g/m"),
        ("1200 tex", 1200, "tex"),
        ("12000 dtex", 12000, "dtex"),
        ("9000 denier", 9000, "denier"),
        ("250 m per kg", 1 / 250, "kg/m"),
        ("4.2 g", 4.2, "g/m"),  # a weighed metre
        ("1 oz", 1, "oz/m"),
    ],
)
def test_what_cord_weighs_agrees_with_pint(written: str, number: float, unit: str) -> None:
    by_pint = reference.units().Quantity(number, unit)
    assert weighs_tex(written) == pytest.approx(by_pint.to("g/km").magnitude)


@pytest.mark.parametrize(
    ("written", "length"),
    [("100 m", True), ("12 yd", True), ("1 lb", False), ("8 oz", False), ("1.5 kg", False)],
)
def test_hanks_are_taken_by_length_and_by_weight(written: str, length: bool) -> None:
    found = amounts(Namespace(hank=[written], number=None))
    by_pint = reference.units().Quantity(written).to("mm" if length else "g").magnitude
    assert sum(found.lengths_mm) == pytest.approx(by_pint if length else 0)
    assert found.grams == pytest.approx(0 if length else by_pint)


@pytest.mark.parametrize("written", ["14", "14 per", "14 per hour", "-3 per m", "x per m"])
def test_a_price_of_cord_without_a_unit_is_refused_with_what_would_be_right(written: str) -> None:
    with pytest.raises(WrongStock, match="needs a length or a weight, as in '14 per 500 g'"):
        price(written, by_number=False)


def test_prices_of_things_are_kept_for_one_in_decimals() -> None:
    assert price("2 per 10", by_number=True) == "0.2"
    assert price("0.20 each", by_number=True) == "0.20"
    with pytest.raises(WrongStock, match="what one costs"):
        price("2 per 0", by_number=True)


@pytest.mark.parametrize("kind", DESK_EVENTS.by_name)
def test_every_entry_of_the_desk_is_looked_at_before_it_is_one(kind: str) -> None:
    """Values of other types, unknown fields and kinds, and what lacks something: all refused."""
    empty = {"at_ms": 1, "what": "x", "order": "x", "piece": "x", "title": "x", "source": "x",
             "piece_mm": 1.0, "from_mm": 1.0, "over_all": True, "count": 1}  # fmt: skip
    known = {
        name: v
        for name, v in empty.items()
        if name in DESK_EVENTS.by_name[kind].__dataclass_fields__
    }
    event = DESK_EVENTS.read(kind, known)
    assert DESK_EVENTS.read(kind, event.values()) == event
    for name in event.values():
        with pytest.raises(BadEntry):
            DESK_EVENTS.read(kind, {**known, name: None})
    for wrong in ({"at_ms": -1}, {"at_ms": True}, {"at_ms": 2.5}):
        with pytest.raises(BadEntry):
            DESK_EVENTS.read(kind, {**known, **wrong})
    with pytest.raises(BadEntry, match="lacks"):
        DESK_EVENTS.read(kind, {"at_ms": 1})
    with pytest.raises(UnknownEntry):
        DESK_EVENTS.read(kind, {**known, "tide": 1})
    with pytest.raises(UnknownEntry):
        DESK_EVENTS.read("dreamt", known)


def test_the_empty_desk_has_nothing() -> None:
    assert fold_desk([]) == DeskState()
