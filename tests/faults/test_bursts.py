"""Keys that come faster than screens open and close: each meets the screen that the last one left.

All pairs are in bursts_at_length.py; the large numbers are run by hand with the same code.

Needs POSIX: pseudo-terminals.
"""

import gc
import sqlite3
import tempfile
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import product
from pathlib import Path

import pytest
from bursts import ESCAPE, KEYS, Walk, after, some_pairs
from random_keys import press, press_pairs
from real_terminal import COACH, RealTerminal, shows

from coach.piece import Store, list_pieces

APART_S = 0.21
NEAR = "bounce: 50\n"  # so that presses are apart with time to spare where the machine is busy
RUNS = ((250, (20, 6)), (250, (1, 9)), (200, (80, 24)))


def kept(home: Path) -> int:
    with Store(home / "data" / "coach.db") as store:
        return list_pieces(store)[0].done


@contextmanager
def locked(home: Path) -> Iterator[None]:
    """Hold the database as another program may that writes to it for long."""
    other = sqlite3.connect(home / "data" / "coach.db", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    try:
        yield
    finally:
        other.execute("ROLLBACK")
        other.close()


@pytest.fixture
def walk(tmp_path: Path) -> Iterator[Walk]:
    walk = Walk(tmp_path / "home")
    yield walk
    walk.close()


@pytest.fixture
def alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a folder that is the home, and all there is to write to in trouble.

    What the tests themselves hold in memory is not gone through each time that a piece is opened.
    """
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    monkeypatch.setattr(gc, "collect", lambda: 0)
    return tmp_path


@pytest.mark.parametrize("screen", KEYS)
def test_two_keys_of_one_write_each_meet_the_screen_that_is_current(
    walk: Walk, screen: str
) -> None:
    for burst in some_pairs(KEYS[screen]):
        if after(screen, burst) != "gone":
            walk.burst(screen, burst)
    assert walk.bursts > len(KEYS[screen])


def test_longer_bursts_do_too(walk: Walk) -> None:
    for keys in ("cqcq", "kqkq", "aqaq", "?  ", "c c ", "bb b", "ccc", "nwnw", "ggg", "agg "):
        walk.burst("work", keys)
        walk.burst("work", ("c", ESCAPE))
    for keys in ("qq", "?qqq"):
        walk.burst("work", keys)


def test_the_page_that_tells_what_was_measured_closes_once(tmp_path: Path) -> None:
    """It opens by itself, once what was written is kept; the keys behind it wait for that."""
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path)) as terminal:
        terminal.count(1, 3)
        for done, closing in enumerate(("q", "c", ESCAPE), start=4):
            terminal.press(f"m1 cm\r{closing} ")
            terminal.until(lambda text, done=done: shows(done, 27)(text) and "relaxed" not in text)
        terminal.rest()
        assert "relaxed" not in terminal.text


@pytest.mark.parametrize("spaces", [2, 3, 4])
def test_a_piece_is_taken_up_by_a_pedal_that_chatters_and_nothing_is_counted(
    tmp_path: Path, spaces: int
) -> None:
    home = str(tmp_path)
    with RealTerminal("knot", "reed-keyring", home=home, settings="") as terminal:
        terminal.count(1, 2)
        terminal.press("q")
        assert terminal.end() == 0
    with RealTerminal("knot", "reed-keyring", home=home, settings="") as terminal:
        terminal.until("hang like this")
        terminal.press(" " * spaces)
        terminal.until("Too close together")
        terminal.count(3, 4)
        terminal.press("q")
        assert terminal.end() == 0
    assert kept(tmp_path) == 4


def test_a_count_in_one_write_with_the_key_that_closes_a_page_is_taken(tmp_path: Path) -> None:
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path), settings="") as terminal:
        terminal.until("0 of 27")
        for done, burst in enumerate(("cq ", "bb ", "kkq ", "gg "), start=1):
            terminal.rest()
            terminal.press(burst)
            terminal.until(shows(done, 27))
    assert kept(tmp_path) == 4


def test_keys_typed_before_the_bench_is_there_wait_for_it(tmp_path: Path) -> None:
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path), program=COACH) as terminal:
        terminal.until(lambda _: "\x1b[?1049h" in terminal.written)
        terminal.press("c")
        terminal.until("Cord left on every strand")


def test_presses_apart_that_wait_behind_a_busy_screen_are_all_counted(tmp_path: Path) -> None:
    """Another program holds the database for two seconds and more; ten presses in the meantime."""
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path), settings=NEAR) as terminal:
        terminal.count(1, 1)
        terminal.rest()
        with locked(tmp_path):
            for _ in range(10):
                terminal.press(" ")
                terminal.read_for(APART_S)
        terminal.until(shows(11, 27))
        assert "Too close" not in terminal.text
        terminal.press("q")
        assert terminal.end() == 0
    assert kept(tmp_path) == 11


def test_pages_turned_while_the_database_is_locked_end_nothing(tmp_path: Path) -> None:
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path), settings=NEAR) as terminal:
        terminal.count(1, 1)
        with locked(tmp_path):
            for pressed in " cqcqkqaq":
                terminal.press(pressed)
                terminal.read_for(APART_S)
        terminal.count(3, 4)
        terminal.press("q")
        assert terminal.end() == 0
    assert kept(tmp_path) == 4


def test_random_keys_leave_the_bench_standing(alone: Path) -> None:
    """A few, on a small screen and a usual one; more in random_keys_at_length.py."""
    seen = Counter[str]()
    for seed, (keys, size) in enumerate(RUNS):
        seen += press(alone, keys, seed, size)
    assert seen["keys"] >= sum(keys for keys, _ in RUNS)
    assert len(seen) > len(KEYS)


AROUND = {
    "list": ("enter", "down", "q"),
    "wish": ("enter", "plus", "f", "escape"),
    "resume": ("space", "backspace", "g", "q"),
    "changed": ("t", "s", "escape"),
    "trouble": ("t", "w", "l", "escape"),
    "ask": ("escape", "down", "enter", "word"),
}


@pytest.mark.parametrize("screen", AROUND)
def test_two_keys_on_the_screens_around_the_work_leave_a_screen_that_answers(
    alone: Path, screen: str
) -> None:
    keys = AROUND[screen]
    pairs = product(keys, repeat=2) if screen == "ask" else some_pairs(keys)
    seen = press_pairs(alone, screen, [*pairs])
    assert screen != "ask" or (seen["deleted"] and seen["brought back"])
