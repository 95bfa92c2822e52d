"""Settings as a maker writes them, and what is told when something is wrong with them."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.settings.read_settings import read_settings
from coach.settings.settings import Settings

ACTIONS = {"count": ("space", "enter"), "take_back": ("backspace",), "rest": ("r",)}

WHOLE = """
theme: light
units: in
characters: ascii
picture: pixels
bounce: 90 ms
any key counts: yes
count by: pass
count by knot: {double half hitch: step, lark\u2019s head: tie}
keys:
  count: [space, f13, Page Down]
  take back: "-"
bell: {step: no}
speech: {on: yes, program: spd-say, every: 4}
keep awake: no
rest after: 40 min
skill: New to it
"""


def told(text: str) -> list[tuple[int, int, str]]:
    """Return line, column and code of each problem."""
    return [(p.span.line, p.span.column, p.code) for p in read_settings(text, ACTIONS).problems]


def test_every_setting_is_read() -> None:
    reading = read_settings(WHOLE, ACTIONS)
    assert not reading.problems
    assert reading.settings == Settings(
        keys={"count": ("space", "f13", "shift+f1", "pagedown"), "take_back": ("minus",)},
        any_key=True, bounce_ms=90, count_by="pass",
        count_by_knot={"clove hitch": "step", "lark's head": "tie"},
        units="in", theme="light", characters="ascii", picture="pixels",
        bell_step=False, bell_repeat=True,
        speech=True, speech_program="spd-say", speech_every=4, keep_awake=False,
        rest_after_min=40, skill="new to it",
    )  # fmt: skip


@pytest.mark.parametrize("text", ["", "# nothing set\n", "\ufeff", "\r\n"])
def test_nothing_written_changes_nothing(text: str) -> None:
    reading = read_settings(text, ACTIONS)
    assert reading.settings == Settings()
    assert not reading.problems


@pytest.mark.parametrize(
    ("text", "seen"),
    [
        ("bell: no", lambda s: not s.bell_step and not s.bell_repeat),
        ("speech: yes", lambda s: s.speech),
        ("speech: {every: 0}", lambda s: not s.speech and s.speech_every == 0),
        ("rest after: never", lambda s: s.rest_after_min == 0),
        ("rest after: 1 h 10 min", lambda s: s.rest_after_min == 70),
        ("bounce: 0", lambda s: s.bounce_ms == 0),
        ("count by: Step", lambda s: s.counted_by("square knot") == "step"),
    ],
)
def test_short_ways_of_saying_it(text: str, seen: Callable[[Settings], bool]) -> None:
    reading = read_settings(text, ACTIONS)
    assert not reading.problems
    assert seen(reading.settings)


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("theme: ligth", (1, 8, "CHOICE")),
        ("bell: {step: maybe}", (1, 14, "CHOICE")),
        ("bounce: 150", (1, 9, "QUANTITY")),
        ("bounce: 6000 ms", (1, 9, "QUANTITY")),
        ("count by knot:\n  sqare knot: pass", (2, 3, "KNOT")),
        ("count by knot: {half knot: turn}", (1, 28, "CHOICE")),
        ("count by knot: pass", (1, 16, "SHAPE")),
        ("speech: {every: some}", (1, 17, "NUMBER")),
        ("\nspech: yes", (2, 1, "UNKNOWN-KEY")),
        ("rest after: soon", (1, 13, "QUANTITY")),
        ("skill: middling", (1, 8, "CHOICE")),
        ("- theme", (1, 1, "SHAPE")),
        ("theme: &a dark", (1, 8, "ALIAS")),
        ("theme: dark\nTheme: light", (2, 1, "DUPLICATE")),
        ("keys: f13", (1, 7, "SHAPE")),
        ("keys: {cuont: f13}", (1, 8, "UNKNOWN-KEY")),
        ("keys: {count: pagedwn}", (1, 15, "KEY-NAME")),
        ("keys: {count: [f13, ctrl+q]}", (1, 21, "KEY-NAME")),
        ("keys: {count: []}", (1, 15, "EMPTY")),
        ("keys:\n  count: [space, r]", (2, 18, "KEY-CLASH")),
        ("keys: {count: backspace}", (1, 15, "KEY-CLASH")),
    ],
)
def test_what_is_wrong_is_told_in_its_place_and_changes_nothing(
    text: str, where: tuple[int, int, str]
) -> None:
    assert told(text) == [where]
    assert read_settings(text, ACTIONS).settings == Settings()


def test_all_problems_are_told_at_once_and_the_rest_holds() -> None:
    reading = read_settings("theme: pale\nunits: in\nbounce: soon\n", ACTIONS)
    assert [p.code for p in reading.problems] == ["CHOICE", "QUANTITY"]
    assert reading.settings == Settings(units="in")


def test_a_misspelt_word_is_met_with_the_one_that_was_meant() -> None:
    hints = [p.hint for p in read_settings("spech: yes\nkeys: {tak back: x}", ACTIONS).problems]
    assert "‘speech’" in hints[0]
    assert "‘take back’" in hints[1]


def test_an_action_that_loses_its_key_gives_way_only_where_it_has_none_of_its_own() -> None:
    """`r` may be given away as soon as the rest of the step has another key."""
    assert read_settings("keys: {count: r, rest: x}", ACTIONS).settings.keys == {
        "count": ("r",), "rest": ("x",),
    }  # fmt: skip
    bad = read_settings("keys: {count: r, rest: nokey}", ACTIONS)
    assert [p.code for p in bad.problems] == ["KEY-CLASH", "KEY-NAME"]
    assert bad.settings.keys == {}
    assert told("keys: {count: x, rest: x}") == [(1, 24, "KEY-CLASH")]


@given(st.text(max_size=120))
def test_no_text_breaks_the_reader(text: str) -> None:
    reading = read_settings(text, ACTIONS)
    assert isinstance(reading.settings, Settings)
