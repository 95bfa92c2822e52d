"""What is changed about an order under way: spoilt pieces, one more, split; made ready together."""

import json
from pathlib import Path

import pytest

from coach.cli.main import main
from coach.cli.project_finder import find_project
from coach.cli.registry import parse_call
from coach.cli.workshop.begin_order import begin_or_open
from coach.cli.workshop.workshop_setup import workshop_of_maker
from coach.desk.desk_log import read_desk
from coach.desk.order_log import order_now, steps_at
from coach.orders.desk_events import StockCut
from coach.piece import Store, Summary, folders
from coach.piece.storage.read_piece import read_whole_piece
from coach.session.ports import OnBench

CALL = "knot reed-keyring --copies 4 --colourway dusk=2 --colourway foam=2 --order stall"
RING = "25 mm split ring"


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    return folders({"COACH_HOME": str(tmp_path)}).database


def begin(home: Path, *call: str) -> None:
    with Store(home) as store:
        begin_or_open(workshop_of_maker(store), parse_call([*CALL.split(), *call])[1])


def said(capsys: pytest.CaptureFixture[str], *call: str, status: int = 0) -> str:
    capsys.readouterr()
    assert main(list(call)) == status
    out = capsys.readouterr()
    return out.err if status else out.out


def by_name(store: Store) -> dict[str, Summary]:
    return {piece.name: piece for piece in store.pieces()}


def on_bench(store: Store, name: str) -> OnBench:
    return workshop_of_maker(store).open(by_name(store)[name].id)


