"""A piece of a text on the bench, worked in plain lines."""

from pathlib import Path

from hand_clock import HandClock

from coach.piece import Sitting, Store, start_piece
from coach.piece.open_piece import open_piece
from coach.plain_ui.walk import PlainWalk
from coach.plan.from_text import read_plan
from coach.session.controller import BenchController
from coach.session.keymap import Keys


class Bench:
    """A piece of a text, worked in plain lines, closed and opened as often as wanted."""

    def __init__(self, folder: Path, text: str) -> None:
        self.clock, self.store = HandClock(), Store(folder / "coach.db")
        plan = read_plan(text).plan
        assert plan
        self.number = start_piece(
            self.store, self.clock, title="Marsh", project_text=text, source="made",
            total=plan.total,
        )  # fmt: skip
        self.open()

    def open(self) -> None:
        """Open the piece anew from what is stored."""
        piece = open_piece(self.store, self.number)
        sitting = Sitting(self.store, self.clock, self.number, [], kept=piece.kept)
        work = BenchController(piece.base, sitting, self.clock, Keys(), now=piece.plan)
        self.walk = PlainWalk(work)

    @property
    def work(self) -> BenchController:
        return self.walk.work

    def type(self, *lines: str) -> str:
        """Type lines a minute apart; return what is answered to the last."""
        told: list[str] = []
        for line in lines:
            self.clock.go_on(60)
            told = self.walk.answer(line)
        return " ".join(told)
