"""Quantities as makers write them."""

from fractions import Fraction

import pytest
import reference
from hypothesis import given
from hypothesis import strategies as st
from processes import run_python

from coach import quantities
from coach.quantities import QuantityError, units


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("18 cm", 180),
        ("18cm", 180),
        ("1.5 mm", 1.5),
        (".5 cm", 5),
        ("2 m", 2000),
        ("2 M", 2000),
        ("0 mm", 0),
        # 1 in = 25.4 mm exactly: international yard and pound agreement, 1959 (memory)
        ("1 in", 25.4),
        ("7 in", 177.8),
        ('7"', 177.8),
        ("7\u2033", 177.8),
        ("1/2 in", 12.7),
        ("1 1/2 in", 38.1),
        ("1½ in", 38.1),
        ("½ in", 12.7),
        ("1 ft", 304.8),
        ("5 ft 6 in", 1676.4),
        # 1 yd = 0.9144 m: the same agreement (memory)
        ("1 yd", 914.4),
        ("100000 m", 1e8),
    ],
)
def test_lengths_are_read_exactly(text: str, mm: float) -> None:
    """Every way of writing a length gives its mm without a rounding error."""
    assert quantities.length_mm(text) == mm


@pytest.mark.parametrize(
    ("text", "seconds"),
    [("45 min", 2700), ("1 h 10 min", 4200), ("1h10min", 4200), ("90 s", 90), ("1 1/2 h", 5400)],
)
def test_times_are_read(text: str, seconds: float) -> None:
    """Hours, minutes and seconds add up."""
    assert quantities.time_s(text) == seconds


@pytest.mark.parametrize(
    ("text", "least", "most"),
    [
        ("20-30 min", 1200, 1800),
        ("20\u201330 min", 1200, 1800),
        ("20 min - 1 h 30 min", 1200, 5400),
        ("5 to 6 h", 18000, 21600),
        ("45 min", 2700, 2700),
    ],
)
def test_ranges_of_time_are_read(text: str, least: float, most: float) -> None:
    """A range has two ends, a single time the same one twice."""
    assert quantities.time_range_s(text) == (least, most)


def test_shares_and_slopes_are_read() -> None:
    """A share is of one, a slope in degrees."""
    assert quantities.share("10 %") == 0.1
    assert quantities.share("0%") == 0
    assert quantities.angle_deg("45°") == quantities.angle_deg("45 deg") == 45


@pytest.mark.parametrize(
    ("text", "said", "hint"),
    [
        ("10,5 cm", "comma", "‘10.5 cm’"),
        ("-3 cm", "negative", "‘18 cm’"),
        ("inf cm", "number and a unit", ""),
        ("nan", "number and a unit", ""),
        ("", "number and a unit", ""),
        ("cm", "number and a unit", ""),
        ("18", "unit of this length is missing", "‘18 cm’"),
        ("18 cn", "Unknown unit", "‘cm’"),
        ("18 parsecs", "Unknown unit", "mm, cm"),
        ("45 min", "is a time", "length"),
        ("200000 m", "too large", ""),
        ("1e5 mm", "Unknown unit", ""),
        ("1/0 in", "0 below", ""),
        ("6 in 5 ft", "from large to small", ""),
        ("5 cm 5 cm", "from large to small", ""),
        ("9" * 40 + " cm", "too many figures", ""),
        ("9**9**9 m", "missing", ""),
        ("1" * 5000, "too long", ""),
        ("18 cm!", "number and a unit", ""),
    ],
)
def test_what_is_no_length_is_refused_with_a_reason(text: str, said: str, hint: str) -> None:
    """The message says what is wrong and the hint what would be right."""
    with pytest.raises(QuantityError) as caught:
        quantities.length_mm(text)
    assert said in caught.value.message
    assert hint in caught.value.hint


def test_no_length_at_all_is_refused_where_it_makes_no_sense() -> None:
    """A diameter cannot be zero."""
    with pytest.raises(QuantityError, match="more than zero"):
        quantities.length_mm("0 mm", zero=False)


@pytest.mark.parametrize("text", ["30-20 min", "5-6", "-5 min", "a-b", "3 cm", "1-2-3 min"])
def test_ranges_that_make_no_sense_are_refused(text: str) -> None:
    """Ends must be in order, times, and have a unit."""
    with pytest.raises(QuantityError):
        quantities.time_range_s(text)


@pytest.mark.parametrize("text", ["201 %", "10", "-1 %"])
def test_shares_beyond_all_sense_are_refused(text: str) -> None:
    """A margin has a unit and is 200 % at most."""
    with pytest.raises(QuantityError):
        quantities.share(text)


@pytest.mark.parametrize("text", ["0°", "90°", "91°", "45"])
def test_slopes_that_are_none_are_refused(text: str) -> None:
    """A slope lies between level and upright."""
    with pytest.raises(QuantityError):
        quantities.angle_deg(text)


UNITS = ["mm", "cm", "m", "in", "ft", "yd"]


