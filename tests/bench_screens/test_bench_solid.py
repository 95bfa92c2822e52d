"""The board drawn solid, and what holds for every way of drawing it: nothing made is hidden."""

import re
from collections.abc import Callable
from functools import cache
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
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from coach.colour import contrast
from coach.knots import names
from coach.plan.board_at_count import order_at
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.project import model
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import ASCII, SOLID, UNICODE, Glyphs, board_glyphs
from coach.tui.drawing.picture_window import Picture
from coach.tui.drawing.solid.solid_cords import HANDS
from coach.tui.layout.styled_text import Inks
from coach.tui.pages.legend import in_group
from coach.tui.theme.colour_depth import Depth, nearest_colour
from coach.tui.theme.palette import PICTURE_CONTRAST, palette_for, seen_on, toned

PROJECTS = Path(__file__).parents[2] / "projects"
EVERY = pytest.mark.parametrize("glyphs", [SOLID, UNICODE, ASCII], ids=["solid", "lines", "ascii"])
DEPTHS: tuple[Depth, ...] = ("full", "256", "16", "none")
CORDS = ("cord", "holding", "knotting")


@cache
def shipped(name: str) -> Plan:
    plan = read_plan((PROJECTS / f"{name}.yaml").read_text(encoding="utf-8")).plan
    assert plan
    return plan


def lowest(drawn: Picture) -> dict[int, int | None]:
    """Return the strand that is drawn in each strand's column just above the numbers."""
    line = next(r for r in reversed(drawn.rows) if any(c.part in CORDS for c in r))
    return {strand: line[x].strand for strand, x in drawn.columns.items()}


@pytest.mark.parametrize("make", [mixed_plan, restless_plan])
@pytest.mark.parametrize("size", [(38, 6), (78, 12), (110, 28)])
def test_a_solid_picture_has_its_size_and_each_column_its_strand(
    make: Callable[[], Plan], size: tuple[int, int]
) -> None:
    plan = make()
    for done in range(plan.total + 1):
        drawn = picture(plan, done, *size, SOLID)
        assert len(drawn.rows) == size[1]
        assert {len(r) for r in drawn.rows} == {size[0]}
        assert all(cell_len(c.char) == 1 for r in drawn.rows for c in r)
        assert tuple(drawn.columns) == order_at(plan, done)
        assert all(strand == seen for strand, seen in lowest(drawn).items()), done


@pytest.mark.parametrize("make", [mixed_plan, restless_plan])
def test_a_solid_picture_is_the_same_whatever_was_drawn_before(make: Callable[[], Plan]) -> None:
    plan = make()
    drawing = BoardDrawing(plan, SOLID)
    for done in (*range(plan.total + 1), *range(plan.total, 0, -3)):
        assert drawing.picture(done, 60, 16) == picture_anew(plan, done, 60, 16, SOLID), done


def test_solid_knots_look_different() -> None:
    """No two knots of groups are drawn alike, but for hitches that are the same seen so."""
    looks = {}
    for name in names.KNOTS:
        lines = in_group(SOLID, name).lines
        looks[name] = tuple(
            tuple(sorted((x, c.char, c.strand, c.tone) for x, c in line.items())) for line in lines
        )
    assert looks.pop(names.CLOVE) == looks.pop(names.REVERSE_CLOVE)
    assert len(set(looks.values())) == len(looks)


@pytest.mark.parametrize("width", [22, 40, 60])
def test_each_tie_of_a_solid_row_shows_its_knotters_turns_over_the_holder(width: int) -> None:
    plan = plan_of(row(1, range(2, 7)))
    for done in range(1, 6):
        line = picture(plan, done, width, 12, SOLID).rows[1]
        turns = [c.strand for c in line if c.part == "knot"]
        assert list(dict.fromkeys(turns)) == [1, 2, 3, 4, 5][:done]
        assert {c.strand for c in line if c.part == "across"} == {0}
        assert len({turns.count(strand) for strand in set(turns)}) == 1


