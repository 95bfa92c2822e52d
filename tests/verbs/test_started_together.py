"""`coach knot` called twice in the same instant: real processes on one project."""

from pathlib import Path

import pytest
from forks import Piped

from coach.piece import Store, look


def at_once(home: Path, *calls: tuple[str, ...]) -> list[Piped]:
    """Let processes off at one instant, each with options of its own."""
    seen = {"COACH_HOME": str(home)}
    begun = [
        Piped(
            "forked_coach", "run_when_bid", ("knot", "reed-keyring", "--plain", *more),
            cwd=home, environment=seen,
        )
        for more in calls
    ]  # fmt: skip
    for one in begun:
        one.stdin.write("\n")
        one.stdin.flush()
    return begun


def kept(home: Path) -> list[tuple[str, int]]:
    with Store(home / "data" / "coach.db") as store:
        return sorted((piece.name, look(store, piece.id).done) for piece in store.pieces())


@pytest.mark.parametrize("time", range(2))
def test_two_calls_at_once_work_on_one_piece(tmp_path: Path, time: int) -> None:
    """Both count once on the piece that one of them has begun, or count nothing."""
    called_at_once(tmp_path, time)


def called_at_once(tmp_path: Path, time: int) -> None:
    """Call two at once that count once or not, by turns, and look at what is kept."""
    both = at_once(tmp_path, (), ())
    ended = [one.communicate("\n" * (time % 2)) for one in both]
    assert [(one.returncode, told[1]) for one, told in zip(both, ended, strict=True)] == [
        (0, "")
    ] * 2
    assert kept(tmp_path) == [("Reed keyring", 2 * (time % 2))]


def test_who_asks_for_another_piece_begins_one_at_the_same_instant(tmp_path: Path) -> None:
    """Of four calls two ask: one by a name, one by --again."""
    for one in at_once(tmp_path, (), ("--name", "Ebb"), (), ("--again",)):
        assert one.communicate("")[1] == ""
        assert one.returncode == 0
    names = [name for name, _ in kept(tmp_path)]
    assert names[0] == "Ebb"
    assert names[1:] in (["Reed keyring"], ["Reed keyring", "Reed keyring 2"])
