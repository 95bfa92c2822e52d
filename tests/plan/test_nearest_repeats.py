"""The search for repeats, against looking at every number there is."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.plan.resize.nearest_length import Nearest, NotLonger, nearest_repeats


def looked_at(lengths: dict[int, float], wish_mm: float) -> tuple[Nearest, list[int]]:
    """Search among lengths by number of steps; also give the numbers that were asked for."""
    asked: list[int] = []

    def length_of(steps: int) -> float | None:
        asked.append(steps)
        return lengths.get(steps)

    return nearest_repeats(length_of, wish_mm), asked


@given(
    fewer=st.lists(st.floats(0.5, 40), max_size=20),
    more=st.lists(st.floats(0.5, 40), min_size=1, max_size=60),
    wish_mm=st.floats(-400, 3000),
)
def test_the_number_found_is_the_nearest_of_all_that_can_be_made(
    fewer: list[float], more: list[float], wish_mm: float
) -> None:
    """However unevenly they grow, and however far off the wish is."""
    lengths = {0: 200.0}
    for steps, grown in enumerate(more, start=1):
        lengths[steps] = lengths[steps - 1] + grown
    for steps, grown in enumerate(fewer, start=1):
        lengths[-steps] = lengths[1 - steps] - grown
    found, asked = looked_at(lengths, wish_mm)
    best = min(abs(length - wish_mm) for length in lengths.values())
    assert abs(found.length_mm - wish_mm) == pytest.approx(best)
    assert found.length_mm == lengths[found.steps]
    assert len(asked) == len(set(asked)), "a plan was worked out twice"


@pytest.mark.parametrize("wish_mm", [30.0, 95.0, 1000.0, 98_765.0])
def test_few_plans_are_worked_out_where_every_step_adds_the_same(wish_mm: float) -> None:
    lengths = {steps: 100.0 + 7.3 * steps for steps in range(-13, 20_000)}
    found, asked = looked_at(lengths, wish_mm)
    assert abs(found.length_mm - wish_mm) <= 7.3 / 2
    assert len(asked) <= 5


def test_a_wish_that_nothing_comes_near_is_told_from_one_that_is_met() -> None:
    lengths = {steps: 50.0 + 10.0 * steps for steps in range(-2, 4)}
    assert looked_at(lengths, 84.0)[0].reaches(84.0)
    least, most = looked_at(lengths, 12.0)[0], looked_at(lengths, 999.0)[0]
    assert (least.steps, least.reaches(12.0)) == (-2, False)
    assert (most.steps, most.reaches(999.0)) == (3, False)


def test_of_two_that_are_as_near_the_fewer_are_taken() -> None:
    lengths = {steps: 50.0 + 10.0 * steps for steps in range(9)}
    assert looked_at(lengths, 75.0)[0].steps == 2


def test_steps_that_add_no_length_are_told() -> None:
    with pytest.raises(NotLonger):
        looked_at(dict.fromkeys(range(-3, 9), 50.0), 75.0)
