"""Every pair of colours that the screens show, in both themes, for terminals of any colours."""

import asyncio
from dataclasses import replace
from pathlib import Path

import pytest
from bench_pieces import Clock, mixed_plan, on_bench, plan_of, row
from hypothesis import given
from hypothesis import strategies as st
from rich.color import Color, ColorSystem

from coach.cli.bench_setup import _encoding
from coach.colour import contrast
from coach.plan.plan_model import Plan
from coach.session.keymap import Keys
from coach.session.ports import Aids
from coach.settings.overrides import Kept
from coach.settings.settings import Settings, Theme
from coach.tui.app import BenchApp
from coach.tui.key_probe import KeysApp
from coach.tui.layout.styled_text import Inks
from coach.tui.theme.colour_depth import Depth, depth_of, nearest_colour
from coach.tui.theme.palette import (
    PICTURE_CONTRAST,
    TEXT_CONTRAST,
    Palette,
    faded,
    palette_for,
    seen_on,
)

THEMES: tuple[Theme, ...] = ("dark", "light")
DEPTHS: tuple[Depth, ...] = ("full", "256", "16")
COLOURS = st.integers(0, 0xFFFFFF).map("#{:06x}".format)
PAGES = ("c", "escape", "l", "escape", "h", "escape", "b", "escape", "n", "escape", "g", "escape")
GAUDY = (("#000000", "#ffffff", "#808080"), ("#000080", "#ffff00", "#ff0000"))
Pairs = dict[tuple[str, str], str]


def all_palettes() -> list[Palette]:
    return [palette_for(theme, depth) for theme in THEMES for depth in DEPTHS]


def gaudy_plan(*colours: str) -> Plan:
    """Return a row over cords from black to white, so that every one has to be made visible."""
    plan = plan_of(row(1, (2, 3, 4, 5, 6)), row(1, (2, 3, 4, 5, 6)))
    cords = {
        name: replace(cord, colour=colour)
        for (name, cord), colour in zip(plan.project.cords.items(), colours, strict=True)
    }
    return replace(plan, project=replace(plan.project, cords=cords))


def pairs_of(app: BenchApp | KeysApp, found: Pairs, depth: Depth) -> None:
    """Add the pairs of colours on the screen as the terminal shows them, with what is shown."""
    for strip in app.screen._compositor.render_strips():
        for segment in strip:
            style = segment.style
            if not segment.text.strip() or style is None or not (style.color and style.bgcolor):
                continue
            fore, back = style.color, style.bgcolor
            if style.reverse:
                fore, back = back, fore
            pair = (_shown(fore, depth), _shown(back, depth))
            found[pair] = found.get(pair, "") + segment.text


def _shown(colour: Color, depth: Depth) -> str:
    """Return a colour as the terminal shows it; its own, which nobody chose, is `default`."""
    return "default" if colour.is_default else nearest_colour(colour.get_truecolor().hex, depth)


def seen_pairs(folder: Path, palette: Palette, plan: Plan, pages: tuple[str, ...] = PAGES) -> Pairs:
    """Return the pairs that the bench shows: at work, with a message, its pages, and its end."""
    found: Pairs = {}
    clock = Clock()
    aids = Aids(kept=Kept(Settings()), told="settings.yaml:1:1: error")
    app = BenchApp(on_bench=on_bench(folder, plan, clock), clock=clock, palette=palette, aids=aids)

    async def go() -> None:
        async with app.run_test(size=(120, 40)) as pilot:
            for key in ("space", "space", *pages, "escape", "p"):
                clock.ms += 1000
                await pilot.press(key)
                await pilot.pause()
                pairs_of(app, found, palette.depth)

    asyncio.run(go())
    return found


@pytest.mark.parametrize("depth", DEPTHS)
@pytest.mark.parametrize("theme", THEMES)
def test_every_pair_of_colours_on_every_screen_is_seen(
    tmp_path: Path, theme: Theme, depth: Depth
) -> None:
    """Text has 7 : 1 and what is drawn 3 : 1 (WCAG 2.2, 1.4.6 and 1.4.11; read, quoted)."""
    palette = palette_for(theme, depth)
    found = seen_pairs(tmp_path, palette, mixed_plan())
    for number, colours in enumerate(GAUDY):
        folder = tmp_path / f"gaudy{number}"
        folder.mkdir()
        found |= seen_pairs(folder, palette, gaudy_plan(*colours), pages=("c",))
    assert len(found) > 4
    pale = {
        pair: "".join(sorted(set(shown)))
        for pair, shown in found.items()
        if contrast(*pair) < (TEXT_CONTRAST if any(map(str.isalnum, shown)) else PICTURE_CONTRAST)
    }
    assert not pale


