"""Light and contrast of colours, against figures of others."""

import re
from pathlib import Path

import pytest

import coach
from coach.colour import contrast, luminance, mixed


def test_contrast_goes_from_none_to_that_of_black_on_white() -> None:
    """WCAG 2.2 (W3C): contrast ratios range from 1 to 21 (read)."""
    assert contrast("#000000", "#ffffff") == contrast("#ffffff", "#000000") == pytest.approx(21)
    assert contrast("#5b7f3a", "#5b7f3a") == 1


def test_the_palest_grey_that_passes_on_white_is_the_known_one() -> None:
    """4.5 : 1 is met on white by #767676 and by no paler grey (from memory)."""
    assert contrast("#767676", "#ffffff") >= 4.5 > contrast("#777777", "#ffffff")


@pytest.mark.parametrize(("colour", "light"), [("#ff0000", 0.2126), ("#00ff00", 0.7152)])
def test_full_channels_have_the_light_of_the_standard(colour: str, light: float) -> None:
    """Rec. 709 (ITU-R): 0.2126 for red and 0.7152 for green (from memory)."""
    assert luminance(colour) == pytest.approx(light)


def test_a_mixed_colour_lies_between_the_two() -> None:
    assert mixed("#000000", "#ffffff", 0.0) == "#000000"
    assert mixed("#000000", "#ffffff", 1.0) == "#ffffff"
    assert mixed("#102030", "#304050", 0.5) == "#203040"


@pytest.mark.parametrize("figure", ["0.04045", "0.2126", "0.4122214708"])
def test_each_formula_for_colours_stands_once(figure: str) -> None:
    home = Path(coach.__file__).parent
    found = [p for p in home.rglob("*.py") if re.search(re.escape(figure), p.read_text("utf-8"))]
    assert found == [home / "colour.py"]
