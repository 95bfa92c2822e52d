"""Projects and pieces made by hand for the tests of the screens."""

from collections.abc import Sequence
from functools import cache
from pathlib import Path

from coach.piece import Sitting, Store, start_piece
from coach.plan.compile.compiler import compile_project
from coach.plan.plan_model import Plan, once
from coach.project import model
from coach.session.ports import OnBench
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import UNICODE, Glyphs
from coach.tui.drawing.picture_window import Picture
from coach.yaml_reader.diagnostics import Span

SPAN = Span()
ABOUT = model.About(SPAN)


class Clock:
    """A clock that stands where a test puts it."""

    def __init__(self) -> None:
        self.ms = 1_772_000_000_000

    def now_ms(self) -> int:
        return self.ms

    def tick_ms(self) -> int:
        return self.ms

    def tick_at(self, monotonic_s: float) -> int:
        """Every key is read when it is pressed, and this clock stands still in between."""
        del monotonic_s
        return self.ms


def at(*items: int) -> model.Positions:
    return model.Positions(SPAN, items)


def groups(*members: Sequence[int]) -> model.Groups:
    return model.Groups(SPAN, tuple(at(*member) for member in members))


def cord(name: str, colour: str) -> model.Cord:
    return model.Cord(name, SPAN, colour, colour, "cotton", 2.0, None)


def row(mover: int, across: Sequence[int], *, holds: bool = True, times: int = 1) -> model.Row:
    knot = "clove hitch" if holds else "reverse clove hitch"
    return model.Row(ABOUT, at(mover), at(*across), (knot,), holds, times=times)


def knot(name: str, *members: Sequence[int], times: int = 1) -> model.GroupKnot:
    return model.GroupKnot(ABOUT, name, groups(*members), times)


def plan_of(
    *work: model.Step,
    pieces: int = 3,
    title: str = "Reed strap",
    parts: dict[str, tuple[model.Step, ...]] | None = None,
) -> Plan:
    """Compile a project of `pieces` folded pieces, in reed, clay and tide by turns."""
    return _plan_of(work, pieces, title, tuple((parts or {}).items()))


@cache
def _plan_of(
    work: tuple[model.Step, ...],
    pieces: int,
    title: str,
    parts: tuple[tuple[str, tuple[model.Step, ...]], ...],
) -> Plan:
    """Compile it once: a plan is a value, and what is measured of it is kept on it."""
    cords = {
        "reed": cord("reed", "#5b7f3a"), "clay": cord("clay", "#a0522d"),
        "rush": cord("rush", "#2f6f8f"),
    }  # fmt: skip
    names = list(cords)
    hung = tuple(model.ListedPiece(names[i % 3], SPAN) for i in range(pieces))
    used = {name: cords[name] for name in names[:pieces]}
    begin = model.Start(SPAN, "hang", hung)
    compiled = compile_project(model.Project(title, used, begin, work, dict(parts)))
    assert compiled.plan, compiled.problems
    return compiled.plan


@cache
def mixed_plan() -> Plan:
    """Return a plan on six strands with a step of nearly every kind."""
    wave = (row(1, (2, 3)), row(6, (5, 4)), row(3, (4,)))
    return plan_of(
        model.Use(ABOUT, "wave", 2),
        model.Use(ABOUT, "wave", 1, "all"),
        row(2, (3, 4, 5), times=2),
        row(6, (5, 4, 3, 2, 1), holds=False),
        knot("square knot", (1, 2, 3, 4), times=3),
        knot("half knot", (1, 2, 3), (4, 5, 6), times=3),
        model.Braid(ABOUT, groups((1, 2), (3, 4), (5, 6)), crossings=7),
        model.AroundKnot(ABOUT, "lark's head", at(1), at(2, 3), 4),
        model.Cross(ABOUT, at(2, 1, 4, 3, 6, 5)),
        model.Space(ABOUT, None, 30.0),
        knot("overhand knot", (1, 2, 3), (4, 5, 6)),
        knot("josephine knot", (1, 2, 3, 4)),
        knot("half hitch chain", (5, 6), times=4),
        model.Gathering(ABOUT, "rush", model.Positions(SPAN, everything=True), 20.0),
        parts={"wave": wave},
    )


@cache
def restless_plan() -> Plan:
    """Return a plan in the round in which strands come, go, turn over and change their count."""
    extra = (model.ListedPiece("rush", SPAN),)
    steps = (
        row(6, (7, 8)),
        knot("square knot", (3, 4, 5, 6), (7, 8, 9, 10)),
        model.Seam(ABOUT, at(3)),
        model.Add(ABOUT, extra, at(3), at(2), "lark's head"),
        row(1, (2, 3, 4)),
        model.LayAside(ABOUT, at(5, 6)),
        model.Picot(ABOUT, at(1), 15.0),
        model.Bead(ABOUT, at(2, 3), 8.0),
        model.Turn(ABOUT, at(2), at(1)),
        model.Flip(ABOUT),
        knot("half knot", (1, 2, 3), times=2),
        model.Wait(ABOUT, 600.0),
        model.GroupKnot(ABOUT, "berry knot", groups((1, 2, 3, 4)), squares=3),
        model.AroundKnot(ABOUT, "barrel knot", at(1), None, turns=4),
        model.Trim(ABOUT, at(1, 2), 10.0),
    )
    names = ("reed", "clay", "reed", "clay")
    cords = {
        "reed": cord("reed", "#5b7f3a"), "clay": cord("clay", "#a0522d"),
        "rush": cord("rush", "#2f6f8f"),
    }  # fmt: skip
    before = (model.Braid(ABOUT, groups((1,), (2,), (3,)), crossings=6),)
    begin = model.Start(
        SPAN, "hang", tuple(model.ListedPiece(name, SPAN) for name in names),
        closed=True, before_fold=before,
    )  # fmt: skip
    compiled = compile_project(model.Project("Rush ring", cords, begin, steps))
    assert compiled.plan, compiled.problems
    return compiled.plan


def on_bench(folder: Path, plan: Plan, clock: Clock, done: int = 0) -> OnBench:
    """Begin a piece of a plan and count `done` of it."""
    store = Store(folder / "pieces.db")
    number = start_piece(
        store, clock, title=plan.project.title, project_text="", source="made", total=plan.total
    )
    sitting = Sitting(store, clock, number, [count.knot for count in plan.counts])
    if done:
        sitting.count(done)
    return OnBench(plan, sitting)


@once
def _drawings(plan: Plan) -> dict[tuple[Glyphs, int, int], BoardDrawing]:
    """Return where the drawings of a plan are kept, by their signs and size."""
    del plan
    return {}


def picture(plan: Plan, done: int, width: int, height: int, glyphs: Glyphs = UNICODE) -> Picture:
    """Draw the board of a plan, with what was kept of its pictures of that size as on the bench."""
    kept = _drawings(plan)
    if (glyphs, width, height) not in kept:
        kept[glyphs, width, height] = BoardDrawing(plan, glyphs)
    return kept[glyphs, width, height].picture(done, width, height)


def picture_anew(
    plan: Plan, done: int, width: int, height: int, glyphs: Glyphs = UNICODE
) -> Picture:
    """Draw the board of a plan of which nothing was drawn before."""
    return BoardDrawing(plan, glyphs).picture(done, width, height)