@given(st.integers(0, 999), st.integers(0, 63), st.integers(1, 64), st.sampled_from(UNITS))
def test_mixed_fractions_agree_with_fractions_and_pint(
    whole: int, above: int, below: int, unit: str
) -> None:
    """What is read equals exact arithmetic, converted by pint's own registry."""
    exact = whole + Fraction(above, below)
    expected = reference.units().Quantity(float(exact), unit).to("mm").magnitude
    assert quantities.length_mm(f"{whole} {above}/{below} {unit}") == pytest.approx(expected)


@given(st.decimals(0, 9999, places=3), st.sampled_from(UNITS))
def test_decimals_agree_with_fractions_and_pint(number: object, unit: str) -> None:
    """The same for numbers with a point."""
    expected = reference.units().Quantity(float(Fraction(str(number))), unit).to("mm").magnitude
    assert quantities.length_mm(f"{number} {unit}") == pytest.approx(expected)


@given(st.text() | st.from_regex(r"\A[0-9 ./,\-a-z%°\"']{0,30}\Z"))
def test_any_text_is_read_or_refused(text: str) -> None:
    """Nothing but QuantityError leaves a reader, and what is read is a sane number."""
    for read in (
        quantities.length_mm, quantities.time_s, quantities.share, quantities.angle_deg,
        quantities.mass_g, quantities.fineness_tex,
        lambda text: quantities.cord_amount(text).size,
    ):  # fmt: skip
        try:
            value = read(text)
        except QuantityError:
            continue
        else:
            assert 0 <= value <= 1e8


@pytest.mark.parametrize(
    ("mm", "unit", "shown"),
    [
        (180, "cm", "18 cm"),
        (183, "cm", "18.3 cm"),
        (1.5, "cm", "1.5 mm"),
        (9.96, "cm", "1 cm"),
        (0, "cm", "0 mm"),
        (54_300, "cm", "54.3 m"),
        (179.3875, "in", "7 1/16 in"),
        (25.4, "in", "1 in"),
        (12.7, "in", "1/2 in"),
        (0, "in", "0 in"),
        (-12.7, "in", "-1/2 in"),
        (9144, "in", "10 yd"),
    ],
)
def test_lengths_are_shown_as_makers_say_them(mm: float, unit: str, shown: str) -> None:
    """Lengths are rounded as far as a tape measure goes."""
    assert quantities.show_length(mm, unit) == shown


@pytest.mark.parametrize(
    ("mm", "unit", "shown"),
    [
        (145, "cm", "14.5 cm"), (995, "cm", "99.5 cm"), (1000, "cm", "1 m"),
        (1525, "cm", "1.525 m"), (17_300, "cm", "17.3 m"), (1524, "in", "60 in"),
    ],
)  # fmt: skip
def test_lengths_to_cut_are_in_metres_from_one_metre_on(mm: float, unit: str, shown: str) -> None:
    assert quantities.show_cut(mm, unit) == shown


@pytest.mark.parametrize(
    ("seconds", "shown"),
    [
        (0, "0 s"),
        (59.6, "1 min"),
        (90, "90 s"),
        (120, "2 min"),
        (2700, "45 min"),
        (3599, "1 h"),
        (4200, "1 h 10 min"),
    ],
)
def test_times_are_shown_as_makers_say_them(seconds: float, shown: str) -> None:
    """Times are rounded to the minute."""
    assert quantities.show_time(seconds) == shown


@given(st.integers(1, 9999))
def test_shown_lengths_read_back(mm: int) -> None:
    """What is shown in whole mm can be typed in again."""
    assert quantities.length_mm(quantities.show_length(mm)) == mm


BY_PINT = {"%": "percent", "°": "degree"}


@pytest.mark.parametrize("row", units.EVERYDAY, ids=lambda row: row[2])
def test_each_everyday_unit_is_as_large_as_the_reference_library_has_it(
    row: tuple[units.Dimension, str, str],
) -> None:
    """Every factor of the small table is exactly the one of pint's own registry."""
    dimension, size, spellings = row
    base = {"1": "dimensionless", "°": "degree"}.get(units.BASES[dimension], units.BASES[dimension])
    first, *others = spellings.split()
    name = BY_PINT.get(first, first)
    assert reference.exact_units().Quantity(Fraction(1), name).to(base).magnitude == Fraction(size)
    for spelling in (first, *others):
        assert units.unit_of(spelling.upper()) == units.Unit(dimension, Fraction(size))


