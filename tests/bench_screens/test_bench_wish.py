"""Fitting a piece on its plan, before it is begun: the cut list follows, the piece keeps it."""

from pathlib import Path

from bench_pieces import Clock
from test_bench_screens import Bench, run

from coach.cli.workshop.workshop import Workshop
from coach.piece import Store
from coach.tui.app import BenchApp


def test_repeats_and_a_wrist_change_the_cut_list_at_once_and_the_piece_keeps_them(
    tmp_path: Path,
) -> None:
    clock = Clock()
    desk = Workshop(Store(tmp_path / "coach.db"), clock)
    app = BenchApp(shelf=desk, clock=clock)

    async def drive(seen: Bench) -> None:
        await seen.pilot.pause()
        await seen.press(*"tide", "enter")
        before = seen.text()
        assert "cut" in before
        await seen.press("plus")
        assert seen.text().splitlines()[0].strip() == "Now 8 waves."
        assert seen.text() != before
        await seen.press("f", "down", *"20", "space", *"cm", "enter")
        assert "wrist with 1.5 cm of ease" in " ".join(seen.text().split())
        await seen.press("f", *"3", "space", *"cm", "enter")
        assert "Nothing is changed" in " ".join(seen.text().split())
        await seen.press("escape", "u")
        assert " in length" in seen.text() or " yd length" in seen.text()
        await seen.press("enter")
        assert "of 375" in seen.text()

    run(app, clock, drive, (80, 24))
    (piece,) = desk.pieces()
    assert desk.open(piece.id).plan.repeats["wave"] == 8
