"""An order on the bench: made ready for all its pieces at once, and worked one step over all."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from bench_pieces import Clock
from test_bench_screens import Bench, run

from coach.cli.workshop.workshop import Workshop
from coach.desk.desk_log import append_to_desk, read_desk
from coach.desk.order_changes import work_over_all
from coach.desk.order_log import order_now
from coach.desk.order_start import ToBegin
from coach.orders.desk_events import StockAdded
from coach.piece import PieceError, Sitting, Store
from coach.plain_ui.walk import PlainWalk
from coach.plan.resize.size_request import Wish
from coach.session.controller import BenchController
from coach.session.current_order.piece_switching import SOON_MS
from coach.session.keymap import Keys
from coach.session.ports import OnBench
from coach.tui.app import BenchApp
from coach.tui.screens.work_screen import WorkScreen

REED, CLAY = "reed cotton 2 mm", "clay cotton 2 mm"


class Evening:
    """An order of three keyrings, one of them in dusk, and the bench on its first piece."""

    def __init__(self, store: Store, clock: Clock) -> None:
        self.store, self.clock = store, clock
        self.workshop = Workshop(store, clock, lambda: "practised")
        plan = self.workshop.plan("reed-keyring")
        dusk = Wish(colours=dict(plan.project.colourways["dusk"]))
        groups = [ToBegin(1, "dusk", dusk, plan), ToBegin(2, "", Wish(), plan)]
        self.workshop.begin_order("reed-keyring", "stall", groups, {})

    def app(self) -> BenchApp:
        return BenchApp(on_bench=self.workshop.open_order("stall"), clock=self.clock)

    def over_all(self) -> None:
        work_over_all(self.store, self.clock, "stall", over_all=True)

    def done(self) -> list[int]:
        return [piece.done for piece in order_now(self.store, "stall").sound]

    def in_stock(self, what: str) -> float:
        item = read_desk(self.store).stock.find(what)
        assert item
        return item.mm


@pytest.fixture
def evening(tmp_path: Path) -> Iterator[Evening]:
    with Store(tmp_path / "pieces.db") as store:
        yield Evening(store, Clock())


def test_the_list_is_for_all_pieces_and_its_ticks_take_from_stock_and_give_back(
    evening: Evening,
) -> None:
    append_to_desk(evening.store, lambda _: [StockAdded(at_ms=1, what=REED, lengths_mm=[10_000.0])])

    async def drive(seen: Bench) -> None:
        await seen.press("b")
        text = seen.text()
        assert "0 of 18" in text  # three pieces of two lengths, each cut, labelled, hung
        assert f"{REED}, reed.1" in text
        assert "135 cm     0 of 2" in text
        assert "3 × 8 mm wooden bead" in text  # noqa: RUF001 - the sign is meant
        await seen.press("tab", "tab", "space")  # past the dusk one's
        assert "[1 of 2]" in seen.text()
        assert evening.in_stock(REED) == 10_000 - 1350
        await seen.press("r")
        assert evening.in_stock(REED) == 10_000 - 2 * 1350
        await seen.press("backspace", "backspace")
        assert evening.in_stock(REED) == 10_000
        assert "0 of 18" in seen.text()

    run(evening.app(), evening.clock, drive)


def test_the_piece_on_the_bench_and_its_order_have_the_same_ticks(evening: Evening) -> None:
    async def drive(seen: Bench) -> None:
        await seen.press("b", "space", "o")
        assert "Cut and hang: stall dusk 1" in seen.text()
        assert "1 of 6" in seen.text()
        await seen.press("tab", "space", "escape")
        assert "2 of 18" in seen.text()
        await seen.press("b")
        assert "2 of 6 made ready" in " ".join(seen.text().split())

    run(evening.app(), evening.clock, drive)


@pytest.mark.parametrize("alone", [True, False], ids=["of a piece", "of the order"])
def test_a_spoilt_length_is_cut_once_more_and_one_key_takes_that_back(
    evening: Evening, alone: bool
) -> None:
    what = "indigo cotton 2 mm"
    append_to_desk(evening.store, lambda _: [StockAdded(at_ms=1, what=what, lengths_mm=[10_000.0])])

    async def drive(seen: Bench) -> None:
        await seen.press("b", *(["o"] if alone else []), "x")
        assert "cut yet" in seen.text()
        await seen.press("space", "tab" if alone else "k", *(["k", "k"] if alone else []))
        await seen.press("x", "x")
        assert evening.in_stock(what) == 10_000 - 3 * 1350
        assert "cut once more." in seen.text()
        assert "+2" in seen.text()
        await seen.press("backspace")
        assert evening.in_stock(what) == 10_000 - 2 * 1350
        await seen.press("backspace", "backspace")
        assert evening.in_stock(what) == 10_000

    run(evening.app(), evening.clock, drive)


@pytest.mark.parametrize("alone", [True, False], ids=["of a piece", "of the order"])
def test_a_tick_says_at_once_that_more_is_taken_than_was_there(
    evening: Evening, alone: bool
) -> None:
    """Negative stock can be, for she may have miscounted; it is told and never hidden."""
    what = "indigo cotton 2 mm"
    append_to_desk(evening.store, lambda _: [StockAdded(at_ms=1, what=what, lengths_mm=[1000.0])])

    async def drive(seen: Bench) -> None:
        await seen.press("b", *(["o"] if alone else []), "space")
        told = " ".join(seen.text().split())
        assert f"1.35 m more {what} taken than was in stock: check the shelf." in told
        assert evening.in_stock(what) == 1000 - 1350

    run(evening.app(), evening.clock, drive)


def test_a_finished_piece_says_at_once_that_a_ring_more_is_used_than_was_there(
    evening: Evening,
) -> None:
    ring = StockAdded(at_ms=1, what="25 mm split ring", by_number=True)
    append_to_desk(evening.store, lambda _: [ring])

    async def drive(seen: Bench) -> None:
        while evening.done()[0] < 27:
            await seen.press("r")
        assert "1 more 25 mm split ring taken than" in " ".join(seen.text().split())
        await seen.press("backspace", "space")  # said anew, for it is used anew
        assert "1 more 25 mm split ring" in seen.text()

    run(evening.app(), evening.clock, drive)


def test_a_finished_piece_says_which_key_goes_on(evening: Evening) -> None:
    async def drive(seen: Bench) -> None:
        while evening.done()[0] < 27:
            await seen.press("r")
        await seen.press("backspace", "space")
        assert "The next piece of the order: j." in " ".join(seen.text().split())

    run(evening.app(), evening.clock, drive)


@pytest.mark.parametrize("size", [(120, 40), (80, 24), (40, 12), (20, 6), (6, 2), (1, 1)])
def test_the_list_of_an_order_fits_every_size(evening: Evening, size: tuple[int, int]) -> None:
    async def drive(seen: Bench) -> None:
        await seen.press("b", "space", "space")
        assert max(map(len, seen.text().splitlines())) <= size[0]
        if size[0] >= 20:
            assert "reed.1" in seen.text()

    run(evening.app(), evening.clock, drive, size)


def test_a_list_that_cannot_be_read_says_so(
    evening: Evening, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = evening.app()

    def failing(*_: object) -> object:
        raise PieceError("The drive is gone.")

    async def drive(seen: Bench) -> None:
        batch = seen.app.work.batch if seen.app.work else None
        monkeypatch.setattr(batch, "to_ready", failing)
        await seen.press("b")
        assert "The drive is gone." in seen.text()
        await seen.press("space", "r", "backspace", "tab", "k", "b")
        assert isinstance(seen.app.screen, WorkScreen)

    run(app, evening.clock, drive)


def test_a_step_made_over_all_goes_on_to_the_next_piece_by_itself(evening: Evening) -> None:
    """Told in a line; each piece's count stays its own, and the last one leads to the first."""
    evening.over_all()

    async def drive(seen: Bench) -> None:
        assert "stall dusk 1" in seen.text()
        await seen.press("space")
        assert "stall dusk 1: step made. On to stall 1." in seen.text()
        assert "Backspace goes back." in seen.text()
        assert evening.done() == [1, 0, 0]
        await seen.press("space", "space")
        assert evening.done() == [1, 1, 1]
        assert seen.app.work
        assert seen.app.work.sitting.name == "stall dusk 1"
        await seen.press("space", "space", "space")  # in the midst of the next step nothing happens
        assert seen.app.work.sitting.name == "stall dusk 1"
        await seen.press("r")
        assert seen.app.work.sitting.name == "stall 1"
        assert evening.done() == [5, 1, 1]

    run(evening.app(), evening.clock, drive)


