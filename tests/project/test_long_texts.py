"""Texts have a length, and a long one is wrapped once, not at each paint."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from coach.plan.from_text import read_plan
from coach.tui.layout import wrapping
from coach.tui.layout.wrapping import wrapped
from coach.yaml_reader.value_schemas import MOST_LETTERS

TEXT = """coach: 1
title: {title}
cords: {{reed: {{diameter: 2 mm, pieces: 1}}}}
start: {{hang: [reed], on: ring}}
tools: [{tool}]
work:
  - {{knot: half knot, strands: 1-2, note: {note}}}
  - {{do: {do}}}
"""
SHORT = {"title": "Ebb", "tool": "board", "note": "here", "do": "Rest."}


@pytest.mark.parametrize("key", SHORT)
def test_every_text_of_a_file_has_a_length(key: str) -> None:
    assert read_plan(TEXT.format(**{**SHORT, key: "x" * MOST_LETTERS})).plan
    (problem,) = read_plan(TEXT.format(**{**SHORT, key: "x" * 100_000})).problems
    assert problem.message == "A text has at most 4,000 letters; this one has 100,000."


def test_a_long_word_is_wrapped_once_and_each_of_its_letters_is_looked_at_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """So many letters are measured as the word has, and none when it is painted again."""
    measured = []
    size = wrapping.get_character_cell_size
    monkeypatch.setattr(
        wrapping, "get_character_cell_size", lambda char: measured.append(1) or size(char)
    )
    word = "reed" * 25_000
    lines = wrapped(word, 78)
    assert "".join(lines) == word
    assert len(measured) < 2.1 * len(word)
    measured.clear()
    assert wrapped(word, 78) is lines
    assert not measured


@given(st.text(st.sampled_from("ab 編み\u0301é"), max_size=60), st.integers(2, 12))
def test_lines_hold_the_text_and_none_is_too_wide(text: str, width: int) -> None:
    lines = wrapped(text, width)
    assert "".join(lines).replace(" ", "") == "".join(text.split())
    assert all(cell_len(line) <= width for line in lines)
