"""The picture of the board: the right strands in the right columns, and no more than fits."""

from collections.abc import Callable
from functools import cache
from itertools import takewhile
from pathlib import Path

import pytest
from bench_pieces import (
    ABOUT,
    at,
    groups,
    knot,
    mixed_plan,
    picture,
    picture_anew,
    plan_of,
    restless_plan,
    row,
)
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from coach.knots import names
from coach.plan.board_at_count import order_at, standing
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.project import model
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import ASCII, UNICODE, Cell, Glyphs
from coach.tui.drawing.labels import initials
from coach.tui.drawing.picture_window import Picture
from coach.tui.pages.legend import in_group

PROJECTS = Path(__file__).parents[2] / "projects"
SIZES = ((38, 6), (78, 12), (82, 28), (38, 14))
CORDS = ("cord", "holding", "knotting")


@cache
def mixed() -> Plan:
    return mixed_plan()


@cache
def shipped(name: str) -> Plan:
    """Return the plan of a project that comes with the program."""
    plan = read_plan((PROJECTS / f"{name}.yaml").read_text(encoding="utf-8")).plan
    assert plan
    return plan


@cache
def broad() -> Plan:
    """Seventy-two strands."""
    every = [range(first, first + 4) for first in range(1, 72, 4)]
    return plan_of(knot("square knot", *every), row(1, range(2, 73)), pieces=36)


def test_all_counts_of_a_step_lead_to_the_board_after_it() -> None:
    """The order while a step is made ends where the plan says that the step ends."""
    plan = mixed()
    for step in plan.steps:
        if step.counts > 1:
            nearly = standing(plan, step, step.counts - 1)
            assert sorted(nearly) == sorted(step.after)
        assert standing(plan, step, step.counts) == step.after
        assert standing(plan, step, 0) == step.before


def test_a_holder_stands_behind_the_strands_that_it_has_passed() -> None:
    """Two bars to the right, 1234 -> 2341 (T. de Dillmont, figs 540-541, orders worked out)."""
    plan = plan_of(row(1, (2, 3, 4)), pieces=2)
    assert [order_at(plan, done) for done in range(4)] == [
        (0, 1, 2, 3), (1, 0, 2, 3), (1, 2, 0, 3), (1, 2, 3, 0),
    ]  # fmt: skip


def test_half_knots_exchange_their_knotters_one_by_one() -> None:
    plan = plan_of(knot("half knot", (1, 2, 3, 4), times=3), pieces=2)
    orders = [order_at(plan, done) for done in range(4)]
    assert orders == [(0, 1, 2, 3), (3, 1, 2, 0), (0, 1, 2, 3), (3, 1, 2, 0)]


@examples(60)
@given(st.integers(0, 400), st.sampled_from([40, 60, 80, 120]), st.sampled_from([UNICODE, ASCII]))
def test_every_column_hangs_the_strand_that_the_board_says(
    done: int, width: int, glyphs: Glyphs
) -> None:
    """Just above the numbers each column shows its strand, from the left in the board's order."""
    plan = mixed()
    done = min(done, plan.total)
    drawn = picture(plan, done, width, 14, glyphs)
    hanging = next(r for r in reversed(drawn.rows) if any(c.part in CORDS for c in r))
    seen = tuple(cell.strand for cell in hanging if cell.part in CORDS)
    assert seen == order_at(plan, done)
    assert [hanging[x].strand for x in drawn.columns.values()] == list(drawn.columns)


@examples(80)
@given(
    st.integers(0, 400), st.integers(8, 130), st.integers(2, 40), st.sampled_from([UNICODE, ASCII]),
    st.booleans(),
)  # fmt: skip
def test_a_picture_has_exactly_the_size_asked_for(
    done: int, width: int, height: int, glyphs: Glyphs, wide: bool
) -> None:
    """Every row is as wide as asked in single-width characters, and there are so many rows."""
    plan = broad() if wide else mixed()
    drawn = picture(plan, min(done, plan.total), width, height, glyphs)
    assert len(drawn.rows) == height
    for cells in drawn.rows:
        assert len(cells) == width
        assert all(cell_len(cell.char) == 1 for cell in cells)


