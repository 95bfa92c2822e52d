"""Cord of knots tied once, of mounting and of plaits."""

from itertools import pairwise
from math import cos, dist, hypot, pi, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.knots import names
from coach.knots.geometry import (
    LOOPED,
    PINNED,
    NotTiedSoError,
    TieSize,
    barrel,
    berry,
    bundle_hull,
    flat_tie,
    gathering,
    gathering_turns,
    josephine,
    mount,
    overhand,
    plait_size,
    plait_take_up,
    turn_mm,
)

DIAMETER_MM = st.floats(0.3, 8.0)


def excess(tie: TieSize) -> float:
    """Cord of the first knotter over and above the height of the knot."""
    return tie.knotter_use_mm[0] - tie.down_mm


def test_overhand_knot_meets_the_excess_worked_out_by_tightening() -> None:
    """10.35 +- 0.1 d over the straight, height 2.4-3.4 d; worked out by tightening."""
    tie = overhand([1])
    assert excess(tie) == pytest.approx(10.35, abs=0.1)
    assert 2.4 <= tie.down_mm <= 3.4


@pytest.mark.parametrize(("strands", "more"), [(2, 14.22), (3, 17.11), (4, 19.83), (8, 27.23)])
def test_bundle_knotted_on_itself_meets_the_excess_worked_out_by_tightening(
    strands: int, more: float
) -> None:
    """Mean of the strands' excess; worked out by tightening, 3 %."""
    tie = overhand([1] * strands)
    assert len(tie.knotter_use_mm) == strands
    assert excess(tie) == pytest.approx(more, rel=0.03)


def test_bundle_is_as_high_as_one_strand_with_as_much_cord_in_it_and_lies_closer() -> None:
    """Equal areas of cross-section (geometry)."""
    both, one = overhand([3, 4]), overhand([5])
    assert (both.down_mm, both.across_mm) == pytest.approx((one.down_mm, one.across_mm))
    assert 0.9 * excess(one) < excess(both) < excess(one)


@pytest.mark.parametrize(("strands", "turns", "more"), [(1, 2, 17.27), (1, 3, 24.43), (2, 2, 24.7)])
def test_further_turns_meet_the_excess_worked_out_by_tightening(
    strands: int, turns: int, more: float
) -> None:
    """Double overhand knots, and three turns of a strand on itself; 3 %."""
    assert excess(overhand([1] * strands, turns)) == pytest.approx(more, rel=0.03)


def test_double_overhand_takes_a_turn_more_than_an_overhand() -> None:
    assert excess(overhand([1], turns=2)) - excess(overhand([1])) == pytest.approx(2 * pi + 1)


def test_barrel_knot_lies_between_the_figures_worked_out_by_tightening() -> None:
    """Three turns round two: 28.7-31.8 d, height 3.0-3.5 d; worked out by tightening."""
    tie = barrel(1, [1, 1], 3)
    assert 28.7 <= excess(tie) <= 31.8
    assert 3.0 <= tie.down_mm <= 3.5


def test_barrel_knot_alone_is_turns_of_the_strand_on_itself() -> None:
    assert barrel(2, [], 4) == overhand([2], turns=4)


def test_knots_without_a_turn_are_refused() -> None:
    with pytest.raises(ValueError, match="at least one turn"):
        barrel(1, [1], 0)
    with pytest.raises(ValueError, match="at least one turn"):
        overhand([1], 0)
    with pytest.raises(ValueError, match="at least one square knot"):
        berry((1, 1), [1], 0)


def test_turn_of_a_wrap_is_a_helix() -> None:
    """One turn of a helix as many short straight pieces (geometry)."""
    wrap, bundle = 1.5, (2.0, 2.0)
    radius = turn_mm(wrap, bundle_hull((*bundle, wrap, wrap))) / (2 * pi)
    turns = [i / 10_000 for i in range(10_001)]
    places = [(radius * cos(2 * pi * t), radius * sin(2 * pi * t), wrap * t) for t in turns]
    helix = sum(dist(one, other) for one, other in pairwise(places))
    tie = gathering(wrap, bundle, 10 * wrap)
    assert tie.knotter_use_mm[0] == pytest.approx(10 * helix + 2 * 10 * wrap)


def test_gathering_knot_covers_its_length_with_whole_turns() -> None:
    assert gathering_turns(2, 30) == 15
    assert gathering_turns(2, 30.1) == 16
    assert gathering_turns(2, 0.5) == 1
    assert gathering_turns(0.1, 0.3) == 3
    assert gathering(2, [1] * 8, 30).down_mm == 30


def test_gathering_knot_of_a_thicker_bundle_takes_more() -> None:
    thin, thick = (gathering(2, [1] * n, 30).knotter_use_mm[0] for n in (8, 30))
    assert thick > thin