def test_one_key_goes_back_and_a_second_takes_the_count_back(evening: Evening) -> None:
    evening.over_all()

    async def drive(seen: Bench) -> None:
        await seen.press("space", "backspace")
        work = seen.app.work
        assert work
        assert work.sitting.name == "stall dusk 1"
        assert "Back at stall dusk 1. Backspace takes one back." in " ".join(seen.text().split())
        assert evening.done() == [1, 0, 0]
        await seen.press("backspace")
        assert evening.done() == [0, 0, 0]
        await seen.press("space", "space", "backspace")  # counted on the next: taken back there
        assert evening.done() == [1, 1, 0]
        assert seen.app.work
        assert seen.app.work.sitting.name == "stall 1"

    run(evening.app(), evening.clock, drive)


def test_a_key_meant_for_the_piece_before_counts_nothing_on_the_next(evening: Evening) -> None:
    """A press that comes before the hands can have tied on another piece, however it is read."""
    evening.over_all()

    async def drive(seen: Bench) -> None:
        await seen.press("space")
        await seen.press("space", apart_ms=SOON_MS - 1)
        assert evening.done() == [1, 0, 0]
        assert "Too soon on another piece: not counted." in " ".join(seen.text().split())
        await seen.press("r", apart_ms=0)
        assert evening.done() == [1, 0, 0]
        await seen.press("space", apart_ms=2)
        assert evening.done() == [1, 1, 0]

    run(evening.app(), evening.clock, drive)


