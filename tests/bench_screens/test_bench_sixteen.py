"""In sixteen colours the cords of a piece are told apart, and every one of them is seen."""

from dataclasses import replace
from pathlib import Path

import pytest
from bench_pieces import plan_of, row
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.style import Style

from coach.colour import contrast
from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.settings.settings import Theme
from coach.tui.drawing.labels import initials
from coach.tui.layout.styled_text import Inks
from coach.tui.theme.colour_depth import SIXTEEN, nearest_colour
from coach.tui.theme.palette import PICTURE_CONTRAST, TEXT_CONTRAST, palette_for
from coach.tui.theme.sixteen_colours import distinct_colours
from coach.yaml_reader.file_loader import load

THEMES: tuple[Theme, ...] = ("dark", "light")
GROUNDS = {"dark": "#000000", "light": "#ffffff"}
SEEN = {"dark": 12, "light": 9}  # of the sixteen, as many have 3 : 1 on the ground
PROJECTS = sorted((Path(__file__).parents[2] / "projects").glob("*.yaml"))
COLOURS = st.integers(0, 0xFFFFFF).map("#{:06x}".format)


def shown(style: Style) -> str:
    """Return a style's colour on a terminal of sixteen, the dark eight bright when bold."""
    assert style.color
    colour = nearest_colour(style.color.get_truecolor().hex, "16")
    place = SIXTEEN.index(colour)
    return SIXTEEN[place + 8] if style.bold and place < 8 else colour


def cord_colours(plan: Plan, theme: Theme, age: int) -> dict[str, set[str]]:
    """Return the colours in which each cord is drawn, by the cord."""
    inks = Inks(palette_for(theme, "16")).of(plan)
    found: dict[str, set[str]] = {}
    for number, strand in enumerate(plan.strands):
        for part in ("cord", "holding", "knotting", "knot", "across", "pending"):
            found.setdefault(strand.cord, set()).add(shown(inks.of_cell(part, number, age)))
    return found


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("path", PROJECTS, ids=lambda path: path.stem)
def test_no_two_cords_of_a_project_share_a_colour(path: Path, theme: Theme) -> None:
    """At any age, for what is older may not turn into the colour of another cord."""
    plan = read_plan(load(path).text or "").plan
    assert plan
    for age in (0, 1, 3, 9):
        found = cord_colours(plan, theme, age)
        assert all(len(colours) == 1 for colours in found.values())
        assert len(set.union(*found.values())) == len(found)
        for colours in found.values():
            assert contrast(*colours, GROUNDS[theme]) >= PICTURE_CONTRAST


@given(st.lists(COLOURS, min_size=1, max_size=60), st.sampled_from(THEMES))
def test_cords_of_any_colours_share_none_while_there_are_any(own: list[str], theme: Theme) -> None:
    colours = {f"cord{n}": colour for n, colour in enumerate(own)}
    found = distinct_colours(colours, initials(colours), GROUNDS[theme])
    assert set(found) == set(colours)
    assert len(set(found.values())) == min(len(own), SEEN[theme])
    assert all(contrast(colour, GROUNDS[theme]) >= PICTURE_CONTRAST for colour in found.values())
    assert all(nearest_colour(colour, "16") == colour for colour in found.values())


@settings(deadline=None)
@given(st.integers(1, 300), st.lists(COLOURS, min_size=1, max_size=9), st.sampled_from(THEMES))
def test_no_two_cords_share_a_colour_and_a_letter(many: int, own: list[str], theme: Theme) -> None:
    """Also where there are more cords than letters and figures, and of one colour."""
    colours = {f"cord{n}": own[n % len(own)] for n in range(many)}
    marks = initials(colours)
    found = distinct_colours(colours, marks, GROUNDS[theme])
    assert len({(marks[cord], colour) for cord, colour in found.items()}) == many


@pytest.mark.parametrize("theme", THEMES)
@given(st.lists(COLOURS, min_size=3, max_size=3))
def test_a_letter_is_read_and_is_not_in_the_colour_of_another_cord(
    theme: Theme, own: list[str]
) -> None:
    plan = plan_of(row(1, (2, 3)))
    cords = {
        name: replace(cord, colour=colour)
        for (name, cord), colour in zip(plan.project.cords.items(), own, strict=True)
    }
    plan = replace(plan, project=replace(plan.project, cords=cords))
    palette = palette_for(theme, "16")
    inks = Inks(palette).of(plan)
    for strand in range(len(plan.strands)):
        colour = shown(inks.named(strand, bold=True))
        assert contrast(colour, palette.background) >= TEXT_CONTRAST
        assert colour in (inks.strand(strand), palette.text)


@pytest.mark.parametrize(
    ("own", "dark", "light"),
    [("#5b7f3a", "#00aa00", "#00aa00"),  # reed: green
     ("#a4553a", "#aa5500", "#aa5500"),  # clay: brown
     ("#1f6f8b", "#00aaaa", "#0000aa"),  # tide: blue
     ("#dfe7e2", "#ffffff", "#555555")],  # foam: white, or grey on white
)  # fmt: skip
def test_a_cord_keeps_its_hue(own: str, dark: str, light: str) -> None:
    for ground, colour in (("#000000", dark), ("#ffffff", light)):
        assert distinct_colours({"reed": own}, {"reed": "r"}, ground) == {"reed": colour}