@pytest.mark.parametrize(
    ("squares", "knotter", "filler", "height"),
    [(2, 33.1, 11.8, 5.5), (3, 47.8, 15.8, 5.8), (4, 65.0, 18.7, 6.4)],
)
def test_roll_of_a_berry_knot_meets_the_figures_worked_out_by_tightening(
    squares: int, knotter: float, filler: float, height: float
) -> None:
    """Excess of its strands and its height without the lock, two fillers; 5 %."""
    lock = flat_tie(names.SQUARE, (1, 1), [1, 1])
    tie = berry((1, 1), [1, 1], squares)
    roll = tie.down_mm - lock.down_mm
    assert roll == pytest.approx(height, rel=0.05)
    assert tie.knotter_use_mm[0] - lock.knotter_use_mm[0] - roll == pytest.approx(knotter, rel=0.05)
    assert tie.filler_use_mm - lock.filler_use_mm - roll == pytest.approx(filler, rel=0.05)


def test_berry_knot_is_shorter_than_the_sennit_that_is_rolled_up() -> None:
    square = flat_tie(names.SQUARE, (2, 2), [2, 2])
    assert square.down_mm < berry((2, 2), [2, 2], 3).down_mm < 4 * square.down_mm


def test_josephine_knot_uses_every_strand_alike_and_grows_with_its_bands() -> None:
    narrow, wide = josephine([1, 1], [1, 1]), josephine([1] * 3, [1] * 3)
    assert len(wide.knotter_use_mm) == 6
    assert len(set(wide.knotter_use_mm)) == 1
    assert wide.knotter_use_mm[0] > narrow.knotter_use_mm[0]
    assert wide.down_mm < wide.knotter_use_mm[0]


@pytest.mark.parametrize(("strands", "more"), [(1, 13.71), (2, 21.17), (3, 29.29)])
def test_josephine_knot_meets_the_excess_worked_out_by_tightening(
    strands: int, more: float
) -> None:
    """Flat, ends pulled, equal strands; 3 %."""
    tie = josephine([1] * strands, [1] * strands)
    assert excess(tie) == pytest.approx(more, rel=0.03)


@pytest.mark.parametrize(("strands", "height", "width"), [(1, 3.38, 6.0), (2, 6.79, 10.6)])
def test_josephine_knot_is_as_high_and_wide_as_worked_out_by_tightening(
    strands: int, height: float, width: float
) -> None:
    tie = josephine([1] * strands, [1] * strands)
    assert (tie.down_mm, tie.across_mm) == pytest.approx((height, width), rel=0.01)


def test_josephine_knot_of_unequal_strands_goes_by_its_bands_and_their_mean_strand() -> None:
    """Bands 3 and 5 wide of strands that are 2 thick in the mean."""
    assert josephine([1, 2], [2, 3]).knotter_use_mm == josephine([2, 2], [2, 2]).knotter_use_mm


@pytest.mark.parametrize("open_mm", [12.0, 30.0, 100.0])
def test_josephine_knot_laid_open_is_larger_in_one_ratio(open_mm: float) -> None:
    """A curve and its picture at another scale (geometry): as much longer as it is higher."""
    tight, laid = josephine([1, 1], [1, 1]), josephine([1, 1], [1, 1], open_mm)
    assert laid.down_mm == open_mm
    ratio = open_mm / tight.down_mm
    assert laid.knotter_use_mm[0] == pytest.approx(ratio * tight.knotter_use_mm[0])
    assert laid.across_mm == pytest.approx(ratio * tight.across_mm)


def test_josephine_knot_is_never_smaller_than_drawn_up() -> None:
    assert josephine([2, 2], [2, 2], 3.0) == josephine([2, 2], [2, 2])


def test_widths_of_knots_tied_once() -> None:
    """Bundle between two cords, and three strands of an overhand knot: rough figures of ours."""
    inside = bundle_hull([1, 1, 2]).diameter_mm
    assert barrel(2, [1, 1], 3).across_mm == pytest.approx(inside + 4)
    wrapped = bundle_hull([1, 1, 2, 2]).diameter_mm
    assert gathering(2, [1, 1], 30).across_mm == pytest.approx(wrapped + 4)
    assert overhand([2]).across_mm == pytest.approx(6)
    assert berry((1, 1), [2, 2], 3).across_mm == pytest.approx(4 + 3.44 + 2)


def test_knot_of_a_bundle_on_itself_has_no_filler() -> None:
    assert overhand([2, 2]).filler_use_mm == 0


@pytest.mark.parametrize(("bar", "piece"), [(1, 14.9), (2, 20.0), (4, 30.5), (8, 52.2)])
def test_mounting_on_a_bar_meets_the_figures_worked_out_by_tightening(
    bar: float, piece: float
) -> None:
    """Whole piece over its two drops from the bar's middle; worked out by tightening, 1.2 %."""
    mounting = mount(names.LARKS_HEAD, bar, [1])
    assert mounting.piece_use_mm[0] == pytest.approx(piece, rel=0.013)
    assert mounting.strand_width_mm == pytest.approx(2.0)
    assert mounting == mount(names.REVERSE_LARKS_HEAD, bar, [1])


