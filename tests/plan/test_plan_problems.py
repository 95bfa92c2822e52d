"""What nobody could do on the board is told, with its place in the file."""

from time import perf_counter

import pytest
from planned import REED, fault, faults, names, planned, project, singles

from coach.plan.compile.limits import too_much
from coach.plan.from_text import read_plan
from coach.project.read import read_project

START, CORDS = singles(6)
CORDS |= {"clay": REED}


@pytest.mark.parametrize(
    ("step", "code", "said"),
    [
        ("row: clove hitch, holder: 9, across: 2", "OFF-BOARD", "no position 9: 6 strands"),
        ("row: clove hitch, holder: 1, across: 2-7", "OFF-BOARD", "no position 7: 6 strands"),
        ("row: clove hitch, holder: 1, across: 3-4", "ACROSS", "c2.1a at 2"),
        ("row: clove hitch, holder: 6, across: 4-3", "ACROSS", "c5.1a at 5"),
        ("row: clove hitch, holder: 1, across: [2, 4]", "ACROSS", "c3.1a at 3"),
        ("row: clove hitch, holder: 3, across: [4, 2]", "ACROSS", "c4.1a at 4 lies behind"),
        (
            "row: clove hitch, holder: 3, across: [4, 5, 3]",
            "ACROSS",
            "Strand 3 is the holder of this row",
        ),
        ("row: clove hitch, holder: 3, across: all", "PLACE", "starts at an edge"),
        ("knot: square knot, strands: 4-7", "OFF-BOARD", "no position 7"),
        ("knot: berry knot, strands: 1-2, of: 3", "STRANDS", "three strands"),
        ("knot: lark's head, knotter: 2, around: 1-3", "TWICE", "Strand 2 is the knotter"),
        ("turn: 4, around: 2", "NEIGHBOURS", "side by side"),
        ("turn: 4, around: 4", "NEIGHBOURS", "side by side"),
        ("cross: [1, 3]", "PLACE", "leaves out a strand"),
        ("braid: [1, 2, 4], crossings: 2", "NEIGHBOURS", "2 and 4"),
        ("braid: [1, 2, 4], length: 3 cm", "NEIGHBOURS", "2 and 4"),
        ("net: 1-4 by 4, of: square knot, rows: 2", "NET", "Row 2 of the net has no group left"),
        ("net: 1-6 by 2, of: square knot, rows: 4, sides: narrow", "NET", "Row 4"),
        ("weave: 1, across: all, knots: [4 clove hitch]", "WEAVE", "4 knots"),
        ("take up: c2.1a, at: 1", "ASIDE", "c2.1a is not among the strands laid aside"),
        ("add: [clay], at: 8", "OFF-BOARD", "from 1 to 7"),
        ("lay aside: 7", "OFF-BOARD", "no position 7"),
        ("each: 1-8 by 4, steps: [{space: 1 cm}]", "OFF-BOARD", "no position 7"),
        ("bead: 7, size: 8 mm", "OFF-BOARD", "no position 7"),
    ],
)
def test_step_that_nobody_could_do_is_told_with_its_line(step: str, code: str, said: str) -> None:
    found = fault(project(["do: Look.", step], START, CORDS))
    assert (found.code, said in found.message) == (code, True), found
    text = project(["do: Look.", step], START, CORDS)
    assert text.splitlines()[found.span.line - 1].startswith(f"  - {{{step[:5]}")


def test_strand_is_taken_up_once() -> None:
    work = ["lay aside: 1", "take up: [c1.1a, c1.1a], at: 1"]
    assert fault(project(work, START, CORDS)).code == "TWICE"
    work = ["lay aside: 1", "take up: c1.1a, at: 1", "take up: c1.1a, at: 1"]
    found = fault(project(work, START, CORDS))
    assert (found.code, found.hint) == ("ASIDE", "Laid aside now: none.")


def test_row_on_a_board_of_one_strand_is_a_problem_and_no_crash() -> None:
    work = ["lay aside: 2-6", "row: clove hitch, holder: 1, across: all"]
    assert fault(project(work, START, CORDS)).code == "PLACE"


def test_all_of_a_board_with_none_left_is_a_problem() -> None:
    found = fault(project(["lay aside: all", "trim: all, leave: 1 cm"], START, CORDS))
    assert found.code == "STRANDS"


def test_nothing_is_hung_on_before_the_fold() -> None:
    start = "{nest: [2 reed], before fold: [{add: [clay], at: 1}]}"
    assert fault(project(["do: Look."], start)).code == "PLACE"


def test_all_that_is_wrong_is_told_at_once_and_each_thing_once() -> None:
    wrong = ["row: clove hitch, holder: 1, across: 3", "knot: square knot, strands: 4-7"]
    found = faults(project(["use: m, times: 5"], START, CORDS, {"m": wrong}))
    assert [problem.code for problem in found] == ["ACROSS", "OFF-BOARD"]