def test_a_solid_square_knot_shows_two_bars_and_the_loop_on_its_side() -> None:
    for name, over, under in (("square knot", 0, 3), ("reverse square knot", 3, 0)):
        drawn = picture(plan_of(knot(name, (1, 2, 3, 4)), pieces=2), 1, 60, 12, SOLID)
        lines = [line for line in drawn.rows if sum(c.part == "knot" for c in line) > 8]
        assert len(lines) == 2
        for line in lines:
            own = [c for c in line if c.part == "knot"]
            assert own[len(own) // 2].strand == over
            assert (own[0] if under == 3 else own[-1]).strand == under


@EVERY
@pytest.mark.parametrize("height", [6, 9, 12, 16, 30])
def test_a_run_is_whole_or_says_how_many_more_are_above(glyphs: Glyphs, height: int) -> None:
    """What is seen of the bars and what is said to be above are what was made."""
    plan = plan_of(knot("square knot", (1, 2, 3, 4), times=13), pieces=2)
    for made in range(1, 14):
        drawn = picture(plan, made, 60, height, glyphs)
        bars = sum(sum(c.part == "knot" for c in line) > 8 for line in drawn.rows)
        each = 2 if height >= 9 else 1
        said = re.search(r"\+?(\d+)(?: more(?: above)?)?(?!\d)", drawn.text().split("\n")[0])
        above = int(said[1]) if said else 0
        assert bars // each + above == made


@EVERY
def test_a_group_over_the_seam_is_seen_as_two_halves_at_the_edges(glyphs: Glyphs) -> None:
    """Work in the round laid open: 7, 8, 1 and 2 of eight are one knot."""
    text = (
        "coach: 1\ntitle: Reed ring\ncords: {reed: {colour: green, diameter: 2 mm}}\n"
        "start: {hang: [4 reed], round: yes}\nwork: [{knot: square knot, groups: 3-10 by 4}]\n"
    )
    plan = read_plan(text).plan
    assert plan
    drawn = picture(plan, 2, 60, 12, glyphs)
    columns = [drawn.columns[strand] for strand in order_at(plan, 2)]
    knotted = [x for line in drawn.rows for x, c in enumerate(line) if c.part == "knot" and
               c.strand in plan.counts[1].knotters]  # fmt: skip
    assert min(knotted) < columns[0]
    assert max(knotted) > columns[-1]
    assert not [x for x in knotted if columns[2] < x < columns[5]]


@EVERY
def test_a_knotter_to_the_right_of_what_it_is_tied_round_lies_over_no_seam(glyphs: Glyphs) -> None:
    """The last strand round the one before it, of eight that hang side by side."""
    around = model.AroundKnot(ABOUT, "lark's head", at(8), at(7), 1)
    drawn = picture(plan_of(around, pieces=4), 1, 60, 12, glyphs)
    columns = sorted(drawn.columns.values())
    knotted = [x for line in drawn.rows[2:] for x, c in enumerate(line) if c.part == "knot"]
    assert min(knotted) > columns[5]


def test_a_finished_piece_is_seen_in_full_colours() -> None:
    plan = shipped("tide-band")
    drawn = picture(plan, plan.total, 60, 40, SOLID)
    assert {c.age for line in drawn.rows for c in line} == {0}


@EVERY
def test_a_row_that_goes_over_the_seam_shows_its_tie_there(glyphs: Glyphs) -> None:
    text = (
        "coach: 1\ntitle: Reed ring\ncords: {reed: {colour: green, diameter: 2 mm}}\n"
        "start: {hang: [4 reed], round: yes}\n"
        "work: [{row: clove hitch, holder: 7, across: 8-10, lie: level}]\n"
    )
    plan = read_plan(text).plan
    assert plan
    drawn = picture(plan, 3, 60, 12, glyphs)
    tied = {c.strand for line in drawn.rows for c in line if c.part == "knot"}
    assert {count.knotters[0] for count in plan.counts} <= tied


@EVERY
def test_what_was_made_long_ago_on_other_strands_is_still_seen(glyphs: Glyphs) -> None:
    """Many small steps on one group hide nothing of another as long as there is room for it."""
    small = tuple(knot("half knot", (1, 2, 3)) for _ in range(9))
    each = model.Each(ABOUT, groups(*((n, n + 1, n + 2) for n in range(1, 18, 3))), small)
    plan = plan_of(each, pieces=9)
    drawn = picture(plan, plan.total, 80, 20, glyphs)
    for first in range(0, 18, 3):
        own = set(order_at(plan, plan.total)[first : first + 3])
        lines = [r for r in drawn.rows if any(c.part == "knot" and c.strand in own for c in r)]
        assert len(lines) == 9


def test_near_the_hands_solid_colours_do_not_fade() -> None:
    plan = shipped("tide-band")
    drawn = picture(plan, 60, 60, 20, SOLID)
    hands = max(y for y, line in enumerate(drawn.rows) if any(c.tone == HANDS for c in line))
    near = [c.age for line in drawn.rows[hands - 8 : hands] for c in line]
    assert set(near) == {0}
    assert any(c.age for line in drawn.rows[: hands - 8] for c in line)


@given(
    st.integers(0, 0xFFFFFF).map("#{:06x}".format), st.booleans(), st.sampled_from(["full", "256"])
)
def test_any_cord_is_seen_in_light_and_in_shade(colour: str, dark: bool, depth: Depth) -> None:
    palette = palette_for("dark" if dark else "light", depth)
    own = seen_on(colour, palette.background, PICTURE_CONTRAST, depth)
    tones = [toned(own, palette.background, depth, light=light) for light in (True, False)]
    for tone in tones:
        seen = nearest_colour(tone, depth), nearest_colour(palette.background, depth)
        assert contrast(*seen) >= PICTURE_CONTRAST
    if depth == "full" and 0.02 < contrast(own, "#ffffff") / 21 < 0.9:
        assert tones[0] != tones[1]


def test_few_colours_and_ascii_keep_the_lines() -> None:
    shaded = [depth for depth in DEPTHS if Inks(palette_for("dark", depth)).shaded]
    assert shaded == ["full", "256"]
    assert board_glyphs(UNICODE, shaded=True) is SOLID
    assert board_glyphs(UNICODE, shaded=False) is UNICODE
    assert board_glyphs(ASCII, shaded=True) is ASCII


@pytest.mark.parametrize(("strands", "width", "pitch"), [(24, 82, 3), (8, 60, 7), (4, 60, 9)])
def test_cords_hang_as_far_apart_as_there_is_room(strands: int, width: int, pitch: int) -> None:
    plan = plan_of(knot("square knot", (1, 2, 3, 4)), pieces=strands // 2)
    xs = sorted(picture(plan, 1, width, 20, SOLID).columns.values())
    assert xs[1] - xs[0] == pitch


def test_in_a_solid_plait_the_outer_strand_lies_over_from_each_side_in_turn() -> None:
    """The right one first, then the left one (the format's own contract)."""
    plan = plan_of(model.Braid(ABOUT, groups((1,), (2,), (3,)), crossings=6), pieces=2)
    for done in range(1, 7):
        rows = picture(plan, done, 60, 20, SOLID).rows
        lobes = [{c.strand for c in line if c.part == "across"} for line in rows]
        made = [lobe for lobe in lobes if lobe]
        assert made == [{count.knotters[0]} for count in plan.counts[:done]]
