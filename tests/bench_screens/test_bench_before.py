"""The list for cutting and hanging: what stands on it, and that ticks are kept as counts are."""

from pathlib import Path

from bench_pieces import ABOUT, SPAN, Clock, mixed_plan, on_bench, plan_of, row
from test_bench_screens import Bench, bench, run

from coach.piece import Sitting, Store, look
from coach.plan.cord.cord_left import shares_mm
from coach.plan.cord.cut_list import cut_list
from coach.plan.from_text import read_plan
from coach.project import model
from coach.session.ports import OnBench
from coach.session.preparation import next_open, pieces_to_ready, rest_of, ticks_in_order
from coach.tui.app import BenchApp

WRAPPED = model.Gathering(ABOUT, "rush", model.Positions(SPAN, everything=True), 20.0)


def test_the_list_has_every_piece_of_the_cut_list_at_its_length() -> None:
    plan = mixed_plan()
    listed = sorted((r.cord, r.length_mm) for r in pieces_to_ready(plan))
    cut = sorted(
        (cord.cord, cut.cut_mm)
        for cord in cut_list(plan)
        for cut in cord.cuts
        for _ in range(cut.pieces)
    )
    assert listed == cut


def test_a_piece_is_cut_and_labelled_at_once_and_hung_when_all_are_cut() -> None:
    """What joins the work later is not hung before it."""
    ready = pieces_to_ready(plan_of(row(1, (2,)), WRAPPED, pieces=3))
    order = ticks_in_order(ready)
    assert order[:4] == (
        ("reed.1", "cut"), ("reed.1", "labelled"), ("clay.1", "cut"), ("clay.1", "labelled"),
    )  # fmt: skip
    assert [tick for tick in order if tick[1] == "hung"] == [
        ("reed.1", "hung"), ("clay.1", "hung"), ("rush.1", "hung"),
    ]  # fmt: skip
    assert ready[-1].label == "rush.2"
    assert ready[-1].hangs == "joins later"
    assert ready[0].hangs == "1 and 2"


def test_a_piece_folded_off_the_middle_says_how_far_each_strand_hangs(tmp_path: Path) -> None:
    text = (Path(__file__).parents[2] / "projects" / "sluice-belt.yaml").read_text("utf-8")
    plan = read_plan(text).plan
    assert plan
    shares = shares_mm(plan, cut_list(plan))
    for ready in pieces_to_ready(plan):
        strands = [s for s in plan.start if plan.strands[s].id.startswith(f"{ready.label}")]
        wanted = [shares[s] for s in strands] if ready.cord == "silt" else []
        assert list(ready.ends_mm) == wanted
    app, _, clock = bench(tmp_path, plan)

    async def drive(seen: Bench) -> None:
        await seen.press("b")
        long, short = (f"{shares[strand] / 10:.0f} cm" for strand in plan.start[:2])
        assert f"1 and 2: {long} and {short}" in seen.text()

    run(app, clock, drive, (80, 24))


def test_the_next_thing_to_do_is_looked_for_behind_and_then_from_the_beginning() -> None:
    order = ticks_in_order(pieces_to_ready(plan_of(row(1, (2,)), pieces=1)))
    assert next_open(order, set(), None) == ("reed.1", "cut")
    assert next_open(order, {("reed.1", "labelled")}, ("reed.1", "labelled")) == ("reed.1", "hung")
    assert next_open(order, {("reed.1", "hung")}, ("reed.1", "hung")) == ("reed.1", "cut")
    assert next_open(order, set(order), order[0]) is None


def test_the_rest_of_one_work_on_one_cord() -> None:
    ready = pieces_to_ready(plan_of(row(1, (2,)), pieces=5))
    ticked = {("reed.1", "cut")}
    assert rest_of(ready, ticked, ("reed.1", "cut")) == (("reed.2", "cut"),)


def test_a_first_start_offers_the_list_and_a_count_passes_it_by(tmp_path: Path) -> None:
    app, opened, clock = bench(tmp_path, mixed_plan())

    async def drive(seen: Bench) -> None:
        assert "b for the cutting list" in seen.text()
        await seen.press("space")
        assert opened.sitting.state.done == 1
        assert "cutting list, or" not in seen.text()

    run(app, clock, drive)


def test_what_was_said_of_the_last_key_leaves_the_keys_of_the_list_to_be_seen(
    tmp_path: Path,
) -> None:
    """A message of the bench stays on the bench."""
    app, _, clock = bench(tmp_path, mixed_plan())

    async def drive(seen: Bench) -> None:
        await seen.press("space", "backspace")
        assert "Took one back." in seen.text()
        await seen.press("b")
        assert "Took one back." not in seen.text()
        assert "space" in " ".join(seen.text().splitlines()[-2:])

    run(app, clock, drive)


def test_ticks_are_stored_one_by_one_and_taken_back(tmp_path: Path) -> None:
    app, opened, clock = bench(tmp_path, plan_of(row(1, (2,)), pieces=2))

    async def drive(seen: Bench) -> None:
        await seen.press("b", "space", "space", "r")
        with Store(tmp_path / "pieces.db") as store:
            assert look(store, opened.sitting.piece_id).ticks == {
                ("reed.1", "cut"), ("reed.1", "labelled"), ("clay.1", "cut"),
            }  # fmt: skip
        assert "3 of 6" in seen.text()
        await seen.press("backspace")
        assert ("clay.1", "cut") not in opened.sitting.state.ticks
        await seen.press("tab", "tab", "space")
        assert ("reed.1", "hung") in opened.sitting.state.ticks
        await seen.press("b")
        assert "next " in seen.text()
        assert "3 of 6 made ready" in " ".join(seen.text().split())
        assert opened.sitting.state.done == 0

    run(app, clock, drive)


def test_ticks_are_there_again_when_the_piece_is_opened_anew(tmp_path: Path) -> None:
    """Without leaving, as after a power cut."""
    clock = Clock()
    plan = plan_of(row(1, (2,)), pieces=2)
    first = on_bench(tmp_path, plan, clock)

    async def tick(seen: Bench) -> None:
        await seen.press("b", "space", "space", "space", "space")

    run(BenchApp(on_bench=first, clock=clock), clock, tick)
    knots = [count.knot for count in plan.counts]
    again = Sitting(Store(tmp_path / "pieces.db"), clock, first.sitting.piece_id, knots)

    async def look_again(seen: Bench) -> None:
        assert "4 of 6 made ready" in " ".join(seen.text().split())
        await seen.press("b", "space", "space")
        assert "All is ready" in seen.text()
        await seen.press("space", "b")
        assert "made ready" not in seen.text()

    run(BenchApp(on_bench=OnBench(plan, again), clock=clock), clock, look_again)


def test_the_list_fits_every_size(tmp_path: Path) -> None:
    app, _, clock = bench(tmp_path, plan_of(row(1, (2,)), pieces=20))

    async def drive(seen: Bench) -> None:
        await seen.press("b", *["space"] * 20)
        for size in ((120, 40), (80, 24), (40, 12), (20, 6), (6, 2), (1, 1)):
            await seen.pilot.resize_terminal(*size)
            await seen.pilot.pause()
            assert max(map(len, seen.text().splitlines())) <= size[0]
            if size[0] >= 20:
                assert "clay.4" in seen.text()  # the piece at hand

    run(app, clock, drive)
