"""Figures, keys, the bounce guard, times and lines of text."""

from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len
from rich.style import Style
from rich.text import Text

from coach.session.keymap import ACTIONS, BounceGuard, Keys, rebound
from coach.session.time_format import clock_span, length_span, minutes, time_span
from coach.tui.drawing.cells import ASCII, UNICODE, glyphs_for
from coach.tui.layout.large_print import HEIGHTS, large, large_width
from coach.tui.layout.styled_text import Inks, ellipsized, paragraph
from coach.tui.layout.wrapping import wrapped
from coach.tui.theme.palette import DARK


@pytest.mark.parametrize("rows", HEIGHTS)
@pytest.mark.parametrize("plain", [False, True])
def test_figures_are_all_different_and_as_large_as_said(rows: int, plain: bool) -> None:
    drawn = {"\n".join(large(figure, rows, plain=plain)) for figure in range(10)}
    assert len(drawn) == 10
    for number in (0, 7, 10, 1111, 90210):
        lines = large(number, rows, plain=plain)
        assert len(lines) == rows
        assert {len(line) for line in lines} == {large_width(number, rows)}


@given(st.lists(st.lists(st.sampled_from(["", "a", "bc ", "def"]), max_size=4), max_size=4))
def test_a_line_joined_of_joined_parts_is_shown_as_it_reads(parts: list[list[str]]) -> None:
    """However parts were joined before, and whatever style the whole has."""
    inks = Inks(DARK)
    quiet, bold = inks.style("quiet"), inks.style("text", bold=True)
    line, read = Text(), ""
    for some in parts:
        joined = Text("", quiet)
        for one in some:
            joined += Text(one, bold)
        line += Text(" ", quiet) + joined
        read += " " + "".join(some)
    shown = inks.finished(line)
    assert shown.text == read
    assert [s.style for s in shown if s.text.strip() and s.style != bold] == []


def test_no_key_has_two_actions() -> None:
    keys = [key for action in ACTIONS for key in action.keys]
    assert len(keys) == len(set(keys))


def test_an_action_can_be_given_other_keys() -> None:
    keys = rebound({"count": ["f13", "x"]})
    assert keys.action("x") == "count"
    assert keys.action("space") is None
    assert keys.shown("count") == "f13"
    assert Keys().shown("count") == "space"
    with pytest.raises(KeyError):
        rebound({"knit": ["x"]})


def test_a_key_seen_again_too_soon_is_the_same_press_taken_or_not() -> None:
    """Keys at 0, 100, 200 and 349 ms are one press; one at 499 ms is the next."""
    guard = BounceGuard(150)
    assert [guard.is_new(ms) for ms in (0, 100, 200, 349, 499)] == [True, *[False] * 3, True]


def test_what_was_merged_is_told_with_its_number_while_it_can_be_given_back() -> None:
    """Chatter until the next press; more than chatter, as after a stall, for ten presses."""
    guard = BounceGuard(150)
    for ms in (0, 10, 500, 1000):
        guard.is_new(ms)
    assert guard.merged == 0
    for ms in (1010, 1020, 1030, 2000):
        guard.is_new(ms)
    assert guard.merged == 3
    for ms in range(3000, 12_000, 1000):
        assert guard.merged == 3
        guard.is_new(ms)
    assert guard.merged == 3
    guard.is_new(20_000)
    assert guard.merged == 0


def test_a_guard_of_nothing_lets_every_key_through() -> None:
    guard = BounceGuard(0)
    assert all(guard.is_new(0) for _ in range(3))


@given(st.text(), st.integers(1, 30))
def test_nothing_is_wider_than_its_room(text: str, width: int) -> None:
    width = max(2, width)
    assert cell_len(ellipsized(text, width)) <= width
    assert all(cell_len(line) <= width for line in wrapped(text, width))


@given(st.text("ab c"), st.integers(2, 12))
def test_wrapping_loses_no_letter(text: str, width: int) -> None:
    assert "".join(wrapped(text, width)).replace(" ", "") == text.replace(" ", "")


@pytest.mark.parametrize(
    ("seconds", "shown"),
    [(0, "0 min"), (59, "0 min"), (60, "1 min"), (3780, "1 h 3 min"), (7200, "2 h")],
)
def test_minutes(seconds: float, shown: str) -> None:
    assert minutes(seconds) == shown


@pytest.mark.parametrize(
    ("low", "high", "shown"),
    [(10, 40, "about 1 min"), (120, 300, "2 to 5 min"), (2410, 3290, "40 to 55 min"),
     (3000, 5000, "50 min to 1 h 25 min"), (600, 610, "about 10 min")],
)  # fmt: skip
def test_time_spans_are_as_coarse_as_they_are_known(low: float, high: float, shown: str) -> None:
    assert time_span(low, high) == shown


def test_lengths_name_their_unit_once_where_it_is_the_same() -> None:
    assert length_span(118, 183) == "12-18 cm"
    assert length_span(120, 121) == "12 cm"


def test_a_time_that_falls_on_another_day_says_so() -> None:
    evening, night = datetime(2031, 5, 5, 23, 30), datetime(2031, 5, 6, 0, 10)  # noqa: DTZ001 - a wall clock
    assert clock_span(evening, night) == "finished between 23:30 and Tue 00:10"


def test_the_terminal_s_encoding_decides_the_characters() -> None:
    assert glyphs_for("utf-8") is UNICODE
    assert glyphs_for("ascii") is ASCII
    assert glyphs_for("latin-1") is ASCII
    assert glyphs_for(None) is ASCII


def test_a_long_text_takes_no_more_lines_than_it_may() -> None:
    lines = paragraph("reed clay tide " * 20, 16, 3, Style())
    assert [line.plain for line in lines] == ["reed clay tide", "reed clay tide", "reed clay tide…"]
    assert paragraph("reed", 10, 0, Style()) == []
