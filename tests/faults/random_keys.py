"""Presses keys at random on every screen of the bench, singly and in bursts, without a terminal.

Between them are taps, turns of the wheel, pasted text and other sizes of the terminal. Whatever was
sent has its turn, once and in order. `python tests/faults/random_keys.py 100000 7 40x12` runs by
hand, with another seed and on another size, what the tests run in small.
"""

import asyncio
import itertools
import os
import random
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, Final

ROOT: Final = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests" / "bench_screens")]

from bench_pieces import ABOUT, Clock, knot, plan_of, row  # noqa: E402 - found on the line above
from textual import events  # noqa: E402
from textual.geometry import Size  # noqa: E402

from coach.piece import CannotKeep, Sitting, Store, Summary, list_pieces, look, start_piece  # noqa: E402
from coach.piece.entering.project_diff import ProjectChange  # noqa: E402
from coach.piece.events import Event  # noqa: E402
from coach.piece.piece_management import delete_piece, rename_piece  # noqa: E402
from coach.piece.state import State  # noqa: E402
from coach.piece.storage.summary import LastEntry  # noqa: E402
from coach.plan.plan_model import Plan  # noqa: E402
from coach.plan.resize.size_request import Wish  # noqa: E402
from coach.project import model  # noqa: E402
from coach.recording.record import Recording  # noqa: E402
from coach.session.adjusting.fitting import FittingController  # noqa: E402
from coach.session.keymap import ACTIONS  # noqa: E402
from coach.session.ports import CannotOpen, Edited, OnBench, ProjectOffer, Shelf, Standing  # noqa: E402
from coach.tui.app import BenchApp  # noqa: E402
from coach.tui.messages import ChosenPiece, ChosenProject  # noqa: E402
from coach.tui.screens.form_screen import AskScreen  # noqa: E402
from coach.tui.screens.home_screen import ListScreen  # noqa: E402

SIZES: Final = ((1, 1), (1, 9), (7, 3), (20, 6), (40, 12), (80, 24), (120, 40), (300, 90))
OTHER: Final = 0.04
"""How many of the keys are taps, turns of the wheel or pasted text; as often the size changes."""
PASTED: Final = ("reed", "12 cm", "\x1b[2Jx\n", "x" * 5000, "")
Columns = tuple[int, int]
A_SITTING: Final = 250  # keys until the app is begun anew
QUIET: Final = 3  # turns of the loop without anything to do that are taken for rest
MOST_PIECES: Final = 12
CHARACTERS: Final = {
    "space": " ", "plus": "+", "minus": "-", "equals_sign": "=", "question_mark": "?",
    "full_stop": ".", "slash": "/",
}  # fmt: skip
OFTEN: Final = ("space", "enter", "escape", "down", "up")
OTHERS: Final = (
    *"0123456789zjw", "tab", "shift+tab", "home", "end", "equals_sign", "full_stop", "f5", "ctrl+x",
    "delete",
)  # fmt: skip
KEYS: Final = (*(key for action in ACTIONS for key in action.keys), *OTHERS, *OFTEN * 3)

WORDS: Final = {"word": tuple("delete")}
LEADING: Final = {
    "trouble": ("space", "r", "q"),
    # On the list, where the word may stand still, to the answer that deletes.
    "ask": ("escape", "home", "slash", *["down"] * 3),
}
"""What leads on to a screen from the piece, or from the list."""


class Fickle(Store):
    """A store that takes nothing now and then."""

    refuses = False

    def append_all(
        self, piece_id: int, last: LastEntry, happened: Sequence[tuple[State, Event]]
    ) -> LastEntry:
        if self.refuses:
            raise CannotKeep("There is no room.")
        return super().append_all(piece_id, last, happened)


