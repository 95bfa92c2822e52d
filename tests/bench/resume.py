"""Prints how fast a long piece is opened, how large it is, and what one more count costs.

Run: python tests/bench/resume.py [COUNTS] [RUNS]
Each figure is held against one measured in the same run, both sides in turn: the opening against
SQLite reading the same rows into tuples, as it was left and with as many entries as there can be
since it was last kept how the piece stood; a count in the long piece against one in a short piece.
"""

import random
import sqlite3
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from statistics import median
from time import perf_counter, process_time

sys.path.insert(0, str(Path(__file__).parents[2]))

from coach.piece import Sitting, Store, look
from coach.piece.events import Begun, Counted, Event, Left, Measured, Opened, TakenBack
from coach.piece.folding import fold
from coach.piece.state import State
from coach.piece.storage.store import FOLDED_EVERY

ROOT = Path(__file__).parents[2]
KNOTS = ("clove hitch", "square knot", "reverse clove hitch", "half knot")
PACES_S = (7.0, 9.5, 7.5, 4.0)
RUN = 12  # ties of one knot before the next one comes
SITTING = 400  # counts in a sitting
ROOM = 10_000  # counts that a piece has left
BATCH = 500  # events stored in one transaction while the piece is made


class BenchClock:
    """Both clocks, in ms; they go on when they are told to."""

    def __init__(self) -> None:
        self.ms = 1_900_000_000_000

    def now_ms(self) -> int:
        """Return UTC."""
        return self.ms

    def tick_ms(self) -> int:
        """Return the monotonic reading."""
        return self.ms - 1_899_990_000_000


def happenings(counts: int, clock: BenchClock) -> Iterator[Callable[[State], Event]]:
    """Yield what happens to a piece of so many counts, each told from how the piece stands."""
    rng = random.Random(7)  # noqa: S311 - times, no secrets
    back, measure = max(1, counts // 2000), max(1, counts // 500)

    def at(state: State) -> dict[str, int]:
        return {"at_ms": clock.now_ms(), "tick_ms": clock.tick_ms(), "sitting": state.sitting}

    def counted(state: State) -> Event:
        knot = KNOTS[state.done // RUN % len(KNOTS)]
        return Counted(**at(state), count=1, from_done=state.done, knot=knot)

    for n in range(counts):
        if n % SITTING == 0:
            clock.ms += 40_000_000
            yield lambda state: Opened(**{**at(state), "sitting": state.seq + 1})
        clock.ms += round(1000 * PACES_S[n // RUN % len(KNOTS)] * rng.lognormvariate(0, 0.4))
        yield counted
        if n % back == back - 1:
            clock.ms += 5000
            yield lambda state: TakenBack(**at(state), count=1, from_done=state.done)
        if n % measure == measure - 1:
            yield lambda state: Measured(
                **at(state), at_done=state.done, total=counts + ROOM, strand="reed.1a",
                length_mm=rng.uniform(100, 900),
            )  # fmt: skip
        if n % SITTING == SITTING - 1:
            yield lambda state: Left(**at(state))


def made(store: Store, clock: BenchClock, name: str, counts: int) -> int:
    """Make a piece of so many counts and give its number."""
    text = (ROOT / "projects" / "tide-band.yaml").read_text(encoding="utf-8")
    event: Event = Begun(
        at_ms=clock.now_ms(), tick_ms=clock.tick_ms(), sitting=0, title=name, project_text=text,
        source=name, total=counts + ROOM,
    )  # fmt: skip
    state = fold(State(), event)
    with store.atomic():
        piece_id = store.begin(name, state, event)
    batch: list[tuple[State, Event]] = []
    for happening in happenings(counts, clock):
        event = happening(state)
        state = fold(state, event)
        batch.append((state, event))
        if len(batch) == BATCH:
            with store.atomic():
                store.extend(piece_id, batch)
            batch = []
    with store.atomic():
        store.extend(piece_id, batch)
    return piece_id


def in_turn(runs: int, *sides: Callable[[], object]) -> list[tuple[float, float]]:
    """Return the medians of wall and processor time of each side, in ms, run in turn."""
    took: list[list[tuple[float, float]]] = [[] for _ in sides]
    for _ in range(runs):
        for side, times in zip(sides, took, strict=True):
            wall, own = perf_counter(), process_time()
            side()
            times.append(((perf_counter() - wall) * 1000, (process_time() - own) * 1000))
    return [(median(w for w, _ in times), median(o for _, o in times)) for times in took]


def tell(what: str, one: tuple[float, float], beside: str, other: tuple[float, float]) -> None:
    """Print two figures and how often the second goes into the first."""
    print(
        f"{what}: {one[0]:.2f} ms ({one[1]:.2f} of the processor); {beside}: {other[0]:.2f} ms"
        f" ({other[1]:.2f}); {one[0] / other[0]:.2f} x ({one[1] / other[1]:.2f} x)"
    )


def opening(path: Path, piece_id: int, runs: int) -> None:
    """Print what opening the store and reading the piece costs."""

    def coach() -> None:
        with Store(path) as store:
            look(store, piece_id)

    def bare() -> None:
        with closing(sqlite3.connect(path)) as raw:
            raw.execute("SELECT * FROM event").fetchall()

    tell("opening", *_swap(in_turn(runs, bare, coach)))


def reading(what: str, path: Path, piece_id: int, runs: int) -> None:
    """Print what reading the piece costs when the file is open already."""
    with Store(path) as store, closing(sqlite3.connect(path)) as raw:
        both = in_turn(
            runs,
            lambda: raw.execute("SELECT * FROM event").fetchall(),
            lambda: look(store, piece_id),
        )
    tell(what, *_swap(both))


def _swap(both: list[tuple[float, float]]) -> tuple[tuple[float, float], str, tuple[float, float]]:
    return both[1], "SQLite's rows", both[0]


def with_most_to_fold(path: Path, piece_id: int, clock: BenchClock) -> None:
    """Count until the next count would keep anew how the piece stands."""
    with Store(path) as store:
        sitting = Sitting(store, clock, piece_id, KNOTS * 100_000)
        while sitting.state.seq - store.folded(piece_id).seq < FOLDED_EVERY - 1:
            clock.ms += 7000
            sitting.count()


def counting(path: Path, pieces: tuple[int, int], clock: BenchClock, runs: int) -> None:
    """Print what one more count costs in the long piece and in the short one."""
    knots = [knot for knot in KNOTS for _ in range(RUN)] * 10_000

    with Store(path) as store:
        long, short = (Sitting(store, clock, piece_id, knots) for piece_id in pieces)

        def count(sitting: Sitting) -> None:
            clock.ms += 7000
            sitting.count()

        both = in_turn(runs, lambda: count(short), lambda: count(long))
    tell("a count in it", both[1], "in a short piece", both[0])


def main() -> None:
    """Make the pieces in a folder of their own and print the figures."""
    counts = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    runs = int(sys.argv[2]) if len(sys.argv) > 2 else 20
    clock = BenchClock()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "coach.db"
        with Store(path) as store:
            piece_id = made(store, clock, "long", counts)
            state = look(store, piece_id)
        size = path.stat().st_size
        print(f"{state.seq:,} events, {counts:,} counts: {size:,} bytes, {size / counts:.1f} each")
        opening(path, piece_id, runs)
        reading("reading", path, piece_id, runs)
        with_most_to_fold(path, piece_id, clock)
        reading("reading with most to fold", path, piece_id, runs)
        with Store(path) as store:
            short = made(store, clock, "short", 100)
        counting(path, (piece_id, short), clock, max(runs, 20) * 20)


if __name__ == "__main__":
    main()
