"""An order from its beginning to its account, as it is typed and as it is worked on the bench."""

import asyncio
import json
from dataclasses import replace
from pathlib import Path

import pytest

from coach.cli.main import main
from coach.cli.registry import parse_call
from coach.cli.workshop.begin_order import begin_or_open
from coach.cli.workshop.workshop import Workshop
from coach.desk.desk_log import read_desk
from coach.desk.order_log import left_of, order_now, orders_now
from coach.piece import PieceError, Store, Summary, SystemClock, folders
from coach.session.ports import OnBench
from coach.tui.app import BenchApp
from coach.tui.layout.styled_text import Inks
from coach.tui.screens.home_screen import ListScreen
from coach.tui.screens.work_screen import WorkScreen
from coach.tui.theme.palette import DARK

PRICES = """currency: €
hour: 14
cords: {cotton 2 mm: 0.30 per m}
findings: {25 mm split ring: 0.20, 8 mm wooden bead: 0.10}
margin: 30 %
rounding: 0.50 up
hours: {mon: 1 h, tue: 1 h, wed: 1 h, thu: 1 h, fri: 1 h, sat: 3 h, sun: 3 h}
"""
CALL = "knot reed-keyring --copies 4 --colourway dusk=2 --colourway foam=2 --order stall --plain"


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a home with prices."""
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    settings = folders({"COACH_HOME": str(tmp_path)}).settings
    settings.mkdir(parents=True)
    (settings / "prices.yaml").write_text(PRICES, encoding="utf-8")
    return folders({"COACH_HOME": str(tmp_path)}).database


def begun(store: Store, call: str = CALL) -> tuple[Workshop, OnBench]:
    desk = Workshop(store, SystemClock())
    return desk, begin_or_open(desk, parse_call(call.split())[1])


def told(capsys: pytest.CaptureFixture[str], *call: str, status: int = 0) -> str:
    assert main(["orders", *call]) == status
    out = capsys.readouterr()
    return out.err if status else out.out


def test_an_order_is_begun_with_all_its_pieces_or_not_at_all(home: Path) -> None:
    with Store(home) as store:
        desk, bench = begun(store)
        assert [p.name for p in sorted(store.pieces(), key=lambda p: p.id)] == [
            "stall dusk 1", "stall dusk 2", "stall foam 1", "stall foam 2",
        ]  # fmt: skip
        assert bench.sitting.name == "stall dusk 1"
        cords = bench.plan.project.cords
        assert [cords[name].colour for name in ("reed", "clay")] == ["#4b0082", "#dda0dd"]
        before = store.pieces()
        with pytest.raises(Exception, match="is called ‘stall’ already"):
            begun(store)
        assert [p.id for p in store.pieces()] == [p.id for p in before]
        (line,) = desk.pieces()
        assert (line.name, line.done, line.total) == ("stall: 0 of 4 finished", 0, 4 * 27)
        assert line.id == bench.sitting.piece_id
        for change in (lambda: desk.rename(line.id, "x"), lambda: desk.delete(line.id)):
            with pytest.raises(PieceError, match="`coach orders stall` changes it"):
                change()


def test_each_count_is_the_pieces_own_and_the_next_piece_follows_the_way(home: Path) -> None:
    with Store(home) as store:
        _, bench = begun(store)
        bench.sitting.count(5)
        assert bench.batch
        second = bench.batch.next_piece()
        assert second
        assert (second.sitting.name, second.sitting.state.done) == ("stall dusk 2", 0)
        assert second.batch
        assert "over all" in second.batch.turn()
        third = second.batch.next_piece()
        assert third
        assert third.sitting.name == "stall foam 1"
        assert {p.name: p.done for p in store.pieces()}["stall dusk 1"] == 5


def test_an_order_is_told_changed_ended_and_looked_back_on(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with Store(home) as store:
        desk, _ = begun(store)
        pieces = {p.name: p for p in store.pieces()}
        for name in ("stall dusk 1", "stall foam 1", "stall foam 2"):
            bench = desk.open(pieces[name].id)
            bench.sitting.count(bench.sitting.state.total)
            bench.sitting.leave()
    assert "stall" in told(capsys)
    assert "ready" in told(capsys)
    assert "1 spoilt" in told(capsys, "stall", "spoilt", "stall dusk 2", "--why", "too short")
    said = json.loads(told(capsys, "stall", "--json"))
    assert (said["done"], said["copies"], said["state"]) == (3, 3, "under way")
    assert said["ready"].keys() == {"early", "likely", "late"}
    ended = json.loads(told(capsys, "stall", "done", "--earned", "18.50", "--json"))
    assert ended["state"] == "done"
    assert ended["afterwards"]["earned"] == 18.5
    assert ended["afterwards"]["spoilt"] == 1
    assert "is over" in told(capsys, "stall", "way", status=2)
    with Store(home) as store:
        assert len(store.pieces()) == 4  # what is made stays made


def test_the_time_left_follows_the_real_pace_of_the_whole_order(home: Path) -> None:
    """Half of the order worked in no time, or in ages: the rest is expected to go likewise."""
    with Store(home) as store:
        desk, _ = begun(store)
        for piece in desk_pieces(store)[:2]:
            bench = desk.open(piece.id)
            bench.sitting.count(bench.sitting.state.total)
        order = order_now(store, "stall")
        left = []
        for worked_ms in (0, 300_000, 3_600_000):
            sound = tuple(replace(p, worked_ms=worked_ms) for p in order.sound)
            found = left_of(store, replace(order, sound=sound), 0.0)
            assert found
            left.append(found.likely_s)
        assert left[0] < left[1] < left[2]
        assert left[2] > 3 * left[0]


def desk_pieces(store: Store) -> list[Summary]:
    return sorted(store.pieces(), key=lambda piece: piece.id)


def test_the_next_quote_tells_how_it_went_last_time(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with Store(home) as store:
        desk, _ = begun(store)
        for piece in desk_pieces(store):
            bench = desk.open(piece.id)
            bench.sitting.count(bench.sitting.state.total)
    told(capsys, "stall", "done", "--earned", "20")
    assert main(["quote", "reed-keyring", "--json"]) == 0
    last = json.loads(capsys.readouterr().out)["last"]
    assert (last["order"], last["pieces"], last["earned"]) == ("stall", 4, 20.0)
    assert main(["quote", "reed-keyring"]) == 0
    assert "Last time (stall)" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (("tide",), "No order is called ‘tide’. There is ‘stall’."),
        (("stall", "spoilt", "nobody"), "No piece is called"),
        (("stall", "done", "--earned", "much"), "as in 60 or 62.50"),
    ],
)
def test_what_cannot_be_is_told_and_changes_nothing(
    home: Path, call: tuple[str, ...], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with Store(home) as store:
        begun(store)
        before = read_desk(store)
    assert said in told(capsys, *call, status=2)
    with Store(home) as store:
        assert read_desk(store) == before


def test_all_cord_of_an_order_is_ticked_and_leaves_the_stock(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["stock", "add", "indigo cotton 2 mm", "--hank", "10 m"]) == 0
    with Store(home) as store:
        begun(store)
    for _ in range(2):  # the second time there is nothing left to tick
        told(capsys, "stall", "cut")
        with Store(home) as store:
            item = read_desk(store).stock.find("indigo cotton 2 mm")
            assert item
            assert 10_000 - item.mm == pytest.approx(2 * _reed(store), abs=1)


def _reed(store: Store) -> float:
    cut = next(iter(read_desk(store).cut.values()))
    return cut.piece_mm


def test_a_key_goes_to_the_next_piece_and_the_list_shows_the_order_as_one_line(home: Path) -> None:
    async def walk() -> None:
        with Store(home) as store:
            desk, _ = begun(store)
            app = BenchApp(shelf=desk)
            async with app.run_test(size=(100, 30)) as pilot:
                await pilot.pause()
                assert isinstance(app.screen, ListScreen)
                listed = app.screen._listed.entries("", 60, Inks(DARK), unfolded=False)
                assert sum("stall" in entry.line.plain for entry in listed) == 1
                await pilot.press("enter")
                await pilot.pause()
                assert app.work
                assert app.work.sitting.name == "stall dusk 1"
                await pilot.press("J", "j")
                await pilot.pause()
                assert isinstance(app.screen, WorkScreen)
                assert app.work.sitting.name == "stall dusk 2"
                assert order_now(store, "stall").order.over_all
                await pilot.press("q")
                await pilot.pause()
                assert isinstance(app.screen, ListScreen)

    asyncio.run(walk())


def test_what_belongs_to_options_may_stand_behind_them(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A maker writes the pieces where she thinks of them."""
    with Store(home) as store:
        begun(store)
    assert main(["orders", "stall", "split", "--into", "saturday", "stall dusk 2"]) == 0
    assert "1 piece went into ‘saturday’." in capsys.readouterr().out


def test_an_order_is_gone_on_with_under_its_own_project(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with Store(home) as store:
        begun(store)
    assert main(["knot", "tide-band", "--order", "stall", "--plain"]) == 2
    told = capsys.readouterr().err
    assert "‘stall’ is an order of Reed keyring, not of tide-band." in told
    assert "coach knot reed-keyring --order stall" in told


def test_a_name_that_no_line_can_hold_begins_no_order(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["knot", "reed-keyring", "--copies", "2", "--order", "w" * 200, "--plain"]) == 2
    assert "at most 60 letters; this one has 200" in capsys.readouterr().err
    with Store(home) as store:
        assert not orders_now(store)