def test_strands_lost_stop_the_search_so_that_no_wrong_problem_follows() -> None:
    work = ["add: [clay], at: 9", "knot: square knot, strands: 5-8"]
    assert fault(project(work, START, CORDS)).code == "OFF-BOARD"


def test_group_that_is_not_there_stops_the_search_as_well() -> None:
    each = "each: 4-7 by 4, steps: [{add: [clay], at: 1}]"
    work = [each, "knot: square knot, strands: 5-8"]
    assert fault(project(work, START, CORDS)).code == "OFF-BOARD"


def test_pieces_that_the_work_does_not_use_are_told() -> None:
    cords = {"reed": REED[:-1] + ", pieces: 3}", "clay": REED}
    found = fault(project(["do: Look."], "{nest: [2 reed]}", cords))
    assert (found.code, found.hint) == ("PIECES", "Write ‘pieces: 2’, or leave it out.")
    work = ["add: [reed], at: 1"]
    assert names(planned(project(work, "{nest: [2 reed]}", cords)), (4,)) == ["reed.3a"]


FEWER = "Write ‘pieces: 3’ for ‘reed’, or hang fewer."


@pytest.mark.parametrize(
    ("pieces", "start", "work", "hint"),
    [
        (2, "{nest: [3 reed]}", "do: Look.", FEWER),
        (2, "{hang: [reed, 2 reed]}", "do: Look.", FEWER),
        (4, "{nest: [3 reed]}", "do: Look.", "Write ‘pieces: 3’, or leave it out."),
        (1, "{nest: [3 reed]}", "add: [reed], at: 1", FEWER),
        (3, "{nest: [3 reed]}", "add: [reed], at: 1", "Write ‘pieces: 4’, or leave it out."),
        (2, "{strands: [reed.1, reed.1, reed.3, reed.3]}", "do: Look.",
         "It has 2, counted from 1."),
        (3, "{strands: [reed.1, reed.1, reed.9, reed.9]}", "do: Look.",
         "It has 3, counted from 1."),
        (2, "{strands: [reed.1, reed.1, reed.2]}", "do: Look.",
         "Name each piece once for each of its strands, counting from 1."),
        (3, "{strands: [reed.1, reed, reed.2]}", "do: Look.", "Write ‘reed.1’."),
        (1, "{nest: [clay]}", "do: Look.", "Hang it, or leave it out."),
    ],
)  # fmt: skip
def test_one_wrong_number_of_pieces_is_told_once(
    pieces: int, start: str, work: str, hint: str
) -> None:
    cords = {"reed": f"{REED[:-1]}, pieces: {pieces}}}", "clay": REED}
    assert fault(project([work], start, cords)).hint == hint


def test_two_wrong_numbers_of_pieces_are_told_both() -> None:
    """The one that the start shows does not hide the one that only the whole work shows."""
    cords = {"reed": REED[:-1] + ", pieces: 1}", "clay": REED[:-1] + ", pieces: 5}"}
    found = faults(project(["do: Look."], "{nest: [2 reed, clay]}", cords))
    assert [problem.span.line for problem in found] == [5, 6]


def test_cord_that_cannot_be_nested_is_told_once() -> None:
    cords = {"reed": REED[:-1] + ", fold: none, pieces: 1}"}
    assert "not folded" in fault(project(["do: Look."], "{nest: [reed, reed]}", cords)).message


@pytest.mark.parametrize(
    ("step", "said", "hint"),
    [
        ("row: clove hitch, holder: 1, across: 1-6", "holder", "Write ‘across: 2-6’."),
        ("row: clove hitch, holder: 6, across: 1-6", "holder", "Write ‘across: 5-1’."),
        ("row: clove hitch, holder: 6, across: 6-1", "holder", "Write ‘across: 5-1’."),
        ("row: clove hitch, holder: 3, across: 1-6", "holder",
         "Write ‘across: 4-6’ or ‘across: 2-1’."),
        ("row: half hitch, holder: 1, across: [1, 2]", "holder", "Write ‘across: 2’."),
        ("row: reverse clove hitch, knotter: 6, across: 6-1", "knotter", "Write ‘across: 5-1’."),
        ("row: clove hitch, holder: 2, across: 2", "holder", "Name the strands beside it."),
        ("weave: 1, across: 1-3, knots: [3 clove hitch]", "weaves", "Write ‘across: 2-3’."),
    ],
)  # fmt: skip
def test_row_that_crosses_its_own_mover_says_so(step: str, said: str, hint: str) -> None:
    found = fault(project([step], START, CORDS))
    assert (found.code, found.hint) == ("ACROSS", hint)
    assert said in found.message
    assert "cannot be crossed as well" in found.message


