"""What keys are called, held against the names that the terminal library gives them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from textual._xterm_parser import XTermParser
from textual.events import Key

from coach.session.keymap import ACTIONS
from coach.settings.key_names import RESERVED, key_ids, key_label
from coach.settings.read_settings import read_settings
from coach.tui.input.replies import translate_function_keys


def sent(data: str) -> str:
    """Return the name of the key that a terminal sends so."""
    parser = XTermParser(debug=False)
    events = [*parser.feed(translate_function_keys(data)), *parser.tick()]
    return next(event.key for event in events if isinstance(event, Key))


@given(st.characters(min_codepoint=33, max_codepoint=126))
def test_each_character_is_called_as_the_terminal_calls_it(character: str) -> None:
    assert key_ids(character) == (sent(character),)
    assert key_label(sent(character)) == character


@pytest.mark.parametrize(
    ("written", "data"),
    [
        ("space", " "), ("enter", "\r"), ("tab", "\t"), ("backspace", "\x7f"),
        ("up", "\x1b[A"), ("right", "\x1bOC"), ("Page Down", "\x1b[6~"), ("page-up", "\x1b[5~"),
        ("home", "\x1b[H"), ("end", "\x1b[F"), ("insert", "\x1b[2~"), ("Del", "\x1b[3~"),
        ("f1", "\x1bOP"), ("F12", "\x1b[24~"), ("f13", "\x1b[25~"), ("f13", "\x1b[1;2P"),
        ("f14", "\x1b[26~"), ("f15", "\x1b[28~"), ("f16", "\x1b[29~"), ("f17", "\x1b[31~"),
        ("f18", "\x1b[32~"), ("f19", "\x1b[33~"), ("f20", "\x1b[34~"), ("f15", "\x1b[1;2R"),
        ("f21", "\x1b[20;2~"), ("f13", "\x1b[57376u"),
        ("f24", "\x1b[24;2~"), ("f24", "\x1b[57387u"), ("ctrl+x", "\x18"),
        ("Ctrl+Left", "\x1b[1;5D"), ("shift+tab", "\x1b[Z"), ("shift+b", "B"),
    ],
)  # fmt: skip
def test_named_keys_are_those_that_terminals_send(written: str, data: str) -> None:
    assert sent(data) in key_ids(written)


@pytest.mark.parametrize("written", ["", "foo", "f0", "f25", "hyper+x", "ctrl+", "\x1b", "ab"])
def test_what_is_no_key_is_none(written: str) -> None:
    assert key_ids(written) == ()


def test_no_two_actions_share_a_key_and_none_has_a_reserved_one() -> None:
    keys = [key for action in ACTIONS for key in action.keys]
    assert len(keys) == len(set(keys))
    assert not set(keys) & set(RESERVED)


def test_the_keys_as_they_come_can_be_written_as_settings() -> None:
    """Each action can be given its own keys by the names under which they are shown."""
    actions = {action.id: action.keys for action in ACTIONS}
    lines = [
        f"  {action.id.replace('_', ' ')}: [{', '.join(f'{key_label(k)!r}' for k in action.keys)}]"
        for action in ACTIONS if action.keys
    ]  # fmt: skip
    reading = read_settings("keys:\n" + "\n".join(lines), actions)
    assert not reading.problems
    assert reading.settings.keys == {name: keys for name, keys in actions.items() if keys}