def test_another_piece_takes_the_place_of_a_spoilt_one(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    begin(home)
    told = said(capsys, "orders", "stall", "spoilt", "stall dusk 2", "--why", "cut too short",
                "--another")  # fmt: skip
    assert "‘stall dusk 3’ is begun." in told
    with Store(home) as store:
        order = order_now(store, "stall")
        assert [p.name for p in order.sound] == [
            "stall dusk 1", "stall foam 1", "stall foam 2", "stall dusk 3",
        ]  # fmt: skip
        assert [p.name for p in order.spoilt] == ["stall dusk 2"]
        assert order.order.pieces[-1].colourway == "dusk"
        old, new = (on_bench(store, f"stall dusk {n}").plan for n in (2, 3))
        assert (new.project, new.total) == (old.project, old.total)
        assert order.order.pieces[1].why == "cut too short"
    assert "stall dusk 4" in said(capsys, "orders", "stall", "another", "stall dusk 2")


def test_a_part_of_an_order_goes_on_under_another_with_its_share_of_the_quote(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (folders({"COACH_HOME": str(home.parent.parent)}).settings).mkdir()
    (home.parent.parent / "settings" / "prices.yaml").write_text(
        "hour: 14\ncords: {cotton 2 mm: 0.30 per m}\nfindings: {25 mm split ring: 0.20, 8 mm "
        "wooden bead: 0.10}\n"
    )
    begin(home)
    whole = json.loads(said(capsys, "quote", "reed-keyring", "--copies", "4", "--json"))
    with Store(home) as store:
        for name in ("stall dusk 1", "stall foam 1", "stall foam 2"):
            bench = on_bench(store, name)
            bench.sitting.count(27)
    told = said(capsys, "orders", "stall", "split", "--into", "saturday")
    assert "3 pieces went into ‘saturday’" in told
    with Store(home) as store:
        parts = {name: order_now(store, name) for name in ("stall", "saturday")}
        assert [p.name for p in parts["stall"].sound] == ["stall dusk 2"]
        assert len(parts["saturday"].sound) == 3
        assert parts["saturday"].order.over_all == parts["stall"].order.over_all
    said(capsys, "orders", "stall", "split", "stall dusk 2", "--into", "late", status=2)
    done = json.loads(said(capsys, "orders", "saturday", "done", "--json"))["afterwards"]
    assert done["quoted"] == pytest.approx(whole["price"]["total"] * 3 / 4, abs=0.02)
    assert done["earned"] == done["quoted"]


REFUSED: tuple[tuple[tuple[str, ...], str], ...] = (
    (("split", "--into", "stall"), "is called ‘stall’ already"),
    (("split", "--into", "late"), "at least one must stay"),  # none is finished
    (("split", "stall dusk 1"), "as in --into saturday"),
    (("split", "stall dusk 1", "stall dusk 2", "stall foam 1", "stall foam 2", "--into", "x"),
     "at least one must stay"),
    (("spoilt",), "Name one piece"),
    (("another", "nobody"), "No piece is called"),
    (("cut", "rope"), "It has no cord ‘rope’. It has reed and clay."),
)  # fmt: skip


def test_what_cannot_be_changed_is_told_with_what_can(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    begin(home)
    with Store(home) as store:
        before = read_desk(store), store.pieces()
    for call, told in REFUSED:
        assert told in said(capsys, "orders", "stall", *call, status=2)
    with Store(home) as store:
        assert (read_desk(store), store.pieces()) == before


def test_all_pieces_are_made_ready_by_one_list_and_the_stock_follows(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    begin(home)
    said(capsys, "stock", "add", "indigo cotton 2 mm", "--hank", "10 m")
    told = json.loads(said(capsys, "orders", "stall", "list", "--json"))
    assert [(c["id"], c["label"], c["pieces"], c["cut"]) for c in told["cords"]] == [
        ("reed", "reed.1", 2, 0), ("reed", "reed.1", 2, 0),
        ("clay", "clay.1", 2, 0), ("clay", "clay.1", 2, 0),
    ]  # fmt: skip
    assert [(f["what"], f["count"]) for f in told["findings"]] == [
        (RING, 4), ("8 mm wooden bead", 4),
    ]  # fmt: skip
    assert "4 lengths ticked as cut" in said(capsys, "orders", "stall", "cut", "reed")
    with Store(home) as store:
        bench = on_bench(store, "stall dusk 2")
        assert ("reed.1", "cut") in bench.sitting.state.ticks
        mine = [e for e in store.desk_events() if isinstance(e, StockCut)]
        assert {cut.piece_mm for cut in mine} == {told["cords"][0]["mm"]}
    assert "indigo cotton 2 mm, reed.1: 2 of" in said(capsys, "orders", "stall", "list")
    assert "2 cut" in said(capsys, "orders", "stall", "list")


def test_in_inches_a_tick_takes_out_what_is_cut_in_inches(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Lengths are rounded up to whole half inches or inches there (25.4 mm, by definition)."""
    said(capsys, "sizes", "--units", "in")
    begin(home)
    said(capsys, "stock", "add", "indigo cotton 2 mm", "--hank", "10 m")
    said(capsys, "orders", "stall", "cut")
    with Store(home) as store:
        cut = next(e for e in store.desk_events() if isinstance(e, StockCut))
        assert cut.piece_mm % 12.7 == pytest.approx(0, abs=1e-6) or cut.piece_mm % 12.7 > 12.69
        bench = on_bench(store, "stall foam 1")
        said(capsys, "stock", "add", "teal cotton 2 mm", "--hank", "10 m")
        assert bench.sitting.state.ticks


def test_findings_leave_the_stock_with_a_finished_piece_and_come_back_with_a_count(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    begin(home)
    said(capsys, "stock", "add", RING, "--number", "1")
    with Store(home) as store:
        for name, left in (("stall dusk 1", 0), ("stall dusk 2", -1)):
            bench = on_bench(store, name)
            for _ in range(2):  # the second time nothing more goes
                bench.sitting.count(27)
                item = read_desk(store).stock.find(RING)
                assert item
                assert item.count == left
                bench.sitting.take_back(1)
                item = read_desk(store).stock.find(RING)
                assert item
                assert item.count == left + 1
            bench.sitting.count(1)
            bench.sitting.pause()
        assert not read_desk(store).stock.find("8 mm wooden bead")  # which nobody keeps in stock
        assert len(read_whole_piece(store, bench.sitting.piece_id).events) > 5
    assert "1 more was taken than was in stock" in said(capsys, "stock")


def test_one_step_over_all_goes_by_steps_where_pieces_are_not_alike(
    home: Path, tmp_path: Path
) -> None:
    """A closing of 3 and one of 8 knots: nobody gets a step ahead of another."""
    text = find_project("reed-keyring").path.read_text(encoding="utf-8")
    (tmp_path / "own.yaml").write_text(text.replace("vary: strap", "vary: closing"))
    call = ["knot", str(tmp_path / "own.yaml"), "--order", "rings", "--copies",
            "1 of 15 cm, 2 of 12 cm"]  # fmt: skip
    with Store(home) as store:
        batch = begin_or_open(workshop_of_maker(store), parse_call(call)[1]).batch
        assert batch
        batch.turn()
        assert len({piece.total for piece in store.pieces()}) == 2
        for name in ("rings 3", "rings 2", "rings 1"):
            bench = on_bench(store, name)
            bench.sitting.count(22)  # up to the closing
        for _ in range(7):
            step = bench.plan.step_at(bench.sitting.state.done)
            assert step
            bench.sitting.count(step.end - bench.sitting.state.done)
            steps = [at.step for at in steps_at(store, order_now(store, "rings"))]
            assert max(steps) - min(steps) <= 1
            assert bench.batch
            following = bench.batch.next_piece()
            if following is None:
                break
            bench = following
        assert min(steps) > bench.plan.step_of(22).index


def test_a_piece_that_is_not_wanted_any_more_goes_on_by_its_own_name(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    begin(home)
    assert "Name the pieces" in said(capsys, "orders", "stall", "without", status=2)
    told = said(capsys, "orders", "stall", "without", "stall dusk 2", "stall foam 2")
    assert "‘stall dusk 2’ and ‘stall foam 2’ left the order" in told
    with Store(home) as store:
        assert [p.name for p in order_now(store, "stall").sound] == ["stall dusk 1", "stall foam 1"]
        assert on_bench(store, "stall dusk 2").batch is None
    every = ("orders", "stall", "without", "stall dusk 1", "stall foam 1")
    assert "at least one must stay" in said(capsys, *every, status=2)


def test_a_length_that_is_spoilt_is_told_and_cut_again(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    begin(home)
    said(capsys, "stock", "add", "indigo cotton 2 mm", "--hank", "10 m")
    said(capsys, "orders", "stall", "cut", "reed")
    call = ("orders", "stall", "recut")
    told = said(capsys, *call, "stall dusk 1", "reed.1")
    assert "reed.1 of ‘stall dusk 1’ was cut again." in told
    assert "2 cut and 1 cut again" in said(capsys, "orders", "stall", "list")
    stock = json.loads(said(capsys, "stock", "--json"))
    assert stock[0]["mm"] == 10_000 - 3 * 1350
    assert "It has reed.1 and clay.1." in said(capsys, *call, "stall dusk 1", "tide.9", status=2)
    assert "Name the piece and the length" in said(capsys, *call, "stall dusk 1", status=2)
