"""`coach knot` called twice in the same instant: real processes on one project."""

import sys
from pathlib import Path

import pytest
from processes import Started

from coach.piece import Store, look

ROOT = Path(__file__).parents[2]


def knot(home: Path, *more: str) -> Started:
    command = [sys.executable, "-m", "coach", "knot", "reed-keyring", "--plain", *more]
    return Started(command, cwd=home, environment={"COACH_HOME": str(home)})


def kept(home: Path) -> list[tuple[str, int]]:
    with Store(home / "data" / "coach.db") as store:
        return sorted((piece.name, look(store, piece.id).done) for piece in store.pieces())


@pytest.mark.parametrize("time", range(2))
def test_two_calls_at_once_work_on_one_piece(tmp_path: Path, time: int) -> None:
    """Both count once on the piece that one of them has begun, or count nothing."""
    called_at_once(tmp_path, time)


def called_at_once(tmp_path: Path, time: int) -> None:
    """Call two at once that count once or not, by turns, and look at what is kept."""
    both = [knot(tmp_path) for _ in range(2)]
    ended = [one.communicate("\n" * (time % 2)) for one in both]
    assert [(one.returncode, told[1]) for one, told in zip(both, ended, strict=True)] == [
        (0, "")
    ] * 2
    assert kept(tmp_path) == [("Reed keyring", 2 * (time % 2))]


def test_who_asks_for_another_piece_begins_one_at_the_same_instant(tmp_path: Path) -> None:
    """Of four calls two ask: one by a name, one by --again."""
    calls = [knot(tmp_path, *more) for more in ([], ["--name", "Ebb"], [], ["--again"])]
    for one in calls:
        assert one.communicate("")[1] == ""
        assert one.returncode == 0
    names = [name for name, _ in kept(tmp_path)]
    assert names[0] == "Ebb"
    assert names[1:] in (["Reed keyring"], ["Reed keyring", "Reed keyring 2"])
