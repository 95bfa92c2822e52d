"""Colours are tried, and written into the file in their place with all else as it was."""

import pytest

from coach.plan.from_text import read_plan
from coach.project.model import Project
from coach.project.tried_colours import TriedColours, WrongColour, with_colourway

HEAD = """# my own band
coach: 1
title: Tide   # for the stall
cords:
  reed: {colour: green, diameter: 2 mm}   # from the marsh
  clay: {colour: sienna, diameter: 2 mm}
  # more to come
"""
REST = """start: {hang: [reed, clay], on: dowel}   # two of them
work:
  - {knot: square knot, strands: 1-4}
"""
WAYS = (
    "",
    "colourways:\n  dusk: {reed: navy}   # evening\n  noon: {clay: gold}\n",
    "colourways: {dusk: {reed: navy}, noon: {clay: gold}}\n",
    "colourways:\n    noon:\n        clay: gold   # bright\n\n    # the last\n",
    "colourways: {}\n",
)


def project(text: str) -> Project:
    reading = read_plan(text)
    assert reading.plan, [problem.message for problem in reading.problems]
    return reading.plan.project


@pytest.mark.parametrize("name", ["dusk", "noon", "spring tide", "yes", 'the "best"', "été"])
@pytest.mark.parametrize("ways", WAYS)
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_a_colourway_is_written_in_its_place_and_nothing_else_is_touched(
    ways: str, name: str, end: str
) -> None:
    before = (HEAD + ways + REST).replace("\n", end)
    new = with_colourway(before, name, {"reed": "#dda0dd", "clay": "#112233"})
    found = project(new.replace("\r\n", "\n")).colourways
    assert dict(found[name]) == {"reed": "#dda0dd", "clay": "#112233"}
    others = project(HEAD + ways + REST).colourways
    assert {n: dict(w) for n, w in found.items() if n != name} == {
        n: dict(w) for n, w in others.items() if n != name
    }
    assert new.count("#") >= before.count("#"), "a comment is gone"
    for line in (HEAD + REST).split("\n"):
        assert line in new.split(end)
    assert ("\r" in new) == (end == "\r\n")


def test_a_file_without_a_line_end_or_as_one_mapping_is_handled() -> None:
    bare = (HEAD + REST + "colourways:\n  noon: {clay: gold}").rstrip("\n")
    assert "dusk" in project(with_colourway(bare, "dusk", {"reed": "#000000"})).colourways
    with pytest.raises(WrongColour, match="by hand"):
        with_colourway("{coach: 1, title: Tide}", "dusk", {"reed": "#000000"})
    with pytest.raises(WrongColour, match="needs a name"):
        with_colourway(HEAD + REST, "  ", {"reed": "#000000"})


def test_colourways_come_in_turn_and_end_with_the_files_own_colours() -> None:
    tried = TriedColours(project(HEAD + WAYS[1] + REST))
    seen = []
    for _ in range(4):
        tried.turn()
        seen.append((tried.name, tried.colours["reed"], tried.colours["clay"]))
    assert seen[0] == ("dusk", "#000080", "#a0522d")
    assert seen[1] == ("noon", "#008000", "#ffd700")
    assert seen[2] == ("", "#008000", "#a0522d")
    assert seen[3] == seen[0]


def test_a_cord_takes_another_colour_and_a_wrong_one_changes_nothing() -> None:
    tried = TriedColours(project(HEAD + REST))
    tried.give("reed", "plum")
    assert tried.changed == {"reed": "#dda0dd"}
    assert tried.project().cords["reed"].colour == "#dda0dd"
    for cord, colour, said in (
        ("reed", "plumm", "Did you mean ‘plum’"),
        ("rush", "plum", "no cord"),
    ):
        with pytest.raises(WrongColour, match=said):
            tried.give(cord, colour)
    assert tried.changed == {"reed": "#dda0dd"}
    assert "no colourways" in tried.turn()