def test_one_after_the_other_stays_until_a_piece_is_finished(evening: Evening) -> None:
    async def drive(seen: Bench) -> None:
        await seen.press("space", "r")
        assert evening.done() == [5, 0, 0]
        await seen.press("J", "space", "r")  # from here on one step over all
        assert evening.done()[0] > 6
        assert seen.app.work
        assert seen.app.work.sitting.name == "stall 1"

    run(evening.app(), evening.clock, drive)


def test_a_piece_whose_counts_are_not_stored_stays(
    evening: Evening, monkeypatch: pytest.MonkeyPatch
) -> None:
    evening.over_all()

    async def drive(seen: Bench) -> None:
        monkeypatch.setattr(Sitting, "waiting", 1)
        await seen.press("space")
        assert seen.app.work
        assert seen.app.work.sitting.name == "stall dusk 1"
        monkeypatch.undo()

    run(evening.app(), evening.clock, drive)


def test_what_one_tie_a_visit_takes_is_worked_time(evening: Evening) -> None:
    """Hands that come straight from another piece: all the time between two counts is work."""
    evening.over_all()

    async def drive(seen: Bench) -> None:
        await seen.press(*["space"] * 3, apart_ms=20_000)

    run(evening.app(), evening.clock, drive)
    worked = [piece.worked_ms for piece in order_now(evening.store, "stall").sound]
    assert worked[1:] == [20_000, 20_000]
    assert 0 < worked[0] <= 20_000


def test_plain_lines_go_over_to_the_next_piece_too(evening: Evening) -> None:
    evening.over_all()
    clock = evening.clock

    def take_up(opened: OnBench) -> BenchController:
        return BenchController.on(opened, clock, Keys())

    def typed(line: str) -> str:
        clock.ms += 2000
        return "\n".join(walk.answer(line))

    walk = PlainWalk(take_up(evening.workshop.open_order("stall")), take_up=take_up)
    told = typed("")
    assert "Too soon on another piece" in "".join(walk.answer(""))
    assert told.startswith("stall dusk 1: step made. On to stall 1. - goes back.\n1 of 1. Pin")
    assert "Back at stall dusk 1. - takes one back." in typed("-")
    assert evening.done() == [1, 0, 0]
    assert "Took one back." in typed("-")
    for line in ("", "rest", "enter"):
        typed(line)
    assert evening.done() == [1, 1, 1]
    typed("rest")
    assert walk.work.sitting.name == "stall 1"
    assert evening.done() == [5, 1, 1]
