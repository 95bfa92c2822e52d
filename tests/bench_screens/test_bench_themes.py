"""The theme changes on a key and stays; the terminal's own colours are a theme of their own."""

from pathlib import Path

import pytest
from bench_pieces import Clock, mixed_plan, on_bench
from rich.color import ColorType
from rich.style import Style
from test_bench_screens import Bench, run

from coach.session.ports import Aids
from coach.settings.overrides import Kept
from coach.settings.settings import THEMES, Settings
from coach.tui.app import BenchApp
from coach.tui.layout.styled_text import Inks
from coach.tui.screens.work_screen import WorkScreen
from coach.tui.theme.palette import DARK, palette_for


def styles_of(app: BenchApp) -> list[Style]:
    """Return the styles of everything that is on the screen."""
    strips = app.screen._compositor.render_strips()
    return [s.style for strip in strips for s in strip if s.style and s.text.strip()]


def test_the_theme_goes_round_on_a_key_and_is_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("COLORTERM", "truecolor")
    monkeypatch.delenv("NO_COLOR", raising=False)
    clock, kept = Clock(), Kept(Settings(), tmp_path / "kept.json")
    opened = on_bench(tmp_path, mixed_plan(), clock, 2)
    app = BenchApp(on_bench=opened, clock=clock, aids=Aids(kept=kept))
    grounds: list[object] = []

    async def drive(seen: Bench) -> None:
        for theme, told in (("light", "light ground"), ("own", "own colours"), ("dark", "dark")):
            await seen.press("L")
            await seen.pilot.pause()
            assert isinstance(app.screen, WorkScreen)
            assert kept.now.theme == theme
            assert Kept(Settings(), tmp_path / "kept.json").now.theme == theme
            assert told in seen.text()
            assert app.theme == f"coach-{theme}"
            grounds.append(styles_of(app)[0].bgcolor)
        clock.ms += 1000
        await seen.press("space")
        assert opened.sitting.state.done == 3

    run(app, clock, drive, (100, 30))
    assert len(set(map(str, grounds))) == len(THEMES)


@pytest.mark.parametrize("depth", ["full", "256", "16"])
def test_the_terminals_own_colours_are_asked_for_by_their_places(
    tmp_path: Path, depth: str
) -> None:
    """Text and ground are its own; cords have some of its sixteen; no colour is ours."""
    clock = Clock()
    palette = palette_for("own", depth)  # type: ignore[arg-type]
    app = BenchApp(on_bench=on_bench(tmp_path, mixed_plan(), clock, 9), clock=clock,
                   palette=palette)  # fmt: skip

    async def drive(seen: Bench) -> None:
        for key in ("space", "c", "escape", "h", "escape", "slash"):
            clock.ms += 1000
            await seen.press(key)
            shown = styles_of(app)
            assert shown
            for style in shown:
                for colour in (style.color, style.bgcolor):
                    assert not colour or colour.type in (ColorType.DEFAULT, ColorType.STANDARD)
                assert style.reverse or not style.bgcolor or style.bgcolor.is_default

    run(app, clock, drive, (100, 30))


def test_no_two_cords_of_a_piece_look_alike_in_them() -> None:
    plan = mixed_plan()
    inks = Inks(palette_for("own", "full")).of(plan)
    looks = {s.cord: str(inks.of_cell("cord", i, 0).color) for i, s in enumerate(plan.strands)}
    assert len(set(looks.values())) == len(looks) == 3


def test_without_colours_no_theme_has_any() -> None:
    for theme in THEMES:
        palette = palette_for(theme, "none")
        assert Inks(palette).style("figure").color is None


def test_the_colours_change_on_a_key_on_every_screen_that_is_open(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also where the letter of the bench would be written down, and on those that lie below."""
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("COLORTERM", "truecolor")
    monkeypatch.delenv("NO_COLOR", raising=False)
    clock, aids = Clock(), Aids()
    opened = on_bench(tmp_path, mixed_plan(), clock, 9)

    def shown() -> set[str]:
        colours = [c for style in styles_of(app) for c in (style.color, style.bgcolor) if c]
        return {colour.get_truecolor().hex for colour in colours}

    app = BenchApp(on_bench=opened, clock=clock, aids=aids, palette=palette_for("dark", "full"))

    async def drive(seen: Bench) -> None:
        bench = app.screen
        assert isinstance(bench, WorkScreen)
        for key in ("c", "a", "b", "k", "slash", "f", "m", "n", "l"):
            await seen.press(key)
            screen = app.screen
            assert DARK.background in shown()
            await seen.press("ctrl+l")
            assert app.screen is screen
            assert not {DARK.background, DARK.text, DARK.quiet} & shown(), type(screen).__name__
            await seen.press("escape")
            assert app.screen is bench
            assert not {DARK.background, DARK.text, DARK.quiet} & shown()
            await seen.press("L", "L")

    run(app, clock, drive, (100, 30))