def test_the_holder_lies_across_as_far_as_it_has_got() -> None:
    """A row of five: n ties are n knots, each in its knotter's colour, then room."""
    plan = plan_of(row(1, range(2, 7)))
    for done in range(5):
        drawn = picture(plan, done, 60, 8)
        line = drawn.rows[1]
        knotted = [cell.strand for cell in line if cell.part == "knot"]
        assert list(dict.fromkeys(knotted)) == [1, 2, 3, 4, 5][:done]
        across = [x for x, cell in enumerate(line) if cell.part == "across"]
        columns = sorted(drawn.columns.values())
        assert set(columns[: done + 1] if done else []) <= set(across)
        assert {line[x].strand for x in across} == ({0} if done else set())
        assert {cell.strand for cell in line if cell.part == "pending"} == {done + 1}


def turns(knot_name: str, *, holds: bool = True, right: bool = True) -> str:
    """Return the characters of one tie of a row."""
    mover, across = (1, (2, 3)) if right else (3, (2, 1))
    tied = model.Row(ABOUT, at(mover), at(*across), (knot_name,), holds)
    line = picture(plan_of(tied), 1, 60, 8).rows[1]
    return "".join(cell.char for cell in line if cell.part == "knot")


def test_hitches_on_a_row_show_their_turns_and_their_sense() -> None:
    """A clove hitch has two turns of one sense, a half hitch one, a lark's head two that face."""
    assert turns("clove hitch") == 2 * turns("half hitch") == 2 * UNICODE.hitch[0]
    assert turns("clove hitch", right=False) == 2 * UNICODE.hitch[1]
    assert turns("lark's head") == UNICODE.head[0]
    assert len({turns(k) for k in ("clove hitch", "half hitch", "lark's head")}) == 3


def test_the_travelling_strand_shows_over_the_strands_it_goes_round() -> None:
    plan = plan_of(row(1, range(2, 7), holds=False))
    line = picture(plan, 5, 60, 8).rows[1]
    assert {cell.strand for cell in line if cell.part == "knot"} == {0}


def test_strands_not_reached_yet_still_hang() -> None:
    plan = plan_of(row(1, range(2, 7)))
    line = picture(plan, 2, 60, 8).rows[1]
    assert [cell.strand for cell in line if cell.part == "cord"] == [3, 4, 5]


def test_the_tie_at_hand_differs_in_shape_from_the_others() -> None:
    """Knotter and holder of the tie at hand have characters of their own, in both sets."""
    plan = plan_of(row(1, range(2, 7)))
    for glyphs in (UNICODE, ASCII):
        drawn = picture(plan, 2, 60, 10, glyphs)
        chars = {c.part: c.char for r in drawn.rows for c in r if c.part in CORDS}
        assert len(set(chars.values())) == 3
        assert "holds" in drawn.text()
        assert "knots" in drawn.text()


def knot_cells(plan: Plan, done: int, height: int = 14) -> list[list[Cell]]:
    """Return the cells of made ties, line by line."""
    rows = picture(plan, done, 40, height).rows
    found = [[cell for cell in line if cell.part == "knot"] for line in rows]
    return [line for line in found if line]


def test_a_square_knot_shows_two_bars_and_the_loop_on_its_side() -> None:
    """The left strand goes over both times, held by the right one's loop on the left.

    Who goes over: T. de Dillmont, p. 347 fig. 516 (read); on which side the loop shows is common
    practice, no source.
    """
    for name, bars, loop, side in (("square knot", 0, 3, 0), ("reverse square knot", 3, 0, -1)):
        lines = knot_cells(plan_of(knot(name, (1, 2, 3, 4)), pieces=2), 1)
        assert len(lines) == 2
        for line in lines:
            assert line[side].strand == loop
            assert {cell.strand for cell in line} == {bars, loop}
            assert sum(cell.strand == bars for cell in line) > sum(c.strand == loop for c in line)


