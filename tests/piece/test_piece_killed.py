"""Real processes: killed at any moment, or several at once on the same piece."""

import random
from pathlib import Path

from forks import Piped

from coach.piece import Clock, Store, look, start_piece
from coach.piece.events import Counted


def begun(database: Path, clock: Clock, total: int) -> int:
    with Store(database) as store:
        return start_piece(
            store, clock, title="Tide bracelet", project_text="coach: 1", source="x", total=total
        )


def child(database: Path, piece_id: int, manner: str) -> Piped:
    return Piped("counting_child", "main", [str(database), str(piece_id), manner])


def bid(child: Piped) -> None:
    child.stdin.write("\n")
    child.stdin.flush()


def test_killed_at_any_moment_every_shown_count_is_kept(database: Path, clock: Clock) -> None:
    """Eight times kill -9 in the midst of counting: all shown are there, and one more at most."""
    rng = random.Random(20)  # noqa: S311  # moments, no secrets
    piece_id = begun(database, clock, 100_000)
    kept = 0
    for _ in range(8):
        with child(database, piece_id, "unbidden") as counting:
            shown = [counting.stdout.readline() for _ in range(rng.randrange(40))]
            counting.kill()
            shown += counting.stdout.readlines()
        whole = [int(line) for line in shown if line.endswith("\n")]
        with Store(database) as store:
            done = look(store, piece_id).done
            assert store.piece(piece_id).done == done
        assert whole == list(range(kept + 1, kept + 1 + len(whole)))
        assert done - (kept + len(whole)) in (0, 1)
        kept = done
    assert kept > 60


def test_two_coaches_on_one_piece_lose_and_double_nothing(database: Path, clock: Clock) -> None:
    """Two processes count 100 each, 100 times at once; every number is shown exactly once."""
    piece_id = begun(database, clock, 1000)
    both = [child(database, piece_id, "bidden") for _ in range(2)]
    shown = []
    for _ in range(100):
        for one in both:
            bid(one)
        shown += [int(one.stdout.readline()) for one in both]
    assert [one.communicate()[0] for one in both] == ["", ""]
    assert [one.returncode for one in both] == [0, 0]
    assert sorted(shown) == list(range(1, 201))
    with Store(database) as store:
        counted = [e for e in store.events_after(piece_id) if isinstance(e, Counted)]
        assert [e.from_done for e in counted] == list(range(200))
        assert look(store, piece_id).done == store.piece(piece_id).done == 200


def test_coaches_started_together_make_one_database(database: Path) -> None:
    """Six processes open a database that is not there yet; none fails."""
    openers = [Piped("counting_child", "open_when_bid", [str(database)]) for _ in range(6)]
    assert [one.stdout.readline() for one in openers] == ["ready\n"] * 6
    for one in openers:
        bid(one)
    assert [one.communicate()[1] for one in openers] == [""] * 6
    with Store(database) as store:
        assert store.pieces() == []
