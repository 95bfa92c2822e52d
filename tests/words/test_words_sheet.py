"""The instructions on paper: what stands first, how repeats fold, and what a reader is told."""

import pytest
from command_line import coach

from coach.cli.project_finder import shipped_projects
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
            (
                "With strand 1 (reed) held out to the right as holder, tie a clove hitch with each "
                "of strands 2 to 4."
            ),
        ),
        (
            "row: reverse clove hitch, knotter: 6, across: 5-1, lie: slant, slope: 30°",
            (
                "Take strand 6 (reed) to the left, slanting down at 30°, and tie a reverse clove "
                "hitch (vertical clove hitch) with it round each of strands 5 down to 1."
            ),
        ),
        (
            "weave: 1, across: 2-4, knots: [2 clove hitch, reverse clove hitch]",
            (
                "Weave strand 1 (reed) to the right across strands 2 to 4: two clove hitches onto "
                "it, then one reverse clove hitch with it."
            ),
        ),
        (
            "knot: square knot, groups: 1-6 by 3, times: 2",
            "Tie two square knots on strands 1 to 3 and on strands 4 to 6.",
        ),
        (
            "knot: lark's head, knotter: 1, around: 2-3, times: 6",
            "With strand 1, tie six lark's heads round strands 2 and 3.",
        ),
        (
            "knot: barrel knot, knotter: 3, around: 1-2, turns: 4",
            "With strand 3, tie a barrel knot of four turns round strands 1 and 2.",
        ),
        (
            "knot: square knot, strands: all, with: clay",
            "With a new length of clay, tie a square knot round all strands.",
        ),
        (
            "net: 1-6 by 2, of: half knot, rows: 2",
            (
                "Net strands 1 to 6 with two rows of half knots in groups of two. Offset alternate "
                "rows by one strand; strands left over at the sides hang free."
            ),
        ),
        (
            "braid: [1, 2-3, 4], crossings: 7",
            (
                "Plait strands 1, 2-3 and 4 with seven crossings, right-hand bundle first over the "
                "middle."
            ),
        ),
        ("turn: 4, around: pin", "Turn strand 4 back round a pin."),
        (
            "cross: [2, 1]",
            "Cross strands 1 and 2 without a knot; from the left they are now 2, 1.",
        ),
        (
            "add: [clay], at: 2, onto: 1, by: lark's head",
            "Hang one clay cord on strand 1, with a lark's head, as strands 2 and 3.",
        ),
        (
            "trim: all, leave: 1 cm, middle: 4 cm",
            "Trim all ends in straight lines, from 10 mm at the sides to 4 cm in the middle.",
        ),
    ],
)
def test_a_step_is_told_as_its_writer_asked(step: str, said: str) -> None:
    assert lines(f"{{{step}}}") == [f"1. {said}"]


def test_a_part_is_written_once_and_its_repeats_folded() -> None:
    work = "{use: m, times: 5, mirror: every second}, {use: m}"
    parts = "parts: {m: [{knot: square knot, strands: 1-6}, {space: 3 cm}]}"
    assert lines(work, parts) == [
        "M: work steps 1 and 2, five times. Mirror every second repeat (swap left and right).",
        "1. Tie a square knot on strands 1 to 6.",
        "2. Leave a 3 cm gap on all strands.",
        "3. Work m again (steps 1 and 2).",
    ]


def test_the_same_row_over_and_over_is_one_line_that_names_the_cords_in_turn() -> None:
    row = "{row: clove hitch, holder: 1, across: 2-6}"
    assert lines(f"{row}, {row}, {row}") == [
        (
            "1. With strand 1 held out to the right as holder, tie a clove hitch with each of "
            "strands 2 to 6. Do this three times in all. The holders are reed, clay, then "
            "reed."
        )
    ]


def test_what_neighbouring_rows_share_is_said_once() -> None:
    """Only rows in one run of lines, worked one way by one knot, are told by what differs."""
    work = (
        "{row: clove hitch, holder: 3, across: 4-6}, {row: clove hitch, holder: 1, across: 2-6}, "
        "{row: clove hitch, holder: 6, across: 5-4}, {use: m}, {row: reverse clove hitch, "
        "knotter: 6, across: 5}, {row: reverse clove hitch, knotter: 6, across: 5-1}"
    )
    parts = "parts: {m: [{row: clove hitch, holder: 6, across: 5-1}]}"
    told = lines(work, parts)
    assert told[1] == "2. Do the same with strand 1 (reed) as holder and each of strands 2 to 6."
    assert told[2].startswith("3. With strand 6 (reed) held out to the left as holder, tie a clove")
    assert told[3:5] == [
        "M:",
        (
            "4. With strand 6 (reed) held out to the left as holder, tie a clove hitch with each "
            "of strands 5 down to 1."
        ),
    ]
    assert told[5].startswith("5. Take strand 6")
    assert told[6].endswith("round each of strands 5 down to 1.")
    assert told[6].startswith("6. Do the same with strand 6")


def test_cautions_and_cut_list_come_before_the_work_in_both_forms() -> None:
    for path in shipped_projects():
        plan = read_plan(load(path).text or "").plan
        assert plan
        for marked in (False, True):
            sheet = as_words(plan, report_of(plan), marked=marked)
            heads = [line.removeprefix("## ") for line in sheet]
            at = [heads.index(name) for name in ("Cut", "Hang", "Work", "Knots")]
            assert at == sorted(at)
            assert "Take care" not in heads or heads.index("Take care") < at[0]


def test_plain_lines_fit_a_page_and_tell_far_less_than_a_line_a_tie() -> None:
    for path in shipped_projects():
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
    assert "4. With strand 7 slanting down to the right" in coach("words", "tide-band").stdout
    assert coach("words", "tide-band", "--markdown").stdout.startswith("# Tide band\n")
    missing = coach("words", "no-such-thing")
    assert (missing.returncode, missing.stdout) == (2, "")