def test_a_half_knot_slants_down_the_way_it_goes_and_changes_the_colours() -> None:
    """One half repeated: T. de Dillmont, pp. 351-352 fig. 531 (read); here who goes over."""
    high, low = UNICODE.ramp
    for name, order in (("half knot", high + low), ("reverse half knot", low + high)):
        lines = knot_cells(plan_of(knot(name, (1, 2, 3, 4), times=3), pieces=2), 3)
        bars = [[cell for cell in line if cell.char in UNICODE.ramp] for line in lines]
        seen = ["".join(dict.fromkeys(cell.char for cell in bar)) for bar in bars]
        assert seen == [order] * 3
        over = [bar[0].strand for bar in bars]
        assert over == ([0, 3, 0] if name == "half knot" else [3, 0, 3])
        ends = [{line[0].strand, line[-1].strand} for line in lines]
        assert ends == [{3 - strand} for strand in over if strand is not None]


def test_a_run_of_half_knots_turns() -> None:
    """The step of the bars moves to the right from tie to tie, as the work twists."""
    lines = knot_cells(plan_of(knot("half knot", (1, 2, 3, 4), times=3), pieces=2), 3)
    steps = [sum(cell.char == UNICODE.ramp[0] for cell in line) for line in lines]
    assert steps == sorted(set(steps))


@pytest.mark.parametrize("glyphs", [UNICODE, ASCII])
def test_knots_look_different(glyphs: Glyphs) -> None:
    """No two knots of groups are drawn alike, but for hitches that are the same seen so."""
    looks = {}
    for name in names.KNOTS:
        entry = in_group(glyphs, name)
        looks[name] = tuple(
            tuple(sorted((x, c.char) for x, c in line.items())) for line in entry.lines
        )
    assert looks.pop(names.CLOVE) == looks.pop(names.REVERSE_CLOVE)
    assert len(set(looks.values())) == len(looks)


def wave(*, mirrored: bool = False) -> Plan:
    """Two slanting rows one below the other on six strands."""
    part = (row(1, range(2, 7)), row(1, range(2, 7)))
    return plan_of(model.Use(ABOUT, "wave", 1, "all" if mirrored else "none"), parts={"wave": part})


def tie_places(plan: Plan, done: int, height: int = 24) -> dict[int, dict[int, int]]:
    """Give, by age, the line on which each knotter's tie is drawn."""
    places: dict[int, dict[int, int]] = {}
    for y, line in enumerate(picture(plan, done, 60, height).rows):
        for cell in line:
            if cell.part == "knot" and cell.strand is not None:
                places.setdefault(cell.age, {})[cell.strand] = y
    return places


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_slanting_row_goes_down_a_line_with_each_tie(mirrored: bool) -> None:
    plan = wave(mirrored=mirrored)
    for step, age in ((0, 1), (1, 0)):
        ties = [plan.counts[step * 5 + i].knotters[0] for i in range(5)]
        lines = [tie_places(plan, 9)[age].get(tie) for tie in ties][: 5 - (step == 1)]
        assert lines == list(range(lines[0] or 0, (lines[0] or 0) + len(lines)))


def test_a_row_lies_below_the_slanting_row_before_it() -> None:
    plan = wave()
    places = tie_places(plan, 10)
    for count in plan.counts[5:10]:
        tie = count.knotters[0]
        assert places[0][tie] > places[1].get(tie, 0)


def test_with_little_room_a_slanting_row_is_drawn_level() -> None:
    assert len(set(tie_places(wave(), 4, height=6)[0].values())) == 1


def assert_no_cord_changes_on_its_way(drawn: Picture) -> None:
    """Up from where it hangs, a cord is the same one as far as the last thing made on it."""
    above_labels = [r for r in drawn.rows if not any(c.part in ("number", "initial") for c in r)]
    for strand, x in drawn.columns.items():
        if any(line[x].char == UNICODE.slack for line in above_labels):
            continue  # what lies between is longer than the picture, and it says so
        cells = (line[x] for line in reversed(above_labels))
        free = takewhile(lambda cell: cell.part in CORDS, (c for c in cells if c.part != "word"))
        assert {cell.strand for cell in free} <= {strand}