@pytest.mark.parametrize("row", units._BY_PINT, ids=lambda row: row[2])
def test_each_other_unit_is_one_that_the_library_knows(
    row: tuple[units.Dimension, str, str],
) -> None:
    """And every spelling of it is the same unit."""
    found = {units.unit_of(spelling) for spelling in row[2].split()}
    assert len(found) == 1
    assert all(unit and unit.dimension == row[0] and unit.size > 0 for unit in found)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("1 fathom", 1828.8),
        ("0.1 fathom", 182.88),
        ("2 Fathoms", 3657.6),
        ("1 span", 228.6),
        ("3 hands", 304.8),
        ("1 fathom 1 span", 2057.4),
    ],
)
def test_lengths_by_hand_and_arm_are_read(text: str, mm: float) -> None:
    """A fathom is 6 ft (of the US survey in pint, 2 parts in a million more), a span 9 in."""
    assert quantities.length_mm(text) == pytest.approx(mm, rel=3e-6)


@pytest.mark.parametrize(
    ("text", "grams"),
    [("500 g", 500), ("1.5 kg", 1500), ("1 lb", 453.59237), ("1 oz", 28.349523125)],
)
def test_weights_are_read(text: str, grams: float) -> None:
    """1 lb = 0.45359237 kg: international yard and pound agreement, 1959 (memory)."""
    assert quantities.mass_g(text) == pytest.approx(grams)


@pytest.mark.parametrize(
    ("text", "tex"),
    [
        ("4 g/m", 4000),
        ("1200 tex", 1200),
        ("1200 dtex", 120),
        ("210 denier", 210 / 9),  # 1 denier = 1 g per 9 km: ISO 1144:2016, quoted
        ("250 m per kg", 4000),
        ("250 m/kg", 4000),
        ("85 m per 100 g", 100 / 0.085),
        ("100 yd per lb", 453.59237 / 0.09144),
        ("4 g per m", 4000),
        ("1/2 oz/yd", 28.349523125 / 2 / 0.0009144),
        ("500 g per 125 m", 4000),
        ("2 kg / 1 1/2 fathom", pytest.approx(2000 / 0.0027432, rel=3e-6)),
    ],
)
def test_fineness_is_read_as_cord_is_sold(text: str, tex: float) -> None:
    assert quantities.fineness_tex(text) == pytest.approx(tex)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("4 g", "weight per length"),
        ("4 m", "weight per length"),
        ("4", "unit of this weight per length is missing"),
        ("0 tex", "No cord weighs so little"),
        ("250 m per s", "time"),
        ("250 m per 4 m", "not a weight per length"),
        ("0 m per kg", "more than zero"),
        ("g/m", "number and a unit"),
        ("4 g/", "number and a unit"),
        ("4 x/m", "Unknown unit ‘x’"),
        ("4 g/m/m", "not a weight per length"),
        ("-4 g/m", "cannot be negative"),
        ("4,5 g/m", "point, not a comma"),
        ("9 kg/mm", "No cord weighs"),
    ],
)
def test_what_is_no_weight_per_length_is_refused_with_a_reason(text: str, said: str) -> None:
    with pytest.raises(QuantityError) as caught:
        quantities.fineness_tex(text)
    assert said in caught.value.message


def test_cord_in_hand_is_so_long_or_so_heavy() -> None:
    """500 g of a cord of 4 g/m are 125 m; without what it weighs nobody can tell."""
    assert quantities.cord_amount("25 m").length_mm(None) == 25_000
    assert quantities.cord_amount("500 g").length_mm(4000) == pytest.approx(125_000)
    assert quantities.cord_amount("1 lb 4 oz").size == pytest.approx(20 * 28.349523125)
    assert quantities.cord_amount("500 g").length_mm(None) is None
    for text, said in [("45 min", "time"), ("0 m", "zero"), ("0 g", "zero"), ("9", "missing")]:
        with pytest.raises(QuantityError, match=said):
            quantities.cord_amount(text)


def test_what_cord_weighs_is_shown_to_three_figures() -> None:
    assert [quantities.show_fineness(tex) for tex in (4000, 1234.5, 23.33, 100_000)] == [
        "4 g/m", "1.23 g/m", "0.0233 g/m", "100 g/m",
    ]  # fmt: skip


@given(st.floats(1, 1e6), st.floats(1, 1e5))
def test_weight_and_length_of_cord_undo_each_other(length_mm: float, tex: float) -> None:
    grams = quantities.mass_of_g(length_mm, tex)
    assert quantities.length_of_mm(grams, tex) == pytest.approx(length_mm)


def test_thickness_follows_the_printed_formula() -> None:
    """d (mm) = 0.0374 sqrt(tex) at 1.1 cm3/g: Peirce, quoted; a lighter fibre is thicker."""
    assert quantities.diameter_of_mm(2500) == pytest.approx(1.87)
    assert quantities.diameter_of_mm(2500, "waxed cotton") == pytest.approx(1.87)
    assert quantities.diameter_of_mm(2500, "polypropylene") > quantities.diameter_of_mm(2500)


def test_converting_loads_no_library_of_units() -> None:
    """A project is read without the tenth of a second that loading such a library takes."""
    code = (
        "import sys; import coach.quantities as q; q.length_mm('1 in');"
        "assert 'pint' not in sys.modules; print('fine')"
    )
    assert run_python("-c", code, check=True).stdout == "fine\n"
