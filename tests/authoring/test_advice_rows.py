"""What a colleague says of rows that do not say how they lie, and of floats."""

import re

import pytest

from coach.plan.from_text import read_plan
from coach.plan.wording.advice import with_advice
from coach.yaml_reader.diagnostics import Problem

VS = """\
  - each: 1-24 by 8
    steps:
      - {row: clove hitch, holder: 1, across: 2-4}
      - {row: clove hitch, holder: 8, across: 7-5}
      - {row: clove hitch, holder: 1, across: 2-4}
      - {row: clove hitch, holder: 8, across: 7-5}
"""
SAID = VS.replace("}", ", lie: slant}")
EVERYTHING = "  - {row: clove hitch, holder: 1, across: 2-24}\n"


def told(work: str, *, mm: float = 3, pieces: int = 12, rest: str = "") -> dict[str, Problem]:
    """Return the warnings on work in cord of so many mm, by code."""
    text = (
        f"coach: 1\ntitle: Tide\ncords:\n"
        f"  reed: {{colour: green, fibre: cotton, diameter: {mm} mm}}\n"
        f"start: {{hang: [{pieces} reed]}}\nwork:\n{work}{rest}"
    )
    reading = with_advice(read_plan(text))
    assert reading.plan, reading.problems
    return {problem.code: problem for problem in reading.problems}


def test_a_row_that_could_lie_either_way_is_told_with_both_lengths() -> None:
    """Two Vs and one row over everything: 3.5 cm level, some 13 cm slanting."""
    found = told(SAID + EVERYTHING)["LIE"]
    assert found.message == (
        "This row does not say how it lies. Read as level, the work comes to 3.5 cm; slanting, "
        "it would come to 13.5 cm."
    )
    assert found.hint == "Write ‘lie: level’ or ‘lie: slant’ in it."
    assert (found.severity, found.span.line) == ("warning", 13)


@pytest.mark.parametrize("lie", ["level", "slant"])
def test_a_row_that_says_how_it_lies_gets_no_word(lie: str) -> None:
    assert "LIE" not in told(SAID + EVERYTHING.replace("}", f", lie: {lie}}}"))


@pytest.mark.parametrize("rows", [3, 9])
def test_slanting_rows_are_told_together_in_one_word(rows: int) -> None:
    row = "  - {row: clove hitch, holder: 1, across: 2-8}\n"
    found = told(row * rows, mm=1, pieces=4)["LIE"]
    named = {3: "lines 7, 8 and 9", 9: "lines 7, 8, 9, 10, 11, 12 and 3 more"}
    assert found.message.startswith(f"The rows at {named[rows]} do not say how they lie. Read as s")
    assert found.hint.endswith("in each.")


@pytest.mark.parametrize(
    "steps",
    [
        ["row: clove hitch, holder: 1, across: 2-8"],
        ["row: clove hitch, holder: 1, across: 2-8", "row: clove hitch, holder: 8, across: 7-1"],
        ["row: reverse clove hitch, knotter: 1, across: 2-8"] * 4,
        ["row: half hitch, holder: 1, across: 2-8"] * 4,
        # It makes no odds beside so many other knots.
        [
            "row: clove hitch, holder: 1, across: 2-4",
            "row: clove hitch, holder: 8, across: 7-5",
            "knot: square knot, groups: 1-8 by 4, times: 90",
        ],
    ],
)
def test_rows_that_can_only_lie_one_way_or_to_no_effect_get_no_word(steps: list[str]) -> None:
    assert "LIE" not in told("".join(f"  - {{{step}}}\n" for step in steps), pieces=4)


def test_a_length_missed_by_how_rows_lie_is_not_made_up_for_by_repeats() -> None:
    work = "  - {use: m, times: 5}\n"
    part = "parts:\n  m:\n" + "    - {row: clove hitch, holder: 1, across: 2-24}\n" * 4
    missed = told(work, rest=f"{part}size: {{length: 131 mm, vary: m}}\n")
    assert missed["SIZE"].hint == (
        "with ‘lie: level’ at lines 10, 11, 12 and 13 it comes to about 13.1 cm"
    )
    other = told(work, rest=f"{part}size: {{length: 100 cm, vary: m}}\n")
    assert re.match(r"\d+ ms? instead of 5\.", other["SIZE"].hint)


ACROSS = "  - {row: clove hitch, holder: 1, across: 2-8, lie: slant}\n"
BACK = "  - {row: clove hitch, holder: 8, across: 7-1, lie: slant}\n"
WAVE = ACROSS * 4 + BACK * 4
"""Full-width slanting rows and as many the other way: floats in the turn."""


def test_floats_of_two_centimetres_beside_a_narrow_band_are_told() -> None:
    """A mirrored wave of eight strands of 1 mm, 13 mm wide: its turn leaves floats of 2 cm."""
    found = told(WAVE, mm=1, pieces=4)["FLOAT"]
    assert "float for 19 mm before this step ties them again" in found.message
    assert found.message.endswith("That is long beside work 13 mm wide: it shows and catches.")
    assert (found.severity, found.span.line) == ("warning", 11)


@pytest.mark.parametrize("mm", [0.5, 2, 3])
def test_floats_are_held_against_cord_and_width_and_not_against_a_length(mm: float) -> None:
    assert "FLOAT" in told(WAVE, mm=mm, pieces=4)


@pytest.mark.parametrize(("times", "code"), [(4, None), (8, "FLOAT"), (12, "FLOAT"), (30, "LOOSE")])
def test_a_float_is_told_once_as_long_or_as_hanging_loose(times: int, code: str | None) -> None:
    work = (
        f"  - {{knot: square knot, strands: 1-4, times: {times}}}\n"
        "  - {row: clove hitch, holder: 1, across: 2-6, lie: level}\n"
    )
    found = [one for one in told(work, mm=2, pieces=3) if one in ("FLOAT", "LOOSE")]
    assert found == ([code] if code else [])


@pytest.mark.parametrize(
    "work",
    [
        SAID + EVERYTHING.replace("}", ", lie: level}"),  # the open corners under the Vs
        ACROSS * 2,
        "  - {net: 1-24 by 4, of: square knot, rows: 6, gap: 1 cm}\n",
        "  - {net: 1-8 by 4, of: square knot, rows: 6, gap: 6 cm}\n",
        "  - {space: 70 mm}\n  - {knot: square knot, groups: 1-8 by 4}\n",
        "  - {each: 1-8 by 4, steps: [{knot: square knot, strands: 1-4, times: 9}]}\n",
    ],
)
def test_what_is_open_on_purpose_is_no_float(work: str) -> None:
    found = told(work)
    assert "FLOAT" not in found
    assert "LOOSE" not in found