@pytest.mark.parametrize("name", sorted(path.stem for path in PROJECTS.glob("*.yaml")))
def test_the_projects_are_drawn_as_the_hands_see_them(name: str) -> None:
    """At every count: the strands in their places, the tie at hand shown, its knotters right."""
    plan = shipped(name)
    for done in range(plan.total + 1):
        drawn = picture(plan, done, *SIZES[done % len(SIZES)])
        hanging = next(r for r in reversed(drawn.rows) if any(c.part in CORDS for c in r))
        seen = tuple(c.strand for c in hanging if c.part in CORDS)
        order = order_at(plan, done) or tuple(drawn.columns)  # all may be made apart
        first = order.index(seen[0])
        assert seen == order[first : first + len(seen)] == tuple(drawn.columns)
        assert_no_cord_changes_on_its_way(drawn)
        count = plan.counts[done] if done < plan.total else None
        if count and count.knot:
            assert any(c.part == "pending" for r in drawn.rows for c in r)
            marked = {c.strand for c in hanging if c.part == "knotting"}
            tying = set(count.knotters) & set(order)
            if over_seam(order, {*tying, *count.fillers}):
                assert count.knotters[0] in marked
                tying &= set(drawn.columns)  # a window has one end of the board, or all of it
            assert marked == tying


def over_seam(order: tuple[int, ...], hands: set[int]) -> bool:
    """Return whether a tie lies over the seam of round work: at both ends of the board."""
    places = {place for place, strand in enumerate(order) if strand in hands}
    return {0, len(order) - 1} <= places and len(places) < len(order)


def test_each_tie_made_on_the_tide_band_is_in_the_colour_of_its_knotter() -> None:
    plan = shipped("tide-band")
    for step in (s for s in plan.steps if s.role == "row"):
        for done in range(step.first + 1, step.end):
            rows = picture(plan, done, 80, 30).rows
            drawn = [c.strand for r in rows for c in r if c.part == "knot" and c.age == 0]
            made = [plan.counts[n].knotters[0] for n in range(step.first, done)]
            assert list(dict.fromkeys(drawn)) == made


def test_folded_pieces_hang_by_larks_heads() -> None:
    """A bar of each piece lies across its two strands; two strands of two pieces share none."""
    text = "coach: 1\ntitle: Reed\ncords:\n  reed: {colour: green, fibre: cotton, diameter: 2 mm, "
    text += "pieces: 2}\nstart:\n  hang: [2 reed]\n  on: dowel\nwork:\n  - do: Look at it.\n"
    plan = read_plan(text).plan
    assert plan
    line = picture(plan, 0, 40, 10).rows[1]
    bars = [x for x, cell in enumerate(line) if cell.part == "knot"]
    columns = sorted(picture(plan, 0, 40, 10).columns.values())
    inside = [*range(columns[0], columns[1] + 1), *range(columns[2], columns[3] + 1)]
    assert bars == inside


def test_a_bundle_of_a_plait_crosses_strand_by_strand() -> None:
    """Two lines for two strands, the inner one first; what goes under comes out below."""
    plan = plan_of(model.Braid(ABOUT, groups((1, 2), (3, 4), (5, 6)), crossings=3))
    rows = picture(plan, 1, 60, 14).rows[1:3]
    across = [{c.strand for c in line if c.part == "across"} for line in rows]
    assert across == [{4}, {5}]


def test_where_the_work_goes_on_below_the_picture_it_says_so() -> None:
    arm = knot("square knot", (1, 2, 3), times=9)
    plan = plan_of(model.Each(ABOUT, groups((1, 2, 3), (4, 5, 6)), (arm,)))
    drawn = picture(plan, 9, 60, 10)
    last = next(r for r in reversed(drawn.rows) if any(c.part in CORDS for c in r))
    chars = [last[x].char for x in drawn.columns.values()]
    assert chars[:3] == [UNICODE.slack] * 3
    assert UNICODE.slack not in chars[3:]


def test_no_number_is_cut_in_two_at_the_edge() -> None:
    plan = broad()
    for done in range(0, plan.total, 7):
        for width in range(30, 46):
            drawn = picture(plan, done, width, 10)
            text = "".join(c.char if c.part in ("number", "here") else " " for c in drawn.rows[-3])
            order = order_at(plan, done)
            shown = {str(order.index(strand) + 1) for strand in drawn.columns}
            assert set(text.split()) <= shown


