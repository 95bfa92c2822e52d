"""How rows lie that do not say so.

The rule is the project file's; what it rests on is common practice, no source: knotters leave a
row square, so that rows with a new holder each from the same side run into diagonals, and half
rows that meet make a V or a diamond; one row laid across is drawn taut and level.
"""

import re
from pathlib import Path

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from planned import on_strands, planned, project

import coach
from coach.plan.measure.slant import rows_read
from coach.plan.plan_model import Plan

RIGHT = "row: clove hitch, holder: 1, across: 2-8"
LEFT = "row: clove hitch, holder: 8, across: 7-1"
HALVES = ("row: clove hitch, holder: 1, across: 2-4", "row: clove hitch, holder: 8, across: 7-5")
FROM_MIDDLE = (
    "row: clove hitch, holder: 4, across: 3-1",
    "row: clove hitch, holder: 5, across: 6-8",
)
CLOSE = "row: clove hitch, holder: 4, across: 5"
KNOT = "knot: square knot, strands: 1-4"
VS = ["each: 1-24 by 8, steps: [{%s}, {%s}]" % HALVES] * 2  # noqa: UP031 - it holds braces
THICK = {"reed": "{colour: green, fibre: cotton, diameter: 3 mm}"}


def readings(plan: Plan) -> str:
    """Return how the rows lie in a letter each: level, slant, along."""
    found = rows_read(plan.steps, closed=plan.project.start.closed).readings
    return "".join(found[step.index][0] for step in plan.steps if step.role == "row")


@pytest.mark.parametrize(
    ("work", "expected"),
    [
        ([RIGHT], "l"),
        ([RIGHT] * 3, "sss"),
        ([LEFT] * 2, "ss"),
        ([RIGHT, LEFT, RIGHT], "lll"),  # there and back, one holder
        ([RIGHT, "do: Look.", RIGHT], "ss"),
        ([RIGHT, KNOT, RIGHT], "ll"),
        ([RIGHT, "space: 1 cm", RIGHT], "ll"),
        ([RIGHT, "bead: 3, size: 8 mm", RIGHT], "ll"),
        ([RIGHT, "add: [clay], at: 1", RIGHT], "ll"),
        ([RIGHT, "flip: piece", LEFT, "flip: piece", RIGHT], "sss"),  # one way, seen from the front
        ([RIGHT, "flip: piece", RIGHT], "ll"),
        ([RIGHT + ", lie: level", RIGHT], "ll"),
        ([RIGHT + ", lie: level", RIGHT, RIGHT], "lss"),
        ([RIGHT + ", lie: slant", RIGHT], "ss"),
        ([*HALVES], "ss"),
        ([*HALVES, *HALVES, CLOSE], "ssssl"),
        ([*FROM_MIDDLE], "ss"),
        ([CLOSE, *FROM_MIDDLE, *HALVES, CLOSE, *FROM_MIDDLE], "lssssls" + "s"),
        ([HALVES[0], "row: clove hitch, holder: 8, across: 7-4"], "ss"),  # holder over holder
        ([HALVES[0]], "l"),
        ([HALVES[0], HALVES[0]], "ss"),
        ([HALVES[0], "row: clove hitch, holder: 5, across: 6-8"], "ll"),  # both go right
        ([*HALVES, RIGHT], "ssl"),
        ([*HALVES, LEFT], "ssl"),
        ([*HALVES, RIGHT, RIGHT], "ssss"),
        ([f"row: clove hitch, holder: 1, across: 2-{last}" for last in (3, 4, 5)], "sss"),
        ([f"row: clove hitch, holder: 1, across: 2-{last}" for last in (7, 6, 5)], "sss"),
        ([f"row: clove hitch, holder: 1, across: 2-{last}" for last in (3, 7)], "ll"),
        (["row: half hitch, holder: 1, across: 2-8"] * 3, "lll"),
        (["row: lark's head, holder: 1, across: 2-8"] * 3, "lll"),
        (["row: reverse clove hitch, knotter: 1, across: 2-8"] * 3, "lll"),
        (["row: reverse clove hitch, knotter: 1, across: 2-4",
          "row: reverse clove hitch, knotter: 8, across: 7-5"], "ll"),
        ([f"row: clove hitch, holder: {n}, across: {m}" for n, m in ((1, "2-4"), (5, "6-8"))],
         "ll"),
        ([RIGHT, RIGHT, LEFT], "ssa"),
        ([RIGHT, RIGHT, LEFT, "row: reverse clove hitch, knotter: 1, across: 2-8"], "ssaa"),
        ([RIGHT, RIGHT, LEFT + ", lie: level"], "ssl"),
        ([RIGHT, RIGHT, KNOT, LEFT], "ssl"),
        ([f"each: 1-8 by 4, steps: [{{{HALVES[0]}}}]"] * 2, "ssss"),
        (["each: [1-4, 5-8], mirror: every second, steps: [{%s}]" % HALVES[0]], "ll"),  # noqa: UP031
    ],
)  # fmt: skip
def test_each_kind_of_row_is_read_as_the_rule_says(work: list[str], expected: str) -> None:
    assert readings(on_strands(8, *work)) == expected
    turned = on_strands(8, "use: m, mirror: all", parts={"m": work})
    if "flip: piece" not in work:
        assert readings(turned) == expected, "mirrored"


