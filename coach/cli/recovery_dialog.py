"""Recovery of damaged pieces in dialogue with the maker; the damaged file is kept."""

import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Final, TypeAlias

from coach.piece import (
    CannotKeep,
    Damaged,
    NewerVersion,
    PieceError,
    Store,
    SystemClock,
    look,
)
from coach.piece.rescue.recovery import (
    Recovery,
    make_anew,
    recover,
    restore_snapshot,
    sound_snapshots,
)
from coach.piece.storage.snapshots import taken_ms
from coach.session.time_format import dated_moment, local_time
from coach.text import counted, one_line

Way: TypeAlias = tuple[str, str, Callable[[], Path]]
"""A way out: what it is called, what it gives in words, and doing it."""

_NOTHING: Final = Recovery((), 0)
_LEAVE: Final = "leave everything as it is"


def database_problem(database: Path) -> PieceError | None:
    """Return what is wrong with a database, or None; nothing in it is changed."""
    if not database.exists():
        return None
    try:
        with Store(database) as store:
            store.check()
            for piece in store.pieces():
                look(store, piece.id)
    except (Damaged, NewerVersion) as error:
        return error
    return None


def offer_recovery(database: Path) -> bool:
    """Say what can be recovered, ask what to do, and do it; return whether anything was done."""
    ways = recovery_options(database)
    print("Whatever you choose, the damaged file is kept under a dated name.")
    for number, (_, words, _) in enumerate(ways, 1):
        print(f"  {number}  {words}")
    print(f"  {len(ways) + 1}  {_LEAVE}")
    chosen = _answer(len(ways))
    if chosen is None:
        return False
    print(recover_by(ways, ways[chosen][0]))
    return True


def _answer(most: int) -> int | None:
    """Return the number that is typed, from 0; None to leave everything."""
    while True:
        sys.stdout.write(f"Which, 1 to {most + 1}? ")
        sys.stdout.flush()
        line = sys.stdin.readline()
        if not line or line.strip() in ("", str(most + 1)):
            return None
        if line.strip().isdecimal() and 1 <= int(line.strip()[:3]) <= most:
            return int(line) - 1


def recovery_options(database: Path) -> list[Way]:
    """Return the ways of recovery, the one that loses least first."""
    now_ms = SystemClock().now_ms()
    recovery = recover(database)
    ways: list[Way] = []
    if recovery.pieces or recovery.desk:
        words = f"take what can still be read: {_told(recovery)}"
        doing = partial(make_anew, database, recovery.pieces, now_ms, recovery.desk)
        ways.append(("recovered", words, doing))
    for path, number, done in sound_snapshots(database):
        counts = ", ".join(f"{one_line(name)} {made}" for name, made in done.most_common(4))
        words = f"go back to the copy of {_taken(path)}: "
        words += f"{counted(number, 'piece')} ({counts})"
        ways.append(("snapshot", words, partial(restore_snapshot, database, path, now_ms)))
    ways.append(("nothing", "start with no pieces",
                 lambda: make_anew(database, _NOTHING.pieces, now_ms)))  # fmt: skip
    return ways


def _taken(snapshot: Path) -> str:
    """Return when a snapshot was taken, in local time; a file of another name by its name."""
    try:
        return dated_moment(local_time(taken_ms(snapshot)))
    except ValueError:
        return one_line(snapshot.name)


def _told(recovery: Recovery) -> str:
    pieces = [
        f"{one_line(p.carried.name)} {p.state.done:,} of {p.state.total:,}"
        + (f" ({p.missing} entries missing)" if p.missing else "")
        for p in recovery.pieces
    ]
    if recovery.desk:
        pieces.append(f"the desk, of which {len(recovery.desk):,} entries are whole")
    torn = f"; {recovery.torn} more without a beginning" if recovery.torn else ""
    return ", ".join(pieces) + torn


def recover_by(ways: list[Way], take: str) -> str:
    """Carry out the first way of that name and return what was done."""
    for name, _, doing in ways:
        if name == take:
            aside = doing()
            return f"Done. The damaged file is kept as {one_line(str(aside))}."
    raise CannotKeep(f"There is no choice {take}.")
