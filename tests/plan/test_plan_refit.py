"""A project at another size: the nearest length, other cords, and wishes nobody can meet."""

import pytest
from planned import planned

from coach.plan.plan_model import Plan
from coach.plan.resize.body_sizes import BODIES, PRINTED, body, finished_mm
from coach.plan.resize.refit import CannotRefit, recompiled, to_length, with_cords, with_repeats_of

STRAP = """
coach: 1
title: Clay strap
kind: bracelet
cords:
  reed: {colour: green, diameter: 2 mm, pieces: 1}
  clay: {colour: sienna, diameter: 2 mm, pieces: 1}
start: {nest: [reed, clay]}
work:
  - use: knots
    times: 7
  - space: 2 cm
    name: end
  - knot: square knot
    name: run
    strands: 1-4
    times: 4
parts:
  knots:
    - knot: square knot
      strands: 1-4
      times: 2
size: {vary: %s, least: 3, step: 2, closing: 1 cm}
"""


def strap(vary: str = "knots") -> Plan:
    return planned(STRAP % vary)


def test_the_repeats_that_come_nearest_to_a_length_are_found() -> None:
    project = strap().project
    lengths = {
        n: recompiled(with_repeats_of(project, "knots", n)).length_mm for n in range(3, 60, 2)
    }
    for wish in (90.0, 123.0, 200.0, 377.0):
        nearest = min(lengths, key=lambda n: abs(lengths[n] - wish))
        found = to_length(project, wish)
        assert found.plan.repeats["knots"] == nearest
        assert found.plan.length_mm == pytest.approx(lengths[nearest])


def test_times_of_a_named_step_vary_too() -> None:
    found = to_length(strap("run").project, 200.0)
    assert "run" in found.changed
    assert found.plan.length_mm == pytest.approx(200, abs=13)
    assert found.plan.repeats["knots"] == 7


def test_a_named_length_is_stretched_to_meet_the_wish() -> None:
    found = to_length(strap("end").project, 200.0)
    assert found.plan.length_mm == pytest.approx(200, abs=0.1)


def test_a_length_below_the_least_is_refused_with_what_is_possible() -> None:
    with pytest.raises(CannotRefit, match=r"least, 3, makes: \d"):
        to_length(strap().project, 10.0)
    with pytest.raises(CannotRefit, match="that is its least"):
        to_length(strap("end").project, 10.0)


def test_a_length_that_no_repeats_reach_is_refused() -> None:
    with pytest.raises(CannotRefit, match="No number of repeats"):
        to_length(strap().project, 1e9)


def test_a_project_that_does_not_say_what_may_vary_is_refused() -> None:
    text = STRAP[: STRAP.index("size:")]
    with pytest.raises(CannotRefit, match="what may change"):
        to_length(planned(text).project, 150.0)


def test_thicker_cord_makes_it_longer_and_takes_more() -> None:
    thin = strap()
    thick = recompiled(with_cords(thin.project, {"": 4.0}))
    assert thick.length_mm - 20 == pytest.approx(2 * (thin.length_mm - 20))
    one = recompiled(with_cords(thin.project, {"clay": 4.0}))
    assert one.project.cords["reed"].diameter_mm == 2
    assert one.project.cords["clay"].diameter_mm == 4


def test_unknown_cords_and_parts_are_refused_with_the_known_ones() -> None:
    with pytest.raises(CannotRefit, match="reed, clay"):
        with_cords(strap().project, {"tide": 2.0})
    with pytest.raises(CannotRefit, match="knots"):
        with_repeats_of(strap().project, "nots", 3)
    with pytest.raises(CannotRefit, match="1 is the least"):
        with_repeats_of(strap().project, "knots", 0)


def test_a_girth_is_met_with_ease_and_what_closes_it() -> None:
    project = strap().project
    assert finished_mm(project, body("wrist"), 160, 15) == 160 + 15 + 10
    with pytest.raises(CannotRefit, match="not made to a neck"):
        finished_mm(project, body("neck"), 380, 60)
    with pytest.raises(CannotRefit, match="has a girth"):
        finished_mm(project, body("wrist"), 0, 15)


def test_printed_girths_are_those_of_the_survey() -> None:
    """ANSUR II, NATICK/TR-15/007 (2014), worked out from its public data."""
    wrists = {size.people: size for size in PRINTED if size.measure == "wrist"}
    assert (wrists["women"].mean_mm, wrists["men"].mean_mm) == (154.8, 175.9)
    assert wrists["women"].span_mm == (142, 168)
    assert {size.measure for size in PRINTED} <= {measure.name for measure in BODIES}


def test_a_bracelet_of_common_practice_fits_a_slim_wrist() -> None:
    """A bracelet of about 15 cm fits a slim adult wrist (common practice, no source)."""
    slim = min(size.span_mm[0] for size in PRINTED if size.span_mm)
    assert slim <= 150 <= slim + body("wrist").ease_mm
