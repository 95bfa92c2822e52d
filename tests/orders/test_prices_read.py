"""`prices.yaml`: read with places, told like a project's faults, and known to editors."""

from decimal import Decimal

import jsonschema
import pytest
import yaml
from desk_data import PRICES, prices

from coach.orders.prices import Prices, Rounding
from coach.orders.read_prices import KEYS, prices_schema, read_prices

FAULTY = [
    ("hour: twelve", 1, "not an amount of money"),
    ("hour: 12,50", 1, "not an amount of money"),
    ("hour: -3", 1, "not an amount of money"),
    ("cords: {reed: 3}", 1, "not a price for a length or a weight"),
    ("cords: {reed: 3 per hour}", 1, "not a price for a length or a weight"),
    ("cords: {reed: 3 per 0 kg}", 1, "not a price for a length or a weight"),
    ("cords: {reed: 3 per}", 1, "not a price for a length or a weight"),
    ("cords: {reed: 3 per 0 m}", 1, "not a price for a length or a weight"),
    ("cords: [reed]", 1, "needs names with prices"),
    ("hour: 9\nhours: {}", 2, "never gets anything ready"),
    ("hours: {mon: 0 h, sat: 0 min}", 1, "never gets anything ready"),
    ("hours: {mon: 25 h}", 1, "24 hours"),
    ("hours: {moonday: 1 h}", 1, "not a day of the week"),
    ("hours: 3 h", 1, "for each day"),
    ("days off: [2031-02-30]", 1, "not a date"),
    ("days off: 2031-05-04 to 2031-05-03", 1, "comes before its beginning"),
    ("rounding: 0", 1, "not an amount that prices can be rounded to"),
    ("margin: 30", 1, "share"),
    ("overhead: much", 1, "not an amount of money"),
    ("pay: 3", 1, "no key"),
    ("hour: [", 1, ""),
    ("just words", 1, "not a list of prices"),
]


@pytest.mark.parametrize(("text", "line", "told"), FAULTY)
def test_what_is_wrong_is_told_with_its_place_and_what_would_be_right(
    text: str, line: int, told: str
) -> None:
    problems = read_prices(text).problems
    assert problems
    assert problems[0].span.line == line
    assert told in problems[0].message
    assert problems[0].hint


@pytest.mark.parametrize("text", ["", "# nothing yet\n", "hour: 12\r\ncurrency: £\r\n"])
def test_what_is_sound_has_no_problems(text: str) -> None:
    reading = read_prices(text)
    assert not reading.problems
    assert (reading.prices == Prices()) == ("hour" not in text)


def test_currency_is_written_as_the_maker_writes_it() -> None:
    assert [prices(f"currency: {c}").currency for c in ("€", "kr", "fr.")] == ["€", "kr", "fr."]


def as_written(text: str) -> object:
    """Return YAML with every word as a text, as the reader sees it."""
    return yaml.load(text, Loader=yaml.BaseLoader)  # noqa: S506 - gives texts, lists and mappings


def test_the_schema_for_editors_says_what_the_reader_takes() -> None:
    """Whatever the reader takes the schema takes; shapes and words that it refuses, too."""
    known = prices_schema()
    jsonschema.Draft202012Validator.check_schema(known)
    checked = jsonschema.Draft202012Validator(known)
    assert set(known["properties"]) == {key.name for key in KEYS.values()}  # type: ignore[union-attr]
    whole = as_written(PRICES)
    assert checked.is_valid(whole)
    for text in ("cords: [reed]", "hours: {}", "hours: {moonday: 1 h}", "pay: 3", "margin: 30",
                 "cords: {reed: 3}", "hour: twelve", "days off: tomorrow"):  # fmt: skip
        assert not checked.is_valid(as_written(text)), text


def test_prices_round_to_the_nearest_or_up_in_decimals() -> None:
    """Binary fractions would make 1.005 one cent too little, and 0.1 + 0.2 more than 0.3."""
    nearest, up = Rounding(Decimal("0.01")), Rounding(Decimal("0.50"), up=True)
    assert nearest.rounded(Decimal("1.005")) == Decimal("1.01")
    assert nearest.rounded(Decimal("0.1") + Decimal("0.2")) == Decimal("0.3")
    assert [up.rounded(Decimal(p)) for p in ("4.50", "4.51", "4.99")] == [
        Decimal("4.50"), Decimal("5.00"), Decimal("5.00"),
    ]  # fmt: skip
    assert up.rounded(Decimal(9) / Decimal(3) / 2 * 3) == Decimal("4.50")
