"""Whether the colours stand after a repeat as before it."""

import pytest
from planned import project

from coach.plan.from_text import read_plan
from coach.yaml_reader.diagnostics import Problem

CORDS = {
    name: f"{{colour: {name}, fibre: cotton, diameter: 2 mm, fold: none}}"
    for name in ("sienna", "teal", "olive")
}
START = "{strands: [sienna, teal, olive]}"
TO_RIGHT = {"m": ["row: clove hitch, holder: 1, across: 2-3"]}


def warnings(use: str, parts: dict[str, list[str]], start: str = START) -> list[Problem]:
    """Return the warnings of a project that uses one part."""
    reading = read_plan(project([use], start, CORDS, parts))
    assert reading.plan
    assert {problem.code for problem in reading.problems} <= {"RETURNS"}
    return list(reading.problems)


def test_colours_that_are_not_back_are_told_with_both_orders_and_the_place() -> None:
    (found,) = warnings("use: m, times: 3", TO_RIGHT)
    assert found.severity == "warning"
    assert "after each repeat of m" in found.message
    assert "sienna, teal, olive has become teal, olive, sienna" in found.message
    assert "returns: after" in found.hint
    assert found.span.line == 9


@pytest.mark.parametrize(
    ("use", "warned"),
    [
        ("use: m, times: 6", True),
        ("use: m, times: 6, returns: after 3", False),
        ("use: m, times: 6, returns: after 2", True),
        ("use: m, times: 2, mirror: every second", False),
        ("use: m, times: 6, mirror: all", True),
        ("use: m", False),
    ],
)
def test_colours_are_looked_at_after_each_repeat_or_pair_or_as_many_as_said(
    use: str, warned: bool
) -> None:
    """There and back again, a pair brings them home; three times round does as well."""
    assert bool(warnings(use, TO_RIGHT)) == warned


def test_pair_that_does_not_bring_them_back_is_named_as_a_pair() -> None:
    (found,) = warnings("use: m, times: 4, mirror: every second", {"m": ["cross: [2, 1]"]})
    assert "after each pair of repeats of m" in found.message


def test_strands_of_one_colour_may_change_places() -> None:
    start = "{strands: [sienna.1, sienna.2]}"
    reading = read_plan(
        project(
            ["use: m, times: 3"],
            start,
            {"sienna": CORDS["sienna"][:-1] + ", pieces: 2}"},
            {"m": ["row: clove hitch, holder: 1, across: 2"]},
        )
    )
    assert reading.problems == ()


def test_work_that_gains_strands_is_not_compared() -> None:
    assert not warnings("use: m, times: 2", {"m": ["add: [olive], at: 1"]})


def test_repeat_inside_a_group_is_looked_at_in_the_group() -> None:
    each = "each: [1-2], steps: [{use: m, times: 2}]"
    (found,) = warnings(each, {"m": ["cross: [2, 1]"]})
    assert "sienna, teal has become teal, sienna" in found.message
