"""Colours, and what hangs at the start held against its cords."""

import pytest
from project_texts import problems_of, sound, with_work
from textual.color import Color

from coach.yaml_reader.colours import NAMED


def test_strands_may_be_named_one_by_one() -> None:
    """Numbers are filled in where one piece leaves no doubt."""
    project = sound(
        with_work("do: x", start="start: {strands: [clay, reed.1, mud, reed.1, clay]}\n")
    )
    assert [(piece.cord, piece.number) for piece in project.start.pieces] == [
        ("clay", 1), ("reed", 1), ("mud", 1), ("reed", 1), ("clay", 1),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("start", "where", "said"),
    [
        ("{hang: [5 reed]}", "5 reed", "5 pieces of ‘reed’"),
        ("{nest: [reed, mud]}", "mud", "not folded"),
        ("{strands: [reed.1, reed.1, reed.2]}", "reed.2", "named once"),
        ("{strands: [reed.1, reed.1, reed.3, reed.3]}", "reed.3", "named nowhere"),
        ("{strands: [reed.1, reed]}", "reed]", "does not say which"),
        ("{strands: [reed.9, reed.9]}", "reed.9", "no piece 9"),
        ("{strands: [mud, mud]}", "mud]", "has 1 strand but is named twice"),
    ],
)
def test_what_hangs_must_agree_with_the_cords(start: str, where: str, said: str) -> None:
    """Pieces and strands are held against what their cord gives."""
    text = with_work("do: x", start=f"start: {start}\n")
    (problem,) = problems_of(text)
    line = text.split("\n")[problem.span.line - 1]
    assert problem.code == "PIECES"
    assert line[problem.span.column - 1 :].startswith(where)
    assert said in problem.message


@pytest.mark.parametrize(
    ("written", "colour"),
    [
        ('"#5B7F3A"', "#5b7f3a"),
        ('"#5b3"', "#55bb33"),
        ("Sienna", "#a0522d"),  # this and the next: CSS Color Level 4, named colours (memory)
        ("rebeccapurple", "#663399"),
        ("light sea green", "#20b2aa"),
    ],
)
def test_colours_are_read_by_figures_and_by_name(written: str, colour: str) -> None:
    """Every way of writing a colour gives six figures, and the writing is kept."""
    cord = sound(with_work("do: x").replace("sienna", written)).cords["clay"]
    assert (cord.colour, cord.colour_name) == (colour, written.strip('"'))


def test_all_named_colours_agree_with_another_table() -> None:
    """Textual has a table of its own; it is the only one at hand that names them all."""
    assert len(NAMED) == 148
    for name, colour in NAMED.items():
        assert Color.parse(name).hex.lower() == colour