class Basket:
    """A shelf of small pieces; the file of every third one was edited since."""

    def __init__(self, store: Store, clock: Clock) -> None:
        self._store, self._clock = store, clock
        self._away: set[int] = set()
        self.seen = Counter[str]()
        self._plan = plan_of(
            model.Use(ABOUT, "wave", 3),
            row(6, (5, 4)),
            parts={"wave": (row(1, (2, 3)), knot("square knot", (1, 2, 3, 4)))},
        )

    def pieces(self) -> Sequence[Summary]:
        return list_pieces(self._store)

    def projects(self) -> Sequence[ProjectOffer]:
        return [
            ProjectOffer("strap", "Reed strap", "Three waves."),
            ProjectOffer("torn", "Torn page"),
        ]

    def fitting(self, key: str) -> FittingController:
        if key == "torn":
            raise CannotOpen("torn.yaml:3:1: this page is torn")
        return FittingController(self._plan)

    def away(self) -> Sequence[int]:
        return [piece.id for piece in self.pieces() if piece.id in self._away]

    def put_away(self, piece_id: int, *, away: bool) -> None:
        (self._away.add if away else self._away.discard)(piece_id)

    def rename(self, piece_id: int, name: str) -> str:
        return rename_piece(self._store, piece_id, name)

    def delete(self, piece_id: int) -> Callable[[], str]:
        if piece_id % 4 == 0:
            raise CannotOpen(f"The hook of {piece_id} is stuck.")
        bring = delete_piece(self._store, piece_id)
        self.seen["deleted"] += 1

        def back() -> str:
            self.seen["brought back"] += 1
            return bring()

        return back

    def again(self, piece_id: int) -> OnBench:
        return self.begin(f"strap {piece_id}")

    def begin(self, key: str, wish: Wish | None = None, *, plan: Plan | None = None) -> OnBench:
        del wish, plan
        if len(self.pieces()) >= MOST_PIECES:
            raise CannotOpen("There is no hook left.")
        number = start_piece(
            self._store, self._clock, title=key, project_text="", source=key,
            total=self._plan.total,
        )  # fmt: skip
        return self.open(number)

    def begin_freehand(self, record: Recording) -> OnBench:
        raise CannotOpen(f"There is no hook left for {len(record.base)} letters.")

    def standing(self, piece_id: int) -> Standing:
        if piece_id % 5 == 0:
            raise CannotOpen(f"The page of {piece_id} is torn.")
        return Standing(self._plan, look(self._store, piece_id).done, "strap")

    def sitting(self, piece_id: int) -> Sitting:
        knots = [count.knot for count in self._plan.counts]
        return Sitting(self._store, self._clock, piece_id, knots)

    def open(self, piece_id: int) -> OnBench:
        sitting = self.sitting(piece_id)
        opened = OnBench(self._plan, sitting, sitting.state.touched_ms)
        if piece_id % 3:
            return opened
        change = ProjectChange(
            "", self._plan, ("One row more.",), same=True, place=sitting.state.done
        )
        return replace(opened, edited=Edited(change, lambda: opened, lambda: None))


def key(name: str) -> events.Key:
    """Return a key as the terminal's reader does."""
    return events.Key(name, CHARACTERS.get(name, name if len(name) == 1 else None))


def mouse(rng: random.Random, size: Size) -> list[events.Event]:
    """Return a tap or a turn of the wheel somewhere, as the terminal's reader does."""
    x, y = rng.randrange(size.width), rng.randrange(size.height)
    wheel: list[type[events.MouseEvent]] = [events.MouseScrollDown, events.MouseScrollUp]
    kinds = rng.choice(([events.MouseDown, events.MouseUp], [rng.choice(wheel)]))
    return [kind(None, x, y, 0, 0, 1, shift=False, meta=False, ctrl=False) for kind in kinds]


def sent(rng: random.Random, names: Sequence[str], size: Size) -> list[events.Event]:
    """Return what keys send; a few are no keys."""
    found: list[events.Event] = []
    for name in names:
        if rng.random() >= OTHER:
            found.append(key(name))
        elif rng.random() < 0.7:
            found += mouse(rng, size)
        else:
            found.append(events.Paste(rng.choice(PASTED)))
    return found


class Noting(BenchApp):
    """A bench that keeps what was handed on."""

    def __init__(self, **looks: Any) -> None:
        super().__init__(**looks)
        self.had_turn: list[events.Event] = []

    def has_turn(self, event: events.Event) -> None:
        super().has_turn(event)
        if not isinstance(event, events.MouseMove):
            self.had_turn.append(event)


async def at_rest(app: BenchApp) -> None:
    """Wait until all that was pressed is done with, and nothing is on its way in between."""
    quiet = 0
    while app.is_running and quiet < QUIET:
        await asyncio.sleep(0)
        quiet = quiet + 1 if app._typed._waiting.empty() and app._typed._settled() else 0


def burst(app: BenchApp, rng: random.Random) -> list[str]:
    """Return one to four keys; on the list, which is left with one key, mostly such as open.

    Where it is asked what is to become of a piece, now and then one of the answers is given whole.
    """
    if isinstance(app.screen, AskScreen) and rng.random() < 0.3:
        return ["down"] * rng.randint(0, 4) + rng.choice(([], [*"delete"])) + ["enter"]
    at_list = isinstance(app.screen, ListScreen) and rng.random() < 0.9
    return rng.choices(
        ("enter", "down", "space", "slash") if at_list else KEYS, k=rng.randint(1, 4)
    )


