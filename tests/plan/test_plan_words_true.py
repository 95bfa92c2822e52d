"""What is said of each tie, held against the strands as they really hang."""

import re
from typing import Any

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from planned import MIXED, REED, on_strands, planned, project, said, singles
from random_steps import INNER, parts

from coach.knots.names import FLAT_KNOTS
from coach.plan.board_at_count import order_at
from coach.plan.plan_model import Plan
from coach.plan.wording.place_words import place_in_piece, step_line
from coach.plan.wording.sentences import FINISHED, step_sentence
from coach.plan.wording.strand_names import colour_word, span_words
from coach.project.model import Cord
from coach.yaml_reader.diagnostics import Span


def test_row_says_whose_turn_it_is_and_how_often() -> None:
    found = said("row: clove hitch, holder: 1, across: 2-4, times: 2")
    assert "each tie two clove hitches onto it" in found[0]
    assert [re.findall(r"trand \d \(\w+\)", words)[-1] for words in found] == [
        "trand 2 (clay)", "trand 2 (clay)", "trand 3 (clay)", "trand 3 (clay)",
        "trand 4 (reed)", "trand 4 (reed)",
    ]  # fmt: skip


def test_weave_says_at_each_strand_who_knots() -> None:
    knots = "[1 clove hitch, 2 reverse clove hitch]"
    assert said(f"weave: 1, across: 2-4, knots: {knots}")[:2] == [
        (
            "Lay strand 1 (reed) to the right over strands 2 to 4. Now strand 2 (clay) ties a "
            "clove hitch onto it."
        ),
        (
            "Lay the reed strand to the right over strands 3 and 4. Now it ties a reverse clove "
            "hitch (vertical clove hitch) round strand 3 (clay)."
        ),
    ]


def test_half_knots_say_who_begins_now() -> None:
    found = said("knot: half knot, strands: 1-3, times: 2")
    assert found[1] == (
        "Half knot round strand 2 (clay): strand 1 (clay) goes over, strand 3 (reed) under."
    )


def test_piece_of_a_clasp_is_new_only_once() -> None:
    found = said("knot: square knot, strands: 1-4, with: clay, times: 3")
    assert found[0] == "With a new length of clay, tie a square knot round all strands."
    assert found[1] == found[2]
    assert found[2] == "With the same length of clay, tie a square knot round all strands."


def test_plait_says_the_side_and_the_cord_of_each_crossing() -> None:
    """Right and left in turn, also where the same strands meet again in a later crossing."""
    found = said("braid: 1-3, crossings: 7")
    assert [re.findall("right|left", words) for words in found] == [["right"], ["left"]] * 3 + [
        ["right"]
    ]
    assert found[0] == "Plait: take strand 3 (clay) from the right over the middle."
    assert found[1] == "Plait: take strand 1 (reed) from the left over the middle."
    mirrored = said("braid: 1-3, crossings: 7", mirror=True)
    assert [re.findall("right|left", words) for words in mirrored] == [["left"], ["right"]] * 3 + [
        ["left"]
    ]


def test_plait_of_bundles_says_which_strands_move() -> None:
    found = said("braid: [1, 2, 3-4], crossings: 1")
    assert found == ["Plait: take strands 3 and 4 from the right over the middle."]


def test_row_under_way_numbers_only_the_strands_that_stand_where_they_did() -> None:
    """The holder is between places then, and those behind it have moved up."""
    plan = on_strands(4, "row: clove hitch, holder: 1, across: 2-4")
    assert [step_sentence(plan, done).split("; now")[0] for done in range(3)] == [
        "Hold strand 1 (c1) to the right. Strands 2 to 4 each tie a clove hitch onto it",
        "Hold the c1 strand to the right. Strands 3 and 4 each tie a clove hitch onto it",
        "Hold the c1 strand to the right. Strand 4 (c4) ties a clove hitch onto it.",
    ]


def test_strand_taken_up_is_told_with_its_place() -> None:
    found = said("lay aside: 1", "take up: reed.1a, at: 3")
    assert found[1] == ("Pick up the strand laid aside as strand 1 (reed); it becomes strand 3.")


def test_seam_is_told_by_the_strand_from_which_to_count() -> None:
    start = "{nest: [reed, clay], round: yes}"
    assert (
        step_sentence(planned(project(["seam: 3"], start, MIXED)), 0)
        == "From here, count from strand 3 (clay) as strand 1."
    )


def test_what_is_done_before_the_fold_says_so() -> None:
    start = "{nest: [2 reed, clay], before fold: [{braid: 1-3, crossings: 1}]}"
    plan = planned(project(["do: Look."], start, MIXED))
    assert step_sentence(plan, 0).startswith("Before folding: Plait: take strand 3 (clay) from")


