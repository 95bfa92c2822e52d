"""Quotes: what is cut and bought, hours, money, and the object that other programs read."""

from argparse import ArgumentParser
from collections import Counter
from datetime import date
from decimal import Decimal
from functools import partial
from itertools import product
from math import ceil

import pytest
from desk_data import PRICES, THREE_WAYS, group, keyring, practised, prices

from coach.cli.orders.copies_asked import group_planner, requested_groups
from coach.cli.orders.order_options import add_order_options
from coach.orders.cutting import cord_to_buy, hanks_needed
from coach.orders.material_names import Wanted, find_by_name, likeness, parse_finding, tally
from coach.orders.quote import quote_of
from coach.orders.quote_data import quote_json
from coach.orders.quote_model import Quote
from coach.orders.read_prices import cord_price
from coach.orders.stock import Item, Stock
from coach.pace.estimate import initial_paces, time_for
from coach.plan.cord.cut_list import cut_list
from coach.plan.resize.refit import CannotRefit

SUNDAY = date(2031, 5, 4)


def quoted(*ways: tuple[str, int], stock: Stock | None = None, known: bool = True) -> Quote:
    groups = [group(copies, way) for way, copies in ways or (("", 12),)]
    return quote_of(groups, stock or Stock(), prices() if known else None, practised(), SUNDAY)


CONTRACT = {
    "title": str, "copies": int, "pieces": [{"colourway": str, "copies": int, "length_mm": float}],
    "cords": [{"id": str, "cut": [{"mm": float, "pieces": int}], "total_mm": float,
               "in_stock_mm": float, "to_buy": [{"what": str, "count": int, "price": float}]}],
    "findings": [{"what": str, "count": int, "price": float}],
    "hours": {"low": float, "likely": float, "high": float},
    "cost": {"material": float, "work": float, "overhead": float},
    "price": {"each": float, "total": float, "currency": str},
    "ready": {"early": str, "likely": str, "late": str},
}  # fmt: skip
"""The keys and types of the contract of `orders.md`; others may be there beside them."""


def held(told: object, contract: object, at: str = "") -> None:
    if isinstance(contract, dict):
        assert isinstance(told, dict), at
        for key, inner in contract.items():
            assert key in told, f"{at}.{key}"
            held(told[key], inner, f"{at}.{key}")
    elif isinstance(contract, list):
        assert isinstance(told, list), at
        assert told, at
        for one in told:
            held(one, contract[0], f"{at}[]")
    else:
        assert isinstance(contract, type)
        assert isinstance(told, contract), f"{at}: {told!r}"


def test_the_object_has_every_key_of_the_contract() -> None:
    held(quote_json(quoted(*THREE_WAYS)), CONTRACT)


CORDS = "cords: {reed: 0.35 per m, clay: 7 per 50 m, cotton 2 mm: 9 per hank of 40 m}\n"


def test_what_is_not_known_is_null_and_never_a_guess() -> None:
    told = quote_json(quoted(known=False))
    assert (told["cost"], told["price"], told["ready"]) == (None, None, None)
    assert {b["price"] for cord in told["cords"] for b in cord["to_buy"]} == {None}
    for missing in ("hour: 14\n", "25 mm split ring: 0.20, ", CORDS):
        from_less = quote_of([group(12)], Stock(), prices(_without(missing)), practised(), SUNDAY)
        told = quote_json(from_less)
        assert told["price"] is None
        assert from_less.missing


def _without(text: str) -> str:
    return PRICES.replace(text, "")


def test_cuts_are_those_of_the_cut_list_times_the_copies_by_colour() -> None:
    quote = quoted(*THREE_WAYS)
    one = {c.cord: Counter({cut.cut_mm: cut.pieces for cut in c.cuts}) for c in cut_list(keyring())}
    assert len(quote.cords) == 6
    for order in quote.cords:
        assert dict(order.cuts) == {
            mm: 4 * pieces for mm, pieces in one[order.wanted.cord.id].items()
        }


def test_the_price_is_the_rule_worked_by_hand_in_decimals() -> None:
    """Cost and 10 % overhead, 30 % on both, up to the next half: sums by hand."""
    quote = quoted(("", 12))
    told = quote_json(quote)
    assert quote.cost
    assert quote.cost.work
    by_cord = {c["id"]: Decimal(str(c["total_mm"])) for c in told["cords"]}
    cords = by_cord["reed"] / 1000 * Decimal("0.35") + by_cord["clay"] / 50_000 * 7
    assert quote.cost.cords == pytest.approx(cords)
    material = cords + 12 * Decimal("0.30") + 12 * Decimal("0.15")
    assert quote.cost.material == pytest.approx(material)
    work = Decimal(repr(quote.hours.likely_s)) / 3600 * 14
    each = (material + work) / 12 * Decimal("1.1") * Decimal("1.3")
    up = ceil(each * 2) / Decimal(2)
    assert told["price"]["each"] == float(up)
    assert told["price"]["total"] == float(12 * up)
    assert quote.each
    assert quote.each[0].low <= quote.each[0].likely <= quote.each[0].high


