"""A project's own wish: the repeats it chooses, and when what is written stays."""

import pytest
from planned import planned

from coach.plan.resize.own_wish import own_wish, refitted_to_own_wish
from coach.plan.resize.refit import recompiled, with_repeats_of
from coach.plan.resize.size_request import Wish
from coach.plan.tension import NOMINAL

STRAP = """
coach: 1
title: Clay strap
cords:
  reed: {colour: green, diameter: 2 mm, pieces: 1}
  clay: {colour: sienna, diameter: 2 mm, pieces: 1}
start: {nest: [reed, clay]}
work:
  - {use: knots, times: 7}
  - {space: 2 cm, name: end}
parts:
  knots: [{knot: square knot, strands: 1-4, times: 2}]
size: {%s}
"""


@pytest.mark.parametrize("wish_mm", [90, 123, 200, 377])
def test_the_repeats_chosen_are_the_nearest_of_all(wish_mm: int) -> None:
    plan = planned(STRAP % f"wish: {wish_mm} mm, vary: knots, least: 3, step: 2")
    lengths = {n: recompiled(with_repeats_of(plan.project, "knots", n)).length_mm
               for n in range(3, 41, 2)}  # fmt: skip
    nearest = min(lengths, key=lambda n: abs(lengths[n] - wish_mm))
    found = refitted_to_own_wish(plan)
    chosen = found.plan if found else plan
    assert chosen.repeats["knots"] == nearest
    assert (found is None) == (nearest == 7)


@pytest.mark.parametrize(
    "size",
    ["vary: knots", "length: 30 cm, vary: knots", "wish: 30 cm", "wish: 1 cm, vary: knots"],
)
def test_nothing_is_chosen_without_a_wish_or_where_it_cannot_be_met(size: str) -> None:
    assert refitted_to_own_wish(planned(STRAP % size)) is None
    assert own_wish(planned(STRAP % size)) == Wish()


def test_what_was_chosen_is_chosen_again() -> None:
    found = refitted_to_own_wish(planned(STRAP % "wish: 30 cm, vary: knots"))
    assert found
    assert refitted_to_own_wish(found.plan) is None


def test_a_length_that_varies_is_measured_off_in_whole_millimetres() -> None:
    found = refitted_to_own_wish(planned(STRAP % "wish: 20 cm, vary: end"))
    assert found
    (length_mm,) = found.wish.lengths.values()
    assert length_mm == round(length_mm)
    assert found.plan.length_mm == pytest.approx(200, abs=0.6)
    assert refitted_to_own_wish(found.plan) is None


def test_repeats_are_chosen_for_the_hands_that_knot() -> None:
    plan = planned(STRAP % "wish: 30 cm, vary: knots")
    tight = NOMINAL.with_figures({(cord, ""): 0.5 for cord in plan.project.cords})
    usual, other = refitted_to_own_wish(plan), refitted_to_own_wish(recompiled(plan.project, tight))
    assert usual
    assert other
    assert other.plan.repeats["knots"] > usual.plan.repeats["knots"]