def test_a_broad_piece_shows_where_the_hands_are_and_that_there_is_more() -> None:
    plan = broad()
    left, right = UNICODE.more
    for done, sides in ((0, {right}), (9, {left, right}), (17, {left})):
        drawn = picture(plan, done, 60, 10)
        hands = (*plan.counts[done].knotters, *plan.counts[done].fillers)
        assert set(hands) <= set(drawn.columns)
        assert {c.char for r in drawn.rows for c in r if c.part == "edge"} == sides


def test_strands_that_come_and_go_are_drawn_where_they_stand() -> None:
    """In the round, before folding, with strands added, laid aside and turned over."""
    plan = restless_plan()
    for done in range(plan.total + 1):
        for glyphs in (UNICODE, ASCII):
            drawn = picture(plan, done, 60, 14, glyphs)
            hanging = next(r for r in reversed(drawn.rows) if any(c.part in CORDS for c in r))
            assert tuple(c.strand for c in hanging if c.part in CORDS) == order_at(plan, done)


def test_arms_that_are_worked_one_after_the_other_hang_level() -> None:
    """The first tie of the second arm is drawn beside the first tie of the first one."""
    arm = knot("square knot", (1, 2, 3), times=3)
    each = model.Each(ABOUT, groups((1, 2, 3), (4, 5, 6)), (arm,))
    plan = plan_of(each)
    drawn = picture(plan, 4, 60, 12)
    columns = sorted(drawn.columns.values())
    knotted = [
        [r[columns[0]].part == "knot", r[columns[3]].part == "knot"] for r in drawn.rows[1:7]
    ]
    assert knotted == [[True, True]] * 2 + [[True, False]] * 4
    assert drawn.rows[3][columns[3] + 1].part == "pending"


def test_work_above_gets_older_row_by_row() -> None:
    plan = mixed()
    drawn = picture(plan, plan.steps[3].first, 60, 16)
    ages = [
        max((c.age for c in r), default=0) for r in drawn.rows if any(c.part == "knot" for c in r)
    ]
    assert ages == sorted(ages, reverse=True)
    assert ages[0] > ages[-1]


def test_cords_with_one_initial_get_letters_of_their_own() -> None:
    assert initials(["reed", "rush", "ré"]) == {"reed": "r", "rush": "u", "ré": "1"}
    many = [f"c{i}" for i in range(20)]
    assert len(set(initials(many).values())) == 20


def test_the_plain_set_is_ascii() -> None:
    plan = mixed()
    for done in range(plan.total + 1):
        assert picture(plan, done, 50, 12, ASCII).text().isascii()


@pytest.mark.parametrize("make", [mixed_plan, restless_plan])
def test_a_picture_is_the_same_whatever_was_drawn_before(make: Callable[[], Plan]) -> None:
    """What is kept from picture to picture belongs to the step and the size, in any order."""
    plan = make()
    drawing = BoardDrawing(plan)
    for height in (24, 9, 5):
        for done in range(plan.total + 1):
            drawing.picture(done // 2, 60, height)
            for width in (60, 40):
                drawn = drawing.picture(done, width, height)
                assert drawn == picture_anew(plan, done, width, height), done


@pytest.mark.parametrize("height", [12, 28])
def test_the_gap_of_a_net_is_seen_and_hides_no_row_above(height: int) -> None:
    """Where there is little room it takes one line, whatever is left free."""
    net = model.Net(ABOUT, groups(range(1, 5), range(5, 9)), "square knot", 2, gap_mm=20.0)
    plan = plan_of(net, pieces=4)
    lines = picture(plan, 2, 40, height).text().splitlines()
    free = [number for number, line in enumerate(lines) if line.count(UNICODE.slack) >= 4]
    assert len(free) == 1
    made = [number for number, line in enumerate(lines) if UNICODE.across in line]
    assert made[-1] == free[0] - (1 if height == 12 else 2)
