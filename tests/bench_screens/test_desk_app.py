"""The screen of the order desk: the quote follows the keys, at every size."""

import asyncio
from pathlib import Path

from textual.pilot import Pilot

from coach.cli.workshop.workshop_setup import order_desk, with_order_desk, workshop_of_maker
from coach.desk.desk_log import append_to_desk
from coach.desk.order_log import order_now
from coach.orders.desk_events import StockAdded
from coach.piece import Store, folders
from coach.session.ports import Aids, CannotOpen
from coach.session.view_model import DeskPage, OrderLine, QuoteSelection
from coach.tui.app import BenchApp
from coach.tui.desk_app import DeskApp
from coach.tui.layout.styled_text import Inks
from coach.tui.order_desk.desk_screen import DeskScreen
from coach.tui.pages.home_entries import HomeEntry
from coach.tui.screens.home_screen import ListScreen
from coach.tui.theme.palette import DARK

WAYS = {"reed": ["dusk", "foam"], "tide": []}


class Desk:
    """A desk that only says what it is asked."""

    def __init__(self) -> None:
        self.begun: list[tuple[QuoteSelection, str]] = []

    def projects(self) -> list[str]:
        return list(WAYS)

    def ways(self, project: str) -> list[str]:
        return WAYS[project]

    def page(self, chosen: QuoteSelection) -> DeskPage:
        quote = tuple(f"line {n}" for n in range(40))
        return DeskPage(chosen.project, ("price 6.00",), quote, ("stall 5 of 12",), ())

    def begin(self, chosen: QuoteSelection, name: str) -> str:
        if not name:
            raise CannotOpen("Name the order.")
        self.begun.append((chosen, name))
        return f"The order ‘{name}’ is begun."

    def orders(self) -> list[OrderLine]:
        return []

    def day(self, name: str) -> str:
        return name

    def turn(self, name: str) -> str:
        return name

    def spoil(self, name: str, piece: str) -> str:
        return name + piece

    def split(self, name: str, into: str) -> str:
        return name + into

    def end(self, name: str, earned: str) -> str:
        return name + earned


def shown(pilot: Pilot[int]) -> str:
    screen = pilot.app.screen
    assert isinstance(screen, DeskScreen)
    width, height = screen.size
    inner = width - 2 if width > 20 else width
    lines = [line.plain for line in screen.lines(inner, height)]
    assert len(lines) == height
    if width > 20:
        assert max(map(len, lines)) <= inner
    return "\n".join(lines)


def entries(screen: ListScreen, width: int) -> list[HomeEntry]:
    return screen._listed.entries("", width, Inks(DARK), unfolded=False)


def test_keys_change_project_copies_and_colourways() -> None:
    desk = Desk()

    async def walk() -> None:
        app = DeskApp(Inks(DARK, plain=False), desk)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            screen = app.desk_screen
            await pilot.press("c", "plus", "plus", "c", "plus", "c", "minus", "minus")
            assert screen.chosen == QuoteSelection("reed", (0, 2, 1), 0)  # one at least is left
            assert "[0 own colours] 2 dusk  1 foam" in shown(pilot)
            assert "… 22 more lines" in shown(pilot)
            await pilot.press("down", "tab")
            assert "stall 5 of 12" in shown(pilot)
            await pilot.press("tab")
            assert "Nothing is in stock yet" in shown(pilot)
            await pilot.press("b", "enter")  # without a name nothing is begun
            await pilot.press(*"stall", "enter")
            await pilot.pause()
            assert desk.begun == [(QuoteSelection("reed", (0, 2, 1), 0), "stall")]
            assert "is begun" in shown(pilot)
            await pilot.press("right", "greater_than_sign")
            assert screen.chosen == QuoteSelection("tide", (13,))
            await pilot.press("c")
            assert "has no colourways" in shown(pilot)
            await pilot.press("left", "less_than_sign", "less_than_sign")
            assert screen.chosen == QuoteSelection("reed", (1,))
            for size in ((40, 12), (20, 6), (120, 40), (1, 1)):
                await pilot.resize_terminal(*size)
                shown(pilot)
            await pilot.resize_terminal(120, 40)
            assert "stall 5 of 12" in shown(pilot)  # beside the quote
            await pilot.press("q")
        assert app.return_code == 0

    asyncio.run(walk())


PRICES = """currency: €
hour: 14
cords: {cotton 2 mm: 0.30 per m}
findings: {25 mm split ring: 0.20, 8 mm wooden bead: 0.10}
hours: {mon: 1 h, tue: 1 h, wed: 1 h, thu: 1 h, fri: 1 h, sat: 1 h, sun: 1 h}
"""


def test_from_the_list_to_the_desk_and_an_order_back_on_the_list(
    tmp_path: Path, monkeypatch: object
) -> None:
    """With the maker's own store: quoted, begun, and told on one line with its day."""
    home = folders({"COACH_HOME": str(tmp_path)})
    home.settings.mkdir(parents=True)
    (home.settings / "prices.yaml").write_text(PRICES, encoding="utf-8")
    monkeypatch.setenv("COACH_HOME", str(tmp_path))  # type: ignore[attr-defined]

    async def walk(store: Store) -> None:
        append_to_desk(
            store, lambda _: [StockAdded(at_ms=1, what="clay cotton 2 mm", lengths_mm=[1e5])]
        )
        desk = workshop_of_maker(store)
        app = BenchApp(shelf=desk, aids=with_order_desk(desk, store, Aids()))
        async with app.run_test(size=(100, 30)) as pilot:
            await pilot.pause()
            await pilot.press("D")
            await pilot.pause()
            assert "Reed keyring" in shown(pilot)  # which is marked on the list
            assert "in stock: 100 m, which is enough" in shown(pilot)
            await pilot.press("c", "plus", "b", *"stall", "enter", "q")
            await pilot.pause()
            assert isinstance(app.screen, ListScreen)
            assert [p.colourway for p in order_now(store, "stall").order.pieces] == ["", "dusk"]
            listed = entries(app.screen, 60)
            (line,) = (e.line.plain for e in listed if "stall" in e.line.plain)
            days = ["Mon", "Tues", "Wednes", "Thurs", "Fri", "Satur", "Sun"]
            assert any(f"0 of 2, ready {day}day" in line for day in days)
            assert entries(app.screen, 32)[1].line.plain.startswith("stall  ")
            await pilot.press("slash", "down", "enter")  # work it the other way
            await pilot.pause()
            assert order_now(store, "stall").order.over_all
            await pilot.press("enter")
            await pilot.pause()
            assert app.work
            assert app.work.sitting.name == "stall 1"
            await pilot.press("D")
            await pilot.pause()
            assert isinstance(app.screen, DeskScreen)
            await pilot.press("q")

    with Store(home.database) as store:
        asyncio.run(walk(store))
        told = order_desk(workshop_of_maker(store), store, Aids().kept)
        assert [(o.name, o.finished, o.copies) for o in told.orders()] == [("stall", 0, 2)]
        assert "stall dusk 2 takes its place" in told.spoil("stall", "stall dusk 1")
        assert "Earned: 60.00 €" in told.end("stall", "60")
        assert not told.orders()
