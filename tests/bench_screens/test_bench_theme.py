"""Contrast of our colours, by the formula of WCAG 2.2 (W3C; read, quoted)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.colour import contrast
from coach.tui.theme.palette import DARK, LIGHT, Palette, faded, seen_on

COLOURS = st.integers(0, 0xFFFFFF).map("#{:06x}".format)


@pytest.mark.parametrize(
    ("colour", "expected"), [("#767676", 4.54), ("#777777", 4.48), ("#595959", 7.00)]
)
def test_contrast_on_white(colour: str, expected: float) -> None:
    """WCAG 2.2, W3C: read, quoted."""
    assert contrast(colour, "#ffffff") == pytest.approx(expected, abs=0.005)


@pytest.mark.parametrize("palette", [DARK, LIGHT])
def test_text_has_seven_to_one_and_pictures_three(palette: Palette) -> None:
    for colour in (palette.text, palette.quiet, palette.figure, palette.warning):
        assert contrast(colour, palette.background) >= 7
    for colour in (palette.bar, palette.room):
        assert contrast(colour, palette.background) >= 3


@given(COLOURS, st.sampled_from([DARK, LIGHT]), st.integers(0, 20))
def test_a_cord_is_seen_however_far_above_it_is(colour: str, palette: Palette, age: int) -> None:
    assert contrast(faded(colour, palette.background, age), palette.background) >= 3


@given(COLOURS, st.sampled_from([DARK, LIGHT]))
def test_a_colour_that_is_seen_stays_as_it_is(colour: str, palette: Palette) -> None:
    if contrast(colour, palette.background) >= 3:
        assert seen_on(colour, palette.background) == colour
