"""The instructions on paper: what stands first, how repeats fold, and what a reader is told."""

import pytest
from processes import coach

from coach.cli.shelf import shelf
from coach.plan.from_text import read_plan
from coach.report.plan_report import report_of
from coach.words.instructions import instructions
from coach.words.sheet import as_words
from coach.yaml_reader.file_loader import load

HEAD = (
    "coach: 1\ntitle: Tide\ncords:\n"
    "  reed: {colour: green, fibre: cotton, diameter: 2 mm}\n"
    "  clay: {colour: sienna, fibre: cotton, diameter: 2 mm}\n"
    "start: {nest: [reed, clay, reed]}\n"
)


def lines(work: str, parts: str = "") -> list[str]:
    """Return the instructions for some steps, numbered ones with their number."""
    reading = read_plan(f"{HEAD}work: [{work}]\n{parts}\n")
    assert reading.plan, reading.problems
    return [
        f"{line.number}. {line.text}" if line.number else line.text
        for line in instructions(reading.plan)
    ]


@pytest.mark.parametrize(
    ("step", "said"),
    [
        (
            "row: clove hitch, holder: 1, across: 2-4",
            "Hold 1 (reed) to the right: 2 to 4 each tie a clove hitch onto it.",
        ),
        (
            "row: reverse clove hitch, knotter: 6, across: 5-1, lie: slant, slope: 30°",
            (
                "Take 6 (reed) to the left, lying aslant at 30°: it ties a reverse clove hitch "
                "(vertical clove hitch) round each of 5 to 1."
            ),
        ),
        (
            "weave: 1, across: 2-4, knots: [2 clove hitch, reverse clove hitch]",
            (
                "Weave with 1 (reed) to the right over 2 to 4: 2 clove hitches and 1 reverse clove "
                "hitch; clove hitches are tied onto it, reverse ones by it."
            ),
        ),
        (
            "knot: square knot, groups: 1-6 by 3, times: 2",
            "Tie 2 square knots on each of 1 to 3 and 4 to 6.",
        ),
        (
            "knot: lark's head, knotter: 1, around: 2-3, times: 6",
            "1 ties 6 lark's heads round 2 and 3.",
        ),
        (
            "knot: barrel knot, knotter: 3, around: 1-2, turns: 4",
            "3 ties a barrel knot of 4 turns round 1 and 2.",
        ),
        (
            "knot: square knot, strands: all, with: clay",
            "With a new piece of clay, tie a square knot round all.",
        ),
        (
            "net: 1-6 by 2, of: half knot, rows: 2",
            (
                "Net 1 to 6: 2 rows of half knots in groups of 2; every second row is set off "
                "by 1, and the strands left over at the sides hang free in those."
            ),
        ),
        (
            "braid: [1, 2-3, 4], crossings: 7",
            "Plait 1, 2-3 and 4 with 7 crossings, the outer right one first into the middle.",
        ),
        ("turn: 4, around: pin", "Turn 4 round a pin, to go back the other way."),
        (
            "cross: [2, 1]",
            "Let the strands change places with no knot: from the left now 2, 1.",
        ),
        (
            "add: [clay], at: 2, onto: 1, by: lark's head",
            "Hang a clay onto 1, by a lark's head, to stand from 2 on.",
        ),
        (
            "trim: all, leave: 1 cm, middle: 4 cm",
            "Cut all in a straight line from 10 mm at the sides to 4 cm in the middle.",
        ),
    ],
)
def test_a_step_is_told_as_its_writer_asked(step: str, said: str) -> None:
    assert lines(f"{{{step}}}") == [f"1. {said}"]


def test_a_part_is_written_once_and_its_repeats_folded() -> None:
    work = "{use: m, times: 5, mirror: every second}, {use: m}"
    parts = "parts: {m: [{knot: square knot, strands: 1-6}, {space: 3 cm}]}"
    assert lines(work, parts) == [
        (
            "M: work steps 1 to 2, five times in all, every second time mirrored: left and right "
            "exchanged."
        ),
        "1. Tie a square knot on 1 to 6.",
        "2. Leave 3 cm unknotted on all.",
        (
            "Repeat from step 1 four times more, mirrored every second time, beginning with the "
            "first repeat."
        ),
        "3. Work steps 1 to 2 again (m).",
    ]


def test_the_same_row_over_and_over_is_one_line_that_names_the_cords_in_turn() -> None:
    row = "{row: clove hitch, holder: 1, across: 2-6}"
    assert lines(f"{row}, {row}, {row}") == [
        (
            "1. Hold 1 to the right: 2 to 6 each tie a clove hitch onto it. Do this three times in "
            "all, the first time with reed, clay and reed in turn."
        )
    ]


def test_cautions_and_cut_list_come_before_the_work_in_both_forms() -> None:
    for path in shelf():
        plan = read_plan(load(path).text or "").plan
        assert plan
        for marked in (False, True):
            sheet = as_words(plan, report_of(plan), marked=marked)
            heads = [line.removeprefix("## ") for line in sheet]
            at = [heads.index(name) for name in ("Cut", "Hang", "Work", "Knots")]
            assert at == sorted(at)
            assert "Take care" not in heads or heads.index("Take care") < at[0]


def test_plain_lines_fit_a_page_and_tell_far_less_than_a_line_a_tie() -> None:
    for path in shelf():
        plan = read_plan(load(path).text or "").plan
        assert plan
        sheet = as_words(plan, report_of(plan), marked=False)
        assert max(map(len, sheet)) <= 78
        assert len(instructions(plan)) < 30


def test_signs_of_markdown_in_a_title_stay_what_they_are() -> None:
    text = HEAD.replace("Tide", '"*Tide* [x](y) <b> שלום"') + "work: [{do: Mind _that_.}]\n"
    plan = read_plan(text).plan
    assert plan
    sheet = as_words(plan, report_of(plan), marked=True)
    assert sheet[0] == r"# \*Tide\* \[x\](y) \<b\> שלום"
    assert r"- **1.** Mind \_that\_." in sheet


def test_words_are_printed_and_refused_with_the_problems() -> None:
    assert "4. Hold 7 to the right" in coach("words", "tide-band").stdout
    assert coach("words", "tide-band", "--markdown").stdout.startswith("# Tide band\n")
    missing = coach("words", "no-such-thing")
    assert (missing.returncode, missing.stdout) == (2, "")