def test_nest_looped_through_is_one_thick_lark_s_head() -> None:
    nest = mount(LOOPED, 30, [2, 2, 2])
    assert len(nest.piece_use_mm) == 3
    assert nest.piece_use_mm[0] > mount(LOOPED, 30, [2]).piece_use_mm[0]
    assert nest.strand_width_mm == pytest.approx(4 * bundle_hull([2, 2, 2]).diameter_mm / 6)


def test_pinned_pieces_go_half_round_the_pin_and_round_each_other() -> None:
    """Half circles through the middles of the cords (geometry)."""
    mounting = mount(PINNED, 1, [3, 2])
    assert mounting.piece_use_mm == pytest.approx([pi * (0.5 + 2 + 1.5), pi * (0.5 + 1)])
    assert mounting.strand_width_mm == pytest.approx(2.5)


def test_unknown_way_of_hanging_is_refused() -> None:
    with pytest.raises(NotTiedSoError, match="glued as a way of hanging"):
        mount("glued", 1, [1])


@pytest.mark.parametrize(
    ("pitch", "take_up"), [(1.0, 1.53), (1.1, 1.43), (1.2, 1.36), (1.5, 1.24), (2.0, 1.14)]
)
def test_plait_takes_up_as_worked_out_by_tightening(pitch: float, take_up: float) -> None:
    """Strand per length by pitch; worked out by tightening, 3 %."""
    assert plait_take_up(pitch) == pytest.approx(take_up, rel=0.03)


def test_plait_at_45_degrees_takes_up_the_diagonal() -> None:
    """1 / cos 45 degrees = 1.414 (geometry)."""
    assert plait_take_up(1.105) == pytest.approx(1 / cos(radians(45)))


def test_flat_plait_takes_up_about_half_as_much_again() -> None:
    """About 1.5 x: common practice, no source."""
    assert plait_take_up() == pytest.approx(1.5, rel=0.02)


def test_crossing_of_a_tight_plait_has_the_figures_worked_out_by_tightening() -> None:
    """1.53 of strand (3 %), 1.00 high, 3.1 wide, 2.06 thick; worked out by tightening."""
    crossing = plait_size([[1], [1], [1]])
    assert crossing.strand_use_mm == pytest.approx(1.53, rel=0.03)
    assert crossing.pitch_mm == pytest.approx(1.0)
    assert (crossing.width_mm, crossing.thickness_mm) == pytest.approx((3.1, 2.06))


def test_plait_of_bundles_is_one_of_strands_with_their_girth() -> None:
    thick = bundle_hull([2, 2]).diameter_mm
    assert plait_size([[2, 2]] * 3, 1.2) == plait_size([[thick]] * 3, 1.2)
    assert plait_size([[2, 2]] * 3).thickness_mm == pytest.approx(2.06 * thick)
    assert plait_size([[2, 2]] * 3).width_mm == pytest.approx(3.1 * thick)
    assert plait_size([[2, 2]] * 3).strand_use_mm == pytest.approx(thick * hypot(1, 1.105))


def figures(knotter: float, other: float) -> list[float]:
    """Cord and height of every knot that is tied once, with these diameters."""
    ties = [
        overhand([knotter, other]),
        overhand([other, knotter], 2),
        barrel(knotter, [other], 3),
        berry((knotter, knotter), [other, other], 3),
        josephine([knotter, knotter], [other, other]),
    ]
    hung = [
        mount(names.LARKS_HEAD, other, [knotter]).piece_use_mm[0],
        mount(LOOPED, other, [knotter, knotter]).piece_use_mm[0],
        *mount(PINNED, other, [knotter, other]).piece_use_mm,
    ]
    plaited = plait_size([[knotter], [other], [other]])
    knots = [length for tie in ties for length in (tie.knotter_use_mm[0], tie.down_mm)]
    return [*knots, *hung, plaited.strand_use_mm, plaited.pitch_mm]


@given(DIAMETER_MM, DIAMETER_MM, st.floats(1.01, 3))
def test_thicker_cord_never_takes_less(knotter: float, other: float, factor: float) -> None:
    plain = figures(knotter, other)
    for thicker in (figures(knotter * factor, other), figures(knotter, other * factor)):
        assert all(more >= less - 1e-9 for less, more in zip(plain, thicker, strict=True))


@given(DIAMETER_MM, DIAMETER_MM)
def test_twice_the_diameters_take_twice_the_lengths(knotter: float, other: float) -> None:
    double = figures(2 * knotter, 2 * other)
    assert double == pytest.approx([2 * length for length in figures(knotter, other)])
    wrapped = gathering(knotter, [other], 20).knotter_use_mm[0]
    assert gathering(2 * knotter, [2 * other], 40).knotter_use_mm[0] == pytest.approx(2 * wrapped)
