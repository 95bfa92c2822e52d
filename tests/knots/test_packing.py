"""How strands bunch up: hulls against a reference library and against geometry."""

import random
from itertools import combinations
from math import pi, sqrt

import numpy as np
import pytest
import scipy
from examples import examples
from hypothesis import given
from hypothesis import strategies as st

from coach.knots.hull import Circle, hull_perimeter, touching
from coach.knots.packing import Hull, bundle_hull, flat_hull, pack_circles, turn_mm

DIAMETER_MM = st.floats(0.3, 8.0)
BUNDLES_MM = st.lists(DIAMETER_MM, min_size=1, max_size=7)


def hull_by_points(circles: tuple[Circle, ...]) -> float:
    """Perimeter of the convex hull of a great many points on the circles."""
    angle = np.linspace(0, 2 * pi, 4000)
    points = [
        np.column_stack((c.x + c.radius * np.cos(angle), c.y + c.radius * np.sin(angle)))
        for c in circles
    ]
    return float(scipy.spatial.ConvexHull(np.concatenate(points)).area)


@pytest.mark.parametrize(
    ("count", "hull"), list(enumerate((0, 2, 3, 4, 5, 4 + sqrt(3), 6), start=1))
)
def test_equal_strands_pack_as_tightly_as_coins(count: int, hull: float) -> None:
    """Hull of the centres of n equal circles (convex geometry, worked out)."""
    assert bundle_hull([3.0] * count).perimeter_mm == pytest.approx(3 * (hull + pi))


@pytest.mark.parametrize("count", range(1, 13))
def test_equal_packing_meets_the_reference_hull(count: int) -> None:
    circles = pack_circles([2.0] * count)
    assert hull_perimeter(circles) == pytest.approx(hull_by_points(circles), rel=1e-5)


@pytest.mark.parametrize("seed", range(20))
def test_unequal_packing_meets_the_reference_hull_and_nothing_overlaps(seed: int) -> None:
    draw = random.Random(seed)  # noqa: S311 - a repeatable draw, no secret
    diameters = [draw.uniform(0.2, 4.0) for _ in range(draw.randint(2, 9))]
    circles = pack_circles(diameters)
    assert sorted(2 * c.radius for c in circles) == pytest.approx(sorted(diameters))
    assert min(one.gap(other) for one, other in combinations(circles, 2)) > -1e-7
    assert hull_perimeter(circles) == pytest.approx(hull_by_points(circles), rel=1e-5)
    assert bundle_hull(diameters).perimeter_mm == pytest.approx(hull_perimeter(circles))


def test_circle_that_touches_two_can_stand_on_either_side_of_them() -> None:
    one, other = Circle(1, 2, 1.5), Circle(5, 3.5, 2)
    places = touching(one, other, 0.8)
    assert len(set(places)) == 2
    for place in places:
        assert place.radius == 0.8
        assert (place.gap(one), place.gap(other)) == pytest.approx((0, 0), abs=1e-9)
    assert touching(one, other, 0.01) == ()


def test_every_strand_of_a_packing_touches_two_others() -> None:
    circles = pack_circles([1.0, 2.5, 0.7, 2.5, 1.3])
    for one in circles:
        assert sorted(abs(one.gap(c)) for c in circles if c is not one)[1] < 1e-7


def test_thin_strand_lies_in_the_hollow_of_three_thick_ones_without_lengthening_the_loop() -> None:
    assert bundle_hull([4, 4, 0.5]).perimeter_mm == pytest.approx(bundle_hull([4, 4]).perimeter_mm)


def test_hull_of_two_unequal_circles_is_that_of_an_open_belt() -> None:
    """Open belt round pulleys: two tangents and two arcs (geometry)."""
    lean = np.arcsin((3 - 1) / 4)
    belt = 2 * 4 * np.cos(lean) + 3 * (pi + 2 * lean) + 1 * (pi - 2 * lean)
    assert hull_perimeter((Circle(0, 0, 3), Circle(4, 0, 1))) == pytest.approx(belt)


@pytest.mark.parametrize("count", [1, 2, 3, 10, 40])
def test_flat_strands_are_a_stadium(count: int) -> None:
    assert flat_hull([2.0] * count).perimeter_mm == pytest.approx(2 * (2 * (count - 1) + pi))


def test_flat_hull_of_unequal_strands_meets_the_reference_hull() -> None:
    """On a board, circles of radii r and s touch when their middles are 2 sqrt(r s) apart."""
    circles = (Circle(0, 1, 1), Circle(2, 1, 1), Circle(2 + 2 * sqrt(3), 3, 3))
    assert flat_hull([2, 2, 6]).perimeter_mm == pytest.approx(hull_by_points(circles), rel=1e-5)


def test_thin_strand_lying_flat_between_thick_ones_changes_nothing() -> None:
    assert flat_hull([4, 0.5, 4]).perimeter_mm == pytest.approx(flat_hull([4, 4]).perimeter_mm)


def test_turn_round_one_equal_strand_is_half_the_tightest_hopf_link() -> None:
    """2 pi d: Cantarella, Kusner, Sullivan, Invent. Math. 150 (2002); figure worked out."""
    assert turn_mm(1.5, bundle_hull([1.5])) == pytest.approx(2 * pi * 1.5)


def test_turn_round_two_equal_strands_is_a_stadium() -> None:
    """(2 + 2 pi) d: Cantarella, Kusner, Sullivan, Invent. Math. 150 (2002); worked out."""
    assert turn_mm(1.5, bundle_hull([1.5, 1.5])) == pytest.approx((2 + 2 * pi) * 1.5)


def test_turn_of_a_thin_strand_round_a_thick_one_follows_both() -> None:
    assert turn_mm(1.0, bundle_hull([5.0])) == pytest.approx(pi * 6)


def test_girth_gives_the_diameter_back() -> None:
    assert Hull(perimeter_mm=pi * 4).diameter_mm == pytest.approx(4)


def test_thirteen_strands_go_on_from_twelve_and_two_hundred_stay_dense() -> None:
    girths = [bundle_hull([1.0] * count).perimeter_mm for count in (12, 13, 14, 200)]
    assert girths == sorted(girths)
    assert girths[1] / girths[0] == pytest.approx(sqrt(13 / 12))
    area = pi * (girths[3] / pi) ** 2 / 4
    assert 0.75 < 200 * pi / 4 / area < pi / sqrt(12)  # the densest packing of the plane


@pytest.mark.parametrize("wrong", [[], [0.0], [2.0, -1.0]])
def test_no_strand_or_one_of_no_thickness_is_refused(wrong: list[float]) -> None:
    for hull in (bundle_hull, flat_hull):
        with pytest.raises(ValueError, match="at least one strand"):
            hull(wrong)


@examples(30)
@given(BUNDLES_MM, st.floats(0.1, 10))
def test_bundles_grow_in_scale_and_their_order_does_not_matter(
    diameters: list[float], factor: float
) -> None:
    girth = bundle_hull(diameters).perimeter_mm
    grown = bundle_hull([d * factor for d in reversed(diameters)]).perimeter_mm
    assert grown == pytest.approx(girth * factor, rel=1e-6)


@examples(30)
@given(BUNDLES_MM, DIAMETER_MM)
def test_bundle_is_never_tighter_than_its_area_nor_looser_than_lying_flat(
    diameters: list[float], more: float
) -> None:
    hull = bundle_hull([*diameters, more])
    assert hull.diameter_mm**2 >= sum(d * d for d in diameters) + more * more - 1e-9
    assert hull.perimeter_mm <= pi * sum([*diameters, more]) + 1e-9