def test_halves_of_a_v_may_leave_one_strand_in_the_middle() -> None:
    halves = (
        "row: clove hitch, holder: 1, across: 2-4",
        "row: clove hitch, holder: 9, across: 8-6",
    )
    from_middle = (
        "row: clove hitch, holder: 4, across: 3-1",
        "row: clove hitch, holder: 6, across: 7-9",
    )
    assert readings(on_strands(9, *halves)) == "ss"
    assert readings(on_strands(9, *from_middle)) == "ss"
    apart = ("row: clove hitch, holder: 1, across: 2-3", "row: clove hitch, holder: 9, across: 8-7")
    assert readings(on_strands(9, *apart)) == "ll"


def test_a_row_once_round_work_in_the_round_is_level_and_one_part_of_the_way_may_slant() -> None:
    once = "row: clove hitch, holder: 1, across: 2-8"
    assert readings(on_strands(8, once, once, closed=True)) == "ll"
    assert readings(on_strands(8, once, once)) == "ss"
    part = "row: clove hitch, holder: 1, across: 2-5"
    assert readings(on_strands(8, part, part, closed=True)) == "ss"
    over_seam = (
        "row: clove hitch, holder: 6, across: 7-8",
        "row: clove hitch, holder: 11, across: 10-9",
    )
    assert readings(on_strands(8, *over_seam, closed=True)) == "ss"


def test_one_row_over_everything_below_two_vs_is_as_high_as_one_tie() -> None:
    """It came to 13 cm and is 3.5 cm: the Vs and one row."""
    everything = "row: clove hitch, holder: 1, across: 2-24"
    vs, row, level = (
        planned(project(VS + more, "{hang: [12 reed]}", THICK))
        for more in ([], [everything], [everything + ", lie: level"])
    )
    one_tie = planned(project([everything], "{hang: [12 reed]}", THICK)).length_mm
    assert row.length_mm == pytest.approx(vs.length_mm + one_tie)
    assert row.height_mm == level.height_mm
    assert row.ledgers == level.ledgers


HALF = st.sampled_from([HALVES[0], HALVES[1], *FROM_MIDDLE, CLOSE])
ROW = st.sampled_from([RIGHT, LEFT, RIGHT.replace("clove", "half")]) | HALF
UNSAID = st.lists(ROW | st.just(KNOT), min_size=1, max_size=6)


@examples(60)
@given(UNSAID)
def test_a_file_that_says_how_its_rows_are_read_comes_to_the_same(work: list[str]) -> None:
    plan = on_strands(8, *work)
    lying = iter(readings(plan))
    words = {"l": ", lie: level", "s": ", lie: slant", "a": ""}
    said = [step + words[next(lying)] if step.startswith("row") else step for step in work]
    stated = on_strands(8, *said)
    assert readings(stated) == readings(plan)
    assert stated.height_mm == pytest.approx(list(plan.height_mm))
    assert [ledger.total_mm for ledger in stated.ledgers] == pytest.approx(
        [ledger.total_mm for ledger in plan.ledgers]
    )


@examples(60)
@given(UNSAID)
def test_no_row_pulls_the_work_up_or_makes_it_longer_than_its_own_fall(work: list[str]) -> None:
    row = on_strands(8, *work, LEFT)
    heights = list(row.height_mm)
    assert heights == sorted(heights)
    if readings(row)[-1] in "la":
        tie = on_strands(8, LEFT).length_mm
        assert heights[-8] <= row.length_mm <= heights[-8] + tie + 1e-6  # seven ties


def test_a_row_back_follows_the_slope_of_the_rows_above_it() -> None:
    """It adds one tie all along the slope, as the rows there and back do on level work."""
    band, back, level = (
        on_strands(8, *[RIGHT] * 4, *more) for more in ([], [LEFT], [LEFT + ", lie: level"])
    )
    there_again = "row: reverse clove hitch, knotter: 1, across: 2-8"
    there = on_strands(8, *[RIGHT] * 4, LEFT, there_again)
    tie, other_tie = (on_strands(8, row).length_mm for row in (RIGHT, there_again))
    assert back.length_mm == pytest.approx(band.length_mm + tie)
    assert there.length_mm == pytest.approx(back.length_mm + other_tie)
    alone = sum(ledger.total_mm for ledger in on_strands(8, LEFT).ledgers)
    follows, straight = (
        sum(ledger.total_mm - ledger.used_after(band.total) for ledger in plan.ledgers)
        for plan in (back, level)
    )
    assert follows == pytest.approx(alone, rel=0.02)
    assert straight > 1.2 * alone


def test_the_rule_is_told_on_the_page_on_writing() -> None:
    page = (Path(coach.__file__).parent / "pages" / "writing.md").read_text(encoding="utf-8")
    told = re.sub(r"\s+", " ", page)
    for words in ("same direction over the same strands", "to a point", "Everything else is level"):
        assert words in told