@pytest.mark.parametrize("mirror", ["none", "all"])
def test_row_in_the_round_that_comes_back_to_its_mover_says_so(mirror: str) -> None:
    """Position 7 of 6 strands is 1 again; mirrored work counts from the other side."""
    start = START[:-1] + ", round: yes}"
    part = {"m": ["row: clove hitch, holder: 1, across: 2-7"]}
    found = fault(project([f"use: m, mirror: {mirror}"], start, CORDS, part))
    assert "Strand 1 is the holder of this row" in found.message
    assert found.hint == "Write ‘across: 2-6’."


def test_step_that_could_not_be_read_is_not_told_a_second_time_as_missing() -> None:
    cords = {"reed": REED[:-1] + ", pieces: 3}"}
    found = fault(project(["knot: sqare knot, strands: 1-4"], "{nest: [2 reed]}", cords))
    assert found.code == "KNOT"


ROW = "row: clove hitch, holder: 1, across: 2"
DEEP = {f"p{n}": [f"use: p{n + 1}, times: 100"] for n in range(9)} | {"p9": [ROW]}
NESTED = "each: 1-4 by 2, steps: [{each: 1-2 by 1, steps: [{use: m, times: 100000}]}]"


@pytest.mark.parametrize(
    ("work", "parts", "number"),
    [
        (["use: m, times: 1000000000"], {"m": [ROW]}, "1,000,000,000 counts"),
        (["knot: square knot, strands: 1-4, times: 1000000000"], None, "1,000,000,000 counts"),
        (["row: clove hitch, holder: 1, across: 2, times: 1000000000"], None, "1,000,000,000"),
        (["braid: 1-3, crossings: 1000000000"], None, "1,000,000,000 counts"),
        (["net: 1-6 by 2, of: square knot, rows: 1000000000"], None, "counts"),
        (["use: p0"], DEEP, "1,000,000,000,000,000,000 counts"),
        ([NESTED], {"m": ["space: 1 cm"]}, "400,000 counts"),
        (["use: m, times: 100000"], {"m": ["add: [clay], at: 1"]}, "200,006 strands"),
        (
            ["use: m, times: 900", "use: n, times: 200"],
            {"m": ["add: [clay], at: 1"], "n": ["row: clove hitch, holder: 1, across: all"]},
            "counts",
        ),
        (["use: m, times: 2000000000"], {"m": ["knot: sqare knot, strands: 1-4"]}, "counts"),
    ],
)
def test_work_without_end_is_refused_fast_with_its_number(
    work: list[str], parts: dict[str, list[str]] | None, number: str
) -> None:
    began = perf_counter()
    found = faults(project(work, START, CORDS, parts))
    assert perf_counter() - began < 2
    bomb = next(problem for problem in found if problem.code == "TOO-MUCH")
    assert number in bomb.message


def test_counts_that_hold_too_many_strands_between_them_are_refused() -> None:
    """Each strand of a tie takes time and memory, so that broad ties are allowed fewer times."""
    broad = {"m": ["knot: overhand knot, strands: all"]}
    assert planned(project(["use: m, times: 1000"], "{hang: [300 reed]}", parts=broad)).total
    found = fault(project(["use: m, times: 5000"], "{hang: [300 reed]}", parts=broad))
    assert (found.code, "3,000,000 strands" in found.message) == ("TOO-MUCH", True)


def test_steps_that_hold_no_strand_are_not_taken_for_ties() -> None:
    """A word between the rows of a broad piece is allowed as often as the rows are."""
    steps = {"m": [ROW, "do: Look."]}
    plan = planned(project(["use: m, times: 9000"], "{hang: [300 reed]}", parts=steps))
    assert plan.total == 18_000


def test_pieces_without_end_are_refused() -> None:
    reading = read_plan(project(["do: Look."], "{hang: [1500 reed]}"))
    assert reading.plan is None
    assert any("3,000 strands" in problem.message for problem in reading.problems)


def test_lines_that_each_pass_all_strands_are_refused_before_they_take_the_memory() -> None:
    """Few counts, few held strands and few steps may still be more than fits, times all that hang.

    Every step remembers how all strands hang: 20,000 steps of 1,000 strands are 20,000,000.
    """
    words = {"m": ["do: Look."]}
    began = perf_counter()
    found = fault(project(["use: m, times: 20000"], "{hang: [500 reed]}", parts=words))
    assert perf_counter() - began < 2
    assert (found.code, found.span.line) == ("TOO-MUCH", 8)
    assert "20,000,000 times" in found.message


@pytest.mark.parametrize(("times", "fits"), [(6_000, True), (6_001, False)])
def test_the_most_that_is_handled_is_told_to_the_step(times: int, *, fits: bool) -> None:
    text = project([f"use: m, times: {times}"], "{hang: [1000 reed]}", parts={"m": ["do: Look."]})
    found = read_project(text).project
    assert found
    problem = too_much(found, 2000)
    assert (problem is None) == fits
    assert fits or (problem and f"{times * 2000:,} times" in problem.message)
