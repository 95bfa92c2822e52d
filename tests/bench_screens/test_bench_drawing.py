"""The picture of the board: the right strands in the right columns, and no more than fits."""

from functools import cache

from bench_pieces import ABOUT, groups, knot, mixed_plan, plan_of, restless_plan, row
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from coach.bench.cells import ASCII, UNICODE, Glyphs
from coach.bench.drawing import picture
from coach.bench.labels import initials
from coach.bench.standing import order_at, standing
from coach.plan.model import Plan
from coach.project import model

CORDS = ("cord", "holding", "knotting")


@cache
def mixed() -> Plan:
    return mixed_plan()


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


@settings(max_examples=60, deadline=None)
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


@settings(max_examples=80, deadline=None)
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
        assert across == (columns[: done + 1] if done else [])
        assert {cell.strand for cell in line if cell.part == "pending"} == {done + 1}


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


def test_a_square_knot_shows_its_fillers_running_through() -> None:
    plan = plan_of(knot("square knot", (1, 2, 3, 4)), pieces=2)
    drawn = picture(plan, 1, 40, 8)
    line = next(r for r in drawn.rows if any(c.part == "knot" for c in r))
    assert [line[x].strand for x in sorted(drawn.columns.values())] == [0, 1, 2, 3]
    assert [line[x].part for x in sorted(drawn.columns.values())] == [
        "knot",
        "cord",
        "cord",
        "knot",
    ]


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
        [r[columns[0]].part == "knot", r[columns[3]].part == "knot"] for r in drawn.rows[1:4]
    ]
    assert knotted == [[True, True], [True, False], [True, False]]
    assert drawn.rows[2][columns[3] + 1].part == "pending"


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