def test_a_batch_is_quicker_a_piece_by_the_practice_law_and_never_by_more_than_it_says() -> None:
    """Newness of hands fades as exp(-x / NEW_S) of the work made (Heathcote, Brown & Mewhort 2000).

    So twelve take less than twelve times one, and no less than twelve times one without newness.
    """
    one, many = group(1), quoted(("", 12))
    for skill in ("new to it", "practised"):
        pace = partial(time_for, initial_paces(skill))
        batch = quote_of([group(12)], Stock(), None, pace, SUNDAY)
        alone = pace(one.work).likely_s
        knotting = batch.hours.likely_s - 11 * 300
        assert knotting < 12 * alone
        assert knotting > 12 * alone * 0.7
    assert many.hours.likely_s > many.alone.likely_s


def test_copies_of_two_lengths_are_fitted_each_to_its_own() -> None:
    parser = ArgumentParser()
    add_order_options(parser)
    options = parser.parse_args(["--copies", "4 of 12 cm, 8 of 15 cm"])
    groups = requested_groups(options, keyring())
    plans = group_planner(keyring(), options, groups)
    assert [one.copies for one in groups] == [4, 8]
    short, long = (plans(one).plan for one in groups)
    assert abs(short.length_mm - 120) < 20
    assert short.length_mm < long.length_mm


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--colourway", "dusk", "--colourway", "foam"], "such as dusk=6"),
        (["--colourway", "dawn=3"], "It has ‘dusk’, ‘foam’ and ‘silt’"),
        (["--copies", "0"], "Write how many"),
        (["--copies", "2", "--colourway", "dusk=3"], "more than the 2"),
        (["--copies", "9999"], "Up to 1,000"),
        (["--copies", "twelve"], "Write how many"),
    ],
)
def test_what_cannot_be_quoted_is_told_with_what_can(options: list[str], told: str) -> None:
    parser = ArgumentParser()
    add_order_options(parser)
    with pytest.raises(CannotRefit, match=told):
        requested_groups(parser.parse_args(options), keyring())


def test_stock_is_cut_first_and_only_the_rest_is_bought() -> None:
    wanted = cut_list(keyring())[0].cut_mm
    item = Item("Reed  cotton 2mm", lengths_mm=(wanted, 2.5 * wanted))
    quote = quoted(("", 4), stock=Stock().with_item(item))
    reed = next(c for c in quote.cords if c.wanted.cord.id == "reed")
    assert len(reed.short_mm) == 1
    assert reed.in_stock_mm == 3.5 * wanted
    assert reed.to_buy[0].count == -(-wanted // 1000)


@pytest.mark.parametrize("pieces", [[7, 6, 4, 3, 3, 2], [5, 5, 5, 5], [9, 1, 8, 2, 7, 3], [4] * 7])
def test_hanks_to_buy_are_never_more_than_first_fit_decreasing_nor_fewer_than_the_bound(
    pieces: list[int],
) -> None:
    """First-fit-decreasing written anew, the bound by length, and every way for these few."""
    size, rests = 10, list[int]()
    for piece in sorted(pieces, reverse=True):
        place = next((n for n, rest in enumerate(rests) if rest >= piece), None)
        if place is None:
            rests.append(size - piece)
        else:
            rests[place] -= piece
    found = hanks_needed(pieces, size)
    assert -(-sum(pieces) // size) <= found <= len(rests)
    ways = product(range(found - 1), repeat=len(pieces)) if found > 1 else ()
    for way in ways:
        loads = Counter[int]()
        for hank, piece in zip(way, pieces, strict=True):
            loads[hank] += piece
        assert max(loads.values()) > size


def test_what_is_bought_is_in_the_units_it_is_sold_in() -> None:
    """4 g/m: a ball of 500 g is 125 m; off the roll whole metres are paid."""
    pieces = [1320.0] * 12
    ball = cord_to_buy("clay", pieces, cord_price("7 per 500 g"), 4000.0)
    assert [(b.count, b.money) for b in ball] == [(1, 7)]
    loose = cord_to_buy("clay", pieces, cord_price("0.35 per m"), None)
    assert [(b.count, b.money) for b in loose] == [(16, Decimal("5.60"))]
    hanks = cord_to_buy("clay", pieces, cord_price("2 per 3 m"), None)
    assert [(b.count, b.money) for b in hanks] == [(6, 12)]  # two pieces a hank, the rest is waste
    unweighed = cord_to_buy("clay", pieces, cord_price("7 per 500 g"), None)
    assert unweighed[0].money is None


def test_findings_are_counted_as_they_are_written() -> None:
    assert parse_finding("25 mm split ring") == (1, "25 mm split ring")
    assert parse_finding("one 8 mm wooden bead") == (1, "8 mm wooden bead")
    assert parse_finding("4 wooden beads") == (4, "wooden beads")
    assert parse_finding("3 x 8 mm bead") == (3, "8 mm bead")
    assert tally(["two beads", "a dowel"], 3) == {"beads": 6, "dowel": 3}
    assert find_by_name("wooden beads", {"Wooden bead": 1}) == 1


def test_a_label_is_known_by_name_colour_fibre_and_thickness() -> None:
    clay = keyring().project.cords["clay"]
    own, plum = Wanted(clay, clay.colour), Wanted(clay, "#dda0dd", own=False)
    for label in ("clay cotton 2 mm", "sienna cotton 2mm", "CLAY"):
        assert likeness(label, own) == 2
    for label in ("clay cotton 3 mm", "clay linen 2 mm", "reed cotton 2 mm"):
        assert likeness(label, own) == 0
    assert likeness("plum cotton 2 mm", plum) == 2
    assert likeness("clay cotton 2 mm", plum) == 0
    linen = Wanted(clay, "#faf0e6", own=False)
    assert likeness("linen cotton 2 mm", linen) == 2
