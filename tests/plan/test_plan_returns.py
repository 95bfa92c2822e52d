"""Whether the colours stand after a repeat as before it."""

import random
import re

import pytest
from planned import project
from reference import permutation

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
    assert found.message == (
        "After each repeat of ‘m’ the colours stand differently: "
        "sienna, teal, olive has become teal, olive, sienna."
    )
    assert found.hint == "They are back after 3 repeats: add ‘returns: after 3’ if you mean that."
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
    assert "After each pair of repeats of ‘m’" in found.message


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


def cords(number: int) -> tuple[str, dict[str, str]]:
    """Return a start of so many single strands, each of another colour, and their cords."""
    colours = [f"#{at:02x}{255 - 7 * at:02x}00" for at in range(number)]
    made = {
        f"c{at}": f'{{colour: "{colour}", diameter: 2 mm, fold: none}}'
        for at, colour in enumerate(colours, start=1)
    }
    return f"{{strands: [{', '.join(made)}]}}", made


def told(use: str, part: list[str], number: int) -> Problem | None:
    """Return the warning on a part that is used on that many strands of different colours."""
    start, made = cords(number)
    reading = read_plan(project([f"use: m, {use}"], start, made, {"m": part}))
    assert reading.plan, reading.problems
    return reading.problems[0] if reading.problems else None


def advised(found: Problem | None) -> int:
    """Return after how many repeats the hint says that the colours are back."""
    assert found
    number = re.search(r"‘returns: after (\d+)’", found.hint)
    assert number, found.hint
    return int(number[1])


@pytest.mark.parametrize("number", [2, 3, 4, 5, 8, 12, 36])
@pytest.mark.parametrize("times", [2, 40])
def test_advice_is_the_number_that_the_orders_show(number: int, times: int) -> None:
    """A row over all strands moves each by one place, so the colours are back after as many."""
    row = [f"row: clove hitch, holder: 1, across: {f'2-{number}' if number > 2 else 2}"]
    assert advised(told(f"times: {times}", row, number)) == number


@pytest.mark.parametrize("seed", range(25))
@pytest.mark.parametrize("mirror", ["none", "all", "every second"])
def test_advice_holds_for_any_order_and_no_smaller_number_does(seed: int, mirror: str) -> None:
    """The order of the permutation, by a library for them; of a pair where they go in pairs."""
    luck = random.Random(seed)  # noqa: S311 - the same orders each time
    size = luck.randint(2, 9)
    order = luck.sample(range(size), size)
    mirrored = [size - 1 - order[size - 1 - at] for at in range(size)]
    once = {"none": order, "all": mirrored, "every second": [order[at] for at in mirrored]}[mirror]
    period = permutation(once).order() * (2 if mirror == "every second" else 1)
    part, times = [f"cross: {[at + 1 for at in order]}"], f"times: {2 * period}, mirror: {mirror}"
    found = told(times, part, size)
    if period == (2 if mirror == "every second" else 1):
        assert found is None
        return
    assert advised(found) == period
    assert told(f"{times}, returns: after {period}", part, size) is None
    pairs = 2 if mirror == "every second" else 1
    for fewer in range(pairs, period, pairs):
        wrong = told(f"{times}, returns: after {fewer}", part, size)
        assert advised(wrong) == period
        assert wrong
        once = {1: "each repeat", 2: "each pair of repeats"}[pairs]
        assert f"After {once if fewer == pairs else f'{fewer} repeats'} of" in wrong.message


def test_colours_that_take_too_long_to_come_back_are_told_as_such() -> None:
    """Turns of 3, 4, 5 and 7 strands come together after 420 repeats only."""
    order = [2, 3, 1, 5, 6, 7, 4, 9, 10, 11, 12, 8, 14, 15, 16, 17, 18, 19, 13]
    found = told("times: 3", [f"cross: {order}"], 19)
    assert found
    assert "not back within 100 repeats" in found.hint
    assert "returns:" not in found.hint


def test_no_number_is_made_up_where_strands_come_and_go() -> None:
    """One is laid aside and another one hung in its place: the orders show no period."""
    start, made = cords(2)
    made["c3"] = made["c2"].replace("#21", "#77")
    part = ["lay aside: 2", "add: [c3], at: 1"]
    reading = read_plan(project(["use: m, times: 2"], start, made, {"m": part}))
    (found,) = reading.problems
    assert found.hint == "Let ‘m’ end with its colours as they began."
