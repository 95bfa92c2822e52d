"""A disk that is full from the start: the piece under way goes on, nothing is left behind.

The system's own limit on the size of files stands for the disk, in a program of its own.

Needs POSIX: limits of the system.
"""

from pathlib import Path

from hand_clock import HandClock
from processes import run_python

from coach.piece import Sitting, Store, look, start_piece

FULL = """
import resource, signal, sys
from pathlib import Path
sys.path.insert(0, {tests!r})
from hand_clock import HandClock
from coach.piece import CannotKeep, Sitting, Store
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
def room(most): resource.setrlimit(resource.RLIMIT_FSIZE, (most, resource.RLIM_INFINITY))
room(0)
"""
COUNTS_ON = """
with Store(Path({path!r})) as store:
    clock = HandClock()
    sitting = Sitting(store, clock, 1, [""] * 9)
    sitting.hurry()
    clock.go_on(2)
    sitting.count(2)
    print(sitting.state.done, sitting.waiting, sitting.trouble, [p.done for p in store.pieces()])
    clock.go_on(2)
    sitting.refresh()
    print(sitting.waiting)
    room(resource.RLIM_INFINITY)
    clock.go_on(2)
    sitting.refresh()
    sitting.keep()
    print(sitting.state.done, sitting.waiting, sitting.trouble)
"""
BEGINS = """
try:
    Store(Path({path!r}))
except CannotKeep as error:
    print(error)
"""


def on_a_full_disk(code: str, path: Path) -> list[str]:
    whole = (FULL + code).format(path=str(path), tests=str(Path(__file__).parent))
    done = run_python("-c", whole)
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


def test_a_piece_goes_on_in_memory_and_is_saved_once_there_is_room(
    database: Path, clock: HandClock
) -> None:
    with Store(database) as store:
        number = start_piece(store, clock, title="Ebb", project_text="", source="x", total=9)
        Sitting(store, clock, number, [""] * 9).count(3)
    counted, later, saved = on_a_full_disk(COUNTS_ON, database)
    assert counted == f"5 2 The disk is full: nothing can be kept in {database}. Make room. [3]"
    assert later == "2"
    assert saved == "5 0 None"
    with Store(database) as store:
        assert look(store, number).done == 5


def test_nothing_is_left_of_what_could_not_be_made(database: Path) -> None:
    (told,) = on_a_full_disk(BEGINS, database)
    assert "Nothing can be kept" in told or "The disk is full" in told
    assert not list(database.parent.iterdir())
