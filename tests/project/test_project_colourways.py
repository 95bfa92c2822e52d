"""Colourways of a project: read, and told where they are wrong."""

import pytest
from project_texts import HEAD, START, problems_of, sound

WORK = "work:\n  - {do: Look.}\n"


def text(ways: str) -> str:
    return f"{HEAD}{ways}{START}{WORK}"


def test_they_are_read_as_colours_by_cord() -> None:
    project = sound(text("colourways:\n  dusk: {reed: '#41506B', clay: plum}\n  bare: {}\n"))
    assert {name: dict(way) for name, way in project.colourways.items()} == {
        "dusk": {"reed": "#41506b", "clay": "#dda0dd"},
        "bare": {},
    }


def test_a_project_may_have_none() -> None:
    assert sound(text("")).colourways == {}


@pytest.mark.parametrize(
    ("ways", "code", "column"),
    [
        ("colourways:\n  dusk: {reeed: plum}\n", "CORD", 10),
        ("colourways:\n  dusk: {reed: plumm}\n", "COLOUR", 16),
        ("colourways:\n  dusk: plum\n", "SHAPE", 9),
        ("colourways: dusk\n", "SHAPE", 13),
    ],
)
def test_what_is_wrong_is_told_in_its_place(ways: str, code: str, column: int) -> None:
    found = problems_of(text(ways))
    assert [(problem.code, problem.span.column) for problem in found] == [(code, column)]
