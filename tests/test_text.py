"""Text from outside is harmless once it has been cleaned."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.text import clean, counted, join_words, normalized_name, one_line, unseen


@given(st.text())
def test_cleaned_text_has_nothing_unseen_and_stays_as_it_is(text: str) -> None:
    """Cleaning leaves nothing to clean."""
    assert unseen(clean(text)) is None
    assert clean(clean(text)) == clean(text)


@pytest.mark.parametrize(
    "sign", ["\x1b", "\x00", "\x07", "\r", "\x7f", "\x9b", "\u202e", "\u2066", "\ufeff", "\ud800"]
)
def test_signs_that_act_on_a_terminal_are_found_and_dropped(sign: str) -> None:
    """Control, direction and surrogate characters vanish, and what stands around them stays."""
    assert unseen(f"a{sign}b") is not None
    assert clean(f"a{sign}b") == "ab"


def test_seen_text_is_left_alone() -> None:
    """Accents, wide characters, tabs and line feeds are text."""
    text = "Schilf é ½ 潮\tx\ny"
    assert unseen(text) is None
    assert clean(text) == text


def test_one_line_has_no_breaks() -> None:
    """Runs of white space become one space."""
    assert one_line(" reed \n\t and\x1b  clay ") == "reed and clay"


@pytest.mark.parametrize(
    ("names", "joined"),
    [([], ""), (["a"], "a"), (["a", "b"], "a or b"), (["a", "b", "c"], "a, b or c")],
)
def test_names_are_joined_as_in_a_sentence(names: list[str], joined: str) -> None:
    """The last name is joined by a word, the others by commas."""
    assert join_words(names, "or") == joined


@pytest.mark.parametrize(
    "written", ["Lark\u2019s  Head", " lark\u00b4s-head", "LARK`S_HEAD", "lark's\u2011head "]
)
def test_names_are_compared_however_they_are_written(written: str) -> None:
    """Capitals, the kind of apostrophe, and what joins two words say nothing."""
    assert normalized_name(written) == "lark's head"


def test_a_long_text_is_compared_as_a_short_one_is() -> None:
    """Only short names are kept in mind."""
    assert normalized_name("Reed-" * 20) == ("reed " * 20).strip()


@pytest.mark.parametrize(
    ("number", "noun", "said"),
    [
        (1, "piece", "1 piece"), (2, "clove hitch", "2 clove hitches"), (0, "count", "0 counts"),
        (1204, "half knot", "1,204 half knots"), (3, "length", "3 lengths"),
        (2, "copy", "2 copies"), (2, "bay", "2 bays"), (1, "copy", "1 copy"),
    ],
)  # fmt: skip
def test_things_are_counted_as_they_are_said(number: int, noun: str, said: str) -> None:
    """One is one; hitches hiss; y after a consonant changes; thousands are set apart."""
    assert counted(number, noun) == said