async def press_some(
    store: Fickle, rng: random.Random, keys: int, seen: Counter[str], sizes: Sequence[Columns]
) -> int:
    """Press at most so many keys, at times at another size; what goes wrong is raised."""
    clock = Clock()
    shelf: Shelf = Basket(store, clock)
    app = Noting(shelf=shelf, clock=clock)
    all_sent: list[events.Event] = []
    pressed = 0
    store.refuses = False
    async with app.run_test(size=sizes[0]) as pilot:
        while pressed < keys and app.is_running and not app._exit:
            clock.ms += rng.choice((20, 350, 2000))
            store.refuses ^= rng.random() < 0.02
            names = burst(app, rng)
            pressed += len(names)
            for event in sent(rng, names, app.size):
                all_sent.append(event)
                app.post_message(event)
            if len(sizes) > 1 and rng.random() < OTHER:
                await pilot.resize_terminal(*rng.choice(sizes))
            for _ in range(rng.randint(0, 5)):
                await asyncio.sleep(0)
            if rng.random() < 0.8:
                await at_rest(app)
                assert app._exit or len(app.screen_stack) > 1, f"a blank screen: {names}"
                assert app._exit or app.had_turn == all_sent, "not each in its turn"
                seen[type(app.screen).__name__] += 1
    return pressed


def press(folder: Path, keys: int, seed: int, *sizes: Columns) -> Counter[str]:
    """Press so many keys; give how often each screen was seen, and the keys as `keys`."""
    rng, seen = random.Random(seed), Counter[str]()  # noqa: S311 - keys, no secrets
    with Fickle(folder / "coach.db") as store:
        while seen["keys"] < keys:
            most = min(A_SITTING, keys - seen["keys"])
            seen["keys"] += asyncio.run(press_some(store, rng, most, seen, sizes))
            seen["sittings"] += 1
    return seen


async def turn_to(app: BenchApp, store: Fickle, basket: Basket, screen: str) -> None:
    """Go back to the list and from there to another screen, on a piece of one count."""
    store.refuses = False
    while not isinstance(app.screen, ListScreen):
        app.screen.dismiss()
        await at_rest(app)
    piece_id = 3 if screen == "changed" else 1
    if screen == "ask":
        piece_id = max(piece.id for piece in basket.pieces())
    sitting = basket.sitting(piece_id)
    sitting.take_back(sitting.state.done)
    sitting.count()
    if screen == "wish":
        app.screen.post_message(ChosenProject("strap"))
    elif screen not in ("list", "ask"):
        app.screen.post_message(ChosenPiece(piece_id))
    await at_rest(app)
    for name in LEADING.get(screen, ()):
        app.post_message(key(name))
        await at_rest(app)
        store.refuses = screen == "trouble"
    assert type(app.screen).__name__ == f"{screen.capitalize()}Screen"


async def press_some_pairs(
    store: Fickle, basket: Basket, clock: Clock, screen: str, pairs: list[tuple[str, str]]
) -> None:
    """Press pairs of keys until one of them ends the app."""
    app = BenchApp(shelf=basket, clock=clock)
    async with app.run_test(size=(40, 12)):
        await at_rest(app)
        while pairs and not app._exit:
            await turn_to(app, store, basket, screen)
            pair = pairs.pop()
            for name in itertools.chain.from_iterable(WORDS.get(one, (one,)) for one in pair):
                app.post_message(key(name))
            await at_rest(app)
            assert app._exit or len(app.screen_stack) > 1, f"a blank screen: {pair}"


def press_pairs(folder: Path, screen: str, pairs: list[tuple[str, str]]) -> Counter[str]:
    """Press each pair of keys in one instant on a screen that is not the work's.

    Give how many pieces were deleted, and brought back.
    """
    pairs = [*pairs]
    with Fickle(folder / "coach.db") as store:
        clock = Clock()
        basket = Basket(store, clock)
        for _ in range(3):
            basket.begin("strap")
        while pairs:
            asyncio.run(press_some_pairs(store, basket, clock, screen, pairs))
    return basket.seen


def main(keys: int, seed: int, size: str) -> None:
    begun_s = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        os.environ["HOME"] = os.environ["TMPDIR"] = folder
        width, height = map(int, size.split("x"))
        seen = press(Path(folder), keys, seed, (width, height), *SIZES)
    sys.stdout.write(f"{dict(seen)}, {time.monotonic() - begun_s:.0f} s\n")


if __name__ == "__main__":
    given = dict(enumerate(sys.argv))
    main(int(given[1]), int(given.get(2, "1")), given.get(3, "80x24"))
