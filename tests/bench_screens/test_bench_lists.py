"""Moving in a list costs as much in a long one as in a short one, counted in lines of code run."""

import asyncio
import re
import sys
from collections.abc import Callable
from pathlib import Path
from statistics import median
from types import FrameType
from typing import Any

import pytest
from bench_pieces import ABOUT, Clock, on_bench, plan_of
from hypothesis import given
from hypothesis import strategies as st
from textual.screen import Screen

from coach.piece import Summary
from coach.project import model
from coach.session.controller import BenchController
from coach.session.keymap import Keys
from coach.session.ports import ProjectOffer
from coach.tui.base_app import PaletteApp
from coach.tui.layout.styled_text import Inks
from coach.tui.screens.base_screen import in_view
from coach.tui.screens.before.preparation_screen import BeforeScreen
from coach.tui.screens.form_screen import AskScreen, FormField
from coach.tui.screens.home_screen import ListScreen
from coach.tui.screens.notes_screen import NotesScreen
from coach.tui.theme.palette import DARK

INKS = Inks(DARK)
SHORT, LONG = 80, 400  # entries; both are longer than the screen
DOWNS = 5


class Bare(PaletteApp):
    """An app with one screen and nothing else."""

    def __init__(self, screen: Screen[Any], then: Callable[[], object]) -> None:
        super().__init__(DARK)
        self._opens, self._then = screen, then

    def on_mount(self) -> None:
        self.push_screen(self._opens)
        self.call_after_refresh(self._then)


def piece(number: int) -> Summary:
    return Summary(number, f"Reed strap {number}", "", "", 3, 9, 0, 1_772_000_000_000)


def list_screen(entries: int, _: Path) -> tuple[Screen[Any], Callable[[], object]]:
    screen = ListScreen(INKS)
    pieces = [piece(number) for number in range(entries)]
    return screen, lambda: screen.offer(pieces, [ProjectOffer("strap", "Reed strap")])


def ask_screen(entries: int, _: Path) -> tuple[Screen[Any], Callable[[], object]]:
    choices = [FormField(f"rest of strand {n}", "42 cm", str) for n in range(entries)]
    return AskScreen(INKS, "Measured", choices), lambda: None


def work_of(entries: int, folder: Path, notes: int = 0) -> BenchController:
    plan = plan_of(model.Space(ABOUT, None, 10.0), pieces=entries)
    clock = Clock()
    work = BenchController(plan, on_bench(folder, plan, clock).sitting, clock, Keys())
    for number in range(notes):
        clock.ms += 1000
        work.asides.note(0, f"note {number}")
    return work


def before_screen(entries: int, folder: Path) -> tuple[Screen[Any], Callable[[], object]]:
    work = work_of(entries, folder)
    return BeforeScreen(work, INKS.of(work.plan)), lambda: None


def notes_screen(entries: int, folder: Path) -> tuple[Screen[Any], Callable[[], object]]:
    return NotesScreen(work_of(3, folder, entries), INKS), lambda: None


Make = Callable[[int, Path], tuple[Screen[Any], Callable[[], object]]]
LISTS: list[tuple[Make, str]] = [
    (list_screen, "down"), (ask_screen, "down"), (before_screen, "tab"), (notes_screen, "down"),
]  # fmt: skip


def lines_run(make: Make, key: str, entries: int, folder: Path) -> float:
    """Return how many lines of code are run for a key in a list, in the median of some.

    A screen may paint for two keys at once, or once more: that says nothing of the others.
    """
    folder.mkdir()
    run: list[int] = []

    def count(_: FrameType, event: str, __: object) -> Any:
        run[-1] += event == "line"
        return count

    async def go() -> None:
        app = Bare(*make(entries, folder))
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            await pilot.press(*[key] * 20)  # past the first page, where nothing scrolls yet
            await pilot.pause()
            sys.settrace(count)
            try:
                for _ in range(DOWNS):
                    run.append(0)
                    await pilot.press(key)
            finally:
                sys.settrace(None)

    asyncio.run(go())
    return median(run)


@pytest.mark.parametrize(("make", "key"), LISTS, ids=lambda one: getattr(one, "__name__", one))
def test_a_key_costs_the_same_in_a_long_list(tmp_path: Path, make: Make, key: str) -> None:
    """Less than a line of code for each entry and key; the first run fills what is kept."""
    _, short, long = (
        lines_run(make, key, entries, tmp_path / f"{run}")
        for run, entries in enumerate((SHORT, SHORT, LONG))
    )
    assert long - short < LONG - SHORT


@given(st.integers(0, 50), st.integers(0, 50), st.integers(1, 30))
def test_the_entry_at_hand_is_in_view_and_the_room_is_used(at: int, more: int, most: int) -> None:
    count = at + 1 + more
    view = in_view(at, count, most)
    assert at in view
    assert len(view) == min(count, most)
    assert set(view) <= set(range(count))


def test_the_sign_stands_before_the_entry_that_enter_opens(tmp_path: Path) -> None:
    """And before no other, whichever way it was come to."""
    screen, then = list_screen(12, tmp_path)
    app = Bare(screen, then)
    seen: list[list[str]] = []

    async def go() -> None:
        async with app.run_test(size=(60, 12)) as pilot:
            await pilot.pause()
            for key in ("down", "down", "end", "up", "pageup"):
                await pilot.press(key)
                await pilot.pause()
                lines = [strip.text for strip in app.screen._compositor.render_strips()]
                seen.append([line[1:].strip() for line in lines if line.startswith(" > ")])

    asyncio.run(go())
    names = [re.sub(r"  .*", "", line.removeprefix("> ")) for (line,) in seen]
    last = "Start without a pattern"
    assert names[:4] == ["Reed strap 1", "Reed strap 2", last, "Reed strap"]
    assert len(names) == 5