def test_when_all_is_done_it_says_so() -> None:
    plan = on_strands(2, "do: Look.")
    assert step_sentence(plan, 1) == FINISHED


WORK = st.integers(4, 8).flatmap(lambda n: st.tuples(st.just(n), parts(n)))


def pairs(words: str) -> list[tuple[int, str]]:
    """Return the positions that are named with their cords, as in `strand 3 (c3)`."""
    return [(int(at), cord) for at, cord in re.findall(r"\b(\d+) \((c\d+|clay)\)", words)]


@examples(120)
@given(WORK, st.sampled_from(["none", "all", "every second"]))
def test_positions_and_cords_that_are_told_are_those_on_the_board(
    drawn: tuple[int, Any], mirror: str
) -> None:
    number, steps = drawn
    start, cords = singles(number)
    named = {"m": steps, "inner": INNER}
    plan = planned(project([f"use: m, mirror: {mirror}"], start, cords | {"clay": REED}, named))
    for done, count in enumerate(plan.counts):
        step = plan.step_of(done)
        words = step_sentence(plan, done)
        assert words.endswith(".")
        board = list(step.before)
        if count.knot in FLAT_KNOTS:
            group = next(group for group in step.groups if count.knotters[0] in group)
            sides = board.index(group[0]), board.index(group[-1])
            board[sides[0]], board[sides[1]] = count.knotters
        if step.role == "braid":  # its strands have moved on by then, and so has the board
            board = list(order_at(plan, done))
        for at, cord in pairs(words):
            assert plan.strands[board[at - 1]].cord == cord, words
        if step.direction:
            assert f"to the {step.direction}" in words


@examples(40)
@given(WORK)
def test_every_step_has_a_short_line_and_a_place(drawn: tuple[int, Any]) -> None:
    number, steps = drawn
    start, cords = singles(number)
    plan = planned(project(steps, start, cords | {"clay": REED}, {"inner": INNER}))
    for step in plan.steps:
        line = step_line(plan, step.index)
        assert line
        assert "\n" not in line
        assert not line.endswith(".")
        assert place_in_piece(plan, step.first)[-1].startswith("step ")


def line(step: str, plan: Plan | None = None) -> str:
    """Return the short line of a step on eight strands."""
    return step_line(plan or on_strands(8, step), 0)


def test_short_lines() -> None:
    assert line("row: clove hitch, holder: 1, across: 2-4") == (
        "clove hitches, strand 1 (c1) to the right over strands 2 to 4"
    )
    assert line("knot: square knot, groups: 1-8 by 4, times: 3") == (
        "square knot on strands 1 to 4 and 5 to 8, three times"
    )
    assert line("knot: square knot, groups: 1-8 by 2").startswith(
        "square knot on each pair: 1 and 2, 3 and 4, 5 and 6"
    )
    assert (
        line("braid: [1-3, 4-5, 6-8], crossings: 9")
        == "plait strands 1-3, 4-5 and 6-8, 9 crossings"
    )
    assert line("space: 3 cm") == "Leave a 3 cm gap on all strands"


def test_place_in_the_piece_names_part_repeat_group_and_net_row() -> None:
    work = ["use: shore, times: 3, mirror: every second", "net: 1-8 by 4, of: square knot, rows: 3"]
    part = {"shore": ["each: 1-8 by 4, steps: [{space: 1 cm}, {do: Look.}]"]}
    plan = on_strands(8, *work, parts=part)
    assert place_in_piece(plan, 5) == (
        "shore, repeat 2 of 3, mirrored", "group 1 of 2, mirrored", "step 2 of 2",
    )  # fmt: skip
    assert place_in_piece(plan, 10) == ("shore, repeat 3 of 3", "group 2 of 2", "step 1 of 2")
    assert place_in_piece(plan, 12) == ("step 2 of 2", "net row 1")
    assert place_in_piece(plan, plan.total) == ("step 2 of 2", "net row 3")


def test_spans_of_positions() -> None:
    assert span_words([3, 4, 5]) == "3 to 5"
    assert span_words([5, 4, 3]) == "5 down to 3"
    assert span_words([1, 3, 4]) == "1, 3 and 4"
    assert span_words([1, 2]) == "1 and 2"
    assert span_words([7]) == "7"


@pytest.mark.parametrize(
    ("colour", "word"),
    [("#5b7f3a", "green"), ("#a4553a", "brown"), ("#1f6f8b", "blue"), ("#e07b30", "orange"),
     ("#ffffff", "white"), ("#808080", "grey"), ("#000000", "black"), ("#c02020", "red")],
)  # fmt: skip
def test_colours_in_a_word(colour: str, word: str) -> None:
    assert colour_word(Cord("reed", Span(), colour, colour, "cotton", 2.0, 1)) == word