@pytest.mark.parametrize("palette", all_palettes(), ids=lambda palette: palette.name)
def test_a_palette_is_told_apart_from_its_ground(palette: Palette) -> None:
    for name in ("text", "quiet", "figure", "warning"):
        assert shown_contrast(getattr(palette, name), palette) >= TEXT_CONTRAST, name
    for name in ("bar", "room"):
        assert shown_contrast(getattr(palette, name), palette) >= PICTURE_CONTRAST, name
    figure, warning = (nearest_colour(c, palette.depth) for c in (palette.figure, palette.warning))
    assert figure != warning


def shown_contrast(colour: str, palette: Palette) -> float:
    """Return the contrast of a colour on the palette's ground as the terminal shows both."""
    depth = palette.depth
    return contrast(nearest_colour(colour, depth), nearest_colour(palette.background, depth))


@given(COLOURS, st.sampled_from(all_palettes()), st.integers(0, 20))
def test_any_cord_is_seen_in_the_colours_that_there_are(
    colour: str, palette: Palette, age: int
) -> None:
    found = faded(colour, palette.background, age, palette.depth)
    assert shown_contrast(found, palette) >= PICTURE_CONTRAST
    text = seen_on(colour, palette.background, TEXT_CONTRAST, palette.depth)
    assert shown_contrast(text, palette) >= TEXT_CONTRAST


@given(COLOURS)
def test_what_a_terminal_shows_is_among_its_colours(colour: str) -> None:
    """The steps of the colour cube and the greys are those of xterm; from memory."""
    steps = {0, 95, 135, 175, 215, 255}
    channels = Color.parse(nearest_colour(colour, "256")).get_truecolor()
    grey = len(set(channels)) == 1 and (channels.red - 8) % 10 == 0
    assert set(channels) <= steps or grey
    assert Color.parse(nearest_colour(colour, "16")).downgrade(
        ColorSystem.STANDARD
    ).number in range(16)


def test_without_colours_nothing_has_one_and_the_place_stands_reversed(tmp_path: Path) -> None:
    inks = Inks(palette_for("dark", "none")).of(mixed_plan())
    for name in ("text", "quiet", "figure", "warning"):
        style = inks.style(name)
        assert style.color is None
        assert style.bgcolor is None
    here = inks.of_cell("here", None, 0)
    assert here.reverse
    assert here.color is None
    found = seen_pairs(tmp_path, palette_for("dark", "none"), mixed_plan())
    assert not {colour for pair in found for colour in pair} - {"default"}


@pytest.mark.parametrize(
    ("environment", "depth"),
    [({"TERM": "xterm-256color"}, "256"), ({"TERM": "xterm"}, "16"), ({"TERM": "linux"}, "16"),
     ({"TERM": "xterm", "COLORTERM": "truecolor"}, "full"), ({"NO_COLOR": "1"}, "none"),
     ({"TERM": "xterm-256color", "NO_COLOR": ""}, "256")],
)  # fmt: skip
def test_the_terminal_says_how_many_colours_it_has(
    environment: dict[str, str], depth: Depth, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TERM", environment.get("TERM", "xterm"))
    assert depth_of(environment) == depth


@pytest.mark.parametrize(
    ("environment", "ascii_only"),
    [({"LANG": "C.UTF-8"}, False), ({"LANG": "de_AT.UTF-8"}, False), ({}, True),
     ({"LC_CTYPE": "C.UTF-8", "LANG": "C"}, True), ({"LC_CTYPE": "UTF-8"}, False),
     ({"LC_ALL": "POSIX", "LANG": "C.UTF-8"}, True), ({"LANG": "de_DE.ISO-8859-1"}, True),
     ({"LANG": "de_DE.ISO-8859-15@euro"}, True)],
)  # fmt: skip
def test_the_locale_says_what_can_be_drawn(environment: dict[str, str], ascii_only: bool) -> None:
    encoding = _encoding(environment)
    assert (encoding is not None and encoding.lower().replace("-", "") != "utf8") == ascii_only


def test_the_keys_are_named_in_seen_colours(tmp_path: Path) -> None:
    for palette in all_palettes():
        found: Pairs = {}
        app = KeysApp(Keys(), Inks(palette), ("settings.yaml:1:1: error",))

        async def go(app: KeysApp = app, found: Pairs = found, palette: Palette = palette) -> None:
            async with app.run_test(size=(100, 30)) as pilot:
                await pilot.press("space", "x")
                await pilot.pause()
                pairs_of(app, found, palette.depth)

        asyncio.run(go())
        assert found
        assert min(contrast(*pair) for pair in found) >= TEXT_CONTRAST
    assert tmp_path.exists()
