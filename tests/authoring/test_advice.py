"""What a colleague would say of a sound plan."""

import re

import pytest

from coach.plan.from_text import read_plan
from coach.plan.wording.advice import with_advice
from coach.yaml_reader.diagnostics import Problem

CORD = "{colour: green, fibre: cotton, diameter: 2 mm}"
THICK = "{colour: sienna, fibre: cotton, diameter: 4 mm}"


def told(work: str, start: str = "{hang: [2 reed]}", rest: str = "") -> list[Problem]:
    """Return the warnings on a project of these steps, without those that compiling gives."""
    text = (
        f"coach: 1\ntitle: Tide\ncords:\n  reed: {CORD}\n  clay: {THICK}\n"
        f"start: {start}\nwork:\n{work}\n{rest}\n"
    )
    reading = with_advice(read_plan(text))
    assert reading.plan, reading.problems
    return [problem for problem in reading.problems if problem.code != "RETURNS"]


def codes(work: str, start: str = "{hang: [2 reed]}", rest: str = "") -> list[str]:
    return [problem.code for problem in told(work, start, rest)]


def test_work_that_holds_all_its_strands_gets_no_word() -> None:
    assert not told("  - {knot: square knot, strands: 1-4, times: 3}")


def test_a_strand_that_no_step_holds_is_named() -> None:
    (problem,) = told("  - {knot: square knot, strands: 1-4}", "{hang: [3 reed]}")
    assert (problem.code, problem.severity) == ("UNUSED", "warning")
    assert problem.message.startswith("reed.3a and reed.3b are never")


def test_a_piece_plaited_before_the_fold_is_used() -> None:
    start = "{nest: [3 reed], before fold: [{braid: 1-3, length: 3 cm}]}"
    assert "UNUSED" not in codes("  - {do: Fold.}", start)


@pytest.mark.parametrize(
    ("times", "expected"), [(8, False), (30, True)], ids=["a short way", "a long way"]
)
def test_a_strand_that_waits_while_others_are_knotted_hangs_loose(
    times: int, expected: bool
) -> None:
    work = (
        f"  - {{knot: square knot, strands: 1-4, times: {times}}}\n"
        "  - {row: clove hitch, holder: 1, across: 2-6}\n"
    )
    assert ("LOOSE" in codes(work, "{hang: [3 reed]}")) == expected


def test_a_space_is_meant_to_hang_free() -> None:
    work = "  - {space: 30 cm}\n  - {knot: square knot, strands: 1-4}"
    assert not told(work)


def test_groups_worked_one_after_the_other_do_not_hang_loose() -> None:
    work = "  - {each: 1-8 by 4, steps: [{knot: square knot, strands: 1-4, times: 40}]}"
    assert "LOOSE" not in codes(work, "{hang: [4 reed]}")


def test_more_cord_left_over_than_used_is_told_with_the_remedy() -> None:
    work = "  - {knot: lark's head, knotter: 1, around: 2, times: 60}"
    (problem,) = told(work, "{hang: [reed]}")
    assert problem.code == "LEFT-OVER"
    assert "fold: fit" in problem.hint


def test_a_mirror_that_swaps_unequal_cords_is_told_once() -> None:
    work = "  - {use: m, times: 4, mirror: every second}"
    rest = "parts:\n  m:\n    - {row: clove hitch, holder: 1, across: 2-4}"
    found = codes(work, "{hang: [reed, clay]}", rest)
    assert found.count("UNEQUAL") == 1
    assert "UNEQUAL" not in codes(work, "{hang: [2 reed]}", rest)


def test_repeats_that_miss_the_size_are_told_with_what_would_meet_it() -> None:
    rest = (
        "parts:\n  m: [{knot: square knot, strands: 1-4}]\nsize: {length: 20 cm, vary: m, least: 1}"
    )
    (problem,) = told("  - {use: m, times: 4}", rest=rest)
    assert problem.code == "SIZE"
    assert re.match(r"\d+ ms? instead of 4\.", problem.hint)


@pytest.mark.parametrize(
    ("size", "hint"),
    [("{wish: 40 cm}", "vary"), ("{wish: 5 mm, vary: m, least: 4}", "least"),
     ("{wish: 20 cm, vary: m}", ""), ("{wish: 26 mm}", "")],
)  # fmt: skip
def test_a_wish_that_nothing_comes_near_is_told_and_no_other(size: str, hint: str) -> None:
    rest = f"parts:\n  m: [{{knot: square knot, strands: 1-4}}]\nsize: {size}"
    found = told("  - {use: m, times: 4}", rest=rest)
    assert [problem.code for problem in found] == (["SIZE"] if hint else [])
    assert all(hint in problem.hint for problem in found)
    assert all("aims for" in problem.message for problem in found)


def test_repeats_that_least_and_step_do_not_reach_are_told() -> None:
    rest = "parts:\n  m: [{knot: square knot, strands: 1-4}]\nsize: {vary: m, least: 3, step: 2}"
    assert codes("  - {use: m, times: 4}", rest=rest) == ["REPEATS"]
    assert not codes("  - {use: m, times: 5}", rest=rest)


def of_times(work: str, rest: str = "") -> list[Problem]:
    """Return what is told of times that cannot be."""
    return [problem for problem in told(work, rest=rest) if problem.code == "TAKES"]


@pytest.mark.parametrize(
    ("takes", "expected"),
    [
        ("6-8 min", False), ("5 min", False), ("2-3 min", True), ("20 min", True),
        ("1-2 h", True), ("1 min", True),
    ],
)  # fmt: skip
def test_a_time_that_its_own_counts_contradict_is_told(takes: str, expected: bool) -> None:
    """Sixty square knots are eight minutes' work for practised hands."""
    work = "  - {knot: square knot, strands: 1-4, times: 60}"
    found = of_times(work, f"takes: {takes}")
    assert len(found) == expected
    if found:
        assert found[0].span.line == 9
        assert "60 ties" in found[0].message
        assert "a practised maker" in found[0].message


def test_what_a_step_with_knots_claims_is_held_against_its_ties_once() -> None:
    work = "  - {use: strap, times: 3}\nparts:\n  strap:\n"
    step = "    - {knot: square knot, strands: 1-4, times: 5, takes: 30 min}"
    (problem,) = of_times(work + step)
    assert problem.span.line == 11
    assert "5 ties" in problem.message


def test_a_claim_is_held_against_the_skill_that_the_file_asks_for() -> None:
    """What is far too long for practised hands may be right for somebody new to it."""
    work = "  - {knot: square knot, strands: 1-4, times: 60}"
    assert not of_times(work, "takes: 17 min\nskill: beginner")
    assert of_times(work, "takes: 17 min\nskill: advanced")


def test_a_step_without_a_knot_takes_what_the_file_says() -> None:
    assert not of_times(
        "  - {do: Steep the cords in tea., takes: 2 h}\n"
        "  - {knot: square knot, strands: 1-4, times: 3}"
    )


def test_an_open_knot_smaller_than_drawn_up_is_told() -> None:
    """Two strands of 2 mm a half, drawn up, are about 1 cm high."""
    work = "  - {knot: josephine knot, strands: 1-4, size: SIZE}"
    assert [p.code for p in told(work.replace("SIZE", "6 mm"))] == ["SIZE"]
    assert not told(work.replace("SIZE", "3 cm"))
