"""Two coaches on one piece, each in a real terminal: what one counts, the other shows.

Needs POSIX: pseudo-terminals.
"""

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from real_terminal import RealTerminal, shows
from test_in_a_terminal import kept

TOGETHER_S = 1.0  # within which the other screen must have followed
FOLLOWED_S = 0.6  # in which one that rests looks at least once at what the other did


def opened(home: Path, columns: int, rows: int) -> RealTerminal:
    return RealTerminal("knot", "tide-band", home=str(home), columns=columns, rows=rows)


@contextmanager
def both(home: Path) -> Iterator[tuple[RealTerminal, RealTerminal]]:
    """Open the piece on a laptop, then on a wider tablet."""
    with opened(home, 80, 24) as laptop:
        laptop.until("for the cutting list")
        with opened(home, 100, 30) as tablet:
            tablet.until("for the cutting list")
            yield laptop, tablet


def until_one_of(one: RealTerminal, other: RealTerminal, seen: Callable[[str], bool]) -> None:
    """Read on until one of two screens is as a function wants."""
    one.until(lambda text: seen(text) or other.read_at_once() or seen(other.text))


def seconds_until(terminal: RealTerminal, done: int) -> float:
    """Read the other screen until it says so many counts; give how long that took."""
    begun = time.monotonic()
    terminal.until(shows(done, 283))
    return time.monotonic() - begun


def test_a_count_on_one_screen_shows_on_the_other_within_a_second(tmp_path: Path) -> None:
    """Laptop and tablet by turns; the time includes what the test needs to read the screen."""
    with both(tmp_path) as (laptop, tablet):
        took = []
        for done in range(1, 9):
            here, there = (laptop, tablet) if done % 2 else (tablet, laptop)
            here.count(done, done, 283)
            took.append(seconds_until(there, done))
        assert max(took) < TOGETHER_S
        laptop.press("\x7f")
        laptop.until(shows(7, 283))
        assert seconds_until(tablet, 7) < TOGETHER_S
    assert kept(tmp_path) == [("Tide band", 7, 283)]


def test_neither_screen_loses_a_count_when_both_count_at_once(tmp_path: Path) -> None:
    with both(tmp_path) as (laptop, tablet):
        for done in range(2, 21, 2):
            laptop.press(" ")
            tablet.press(" ")
            until_one_of(laptop, tablet, shows(done, 283))  # the one whose count came second
        laptop.until(shows(20, 283))
        tablet.until(shows(20, 283))
        tablet.press("q")
        assert tablet.end() == 0
        laptop.read_for(FOLLOWED_S)
        assert "Clock stopped" not in laptop.text
        laptop.count(21, 21, 283)
        laptop.kill()
    assert kept(tmp_path) == [("Tide band", 21, 283)]


def test_ticks_notes_and_the_way_to_a_place_are_followed_too(tmp_path: Path) -> None:
    with both(tmp_path) as (laptop, tablet):
        laptop.press("b")
        laptop.until("0 of 14")
        for ticked in range(1, 4):
            laptop.press(" ")
            laptop.until(f"{ticked} of 14")
        tablet.until("3 of 14 made ready")
        tablet.press("b")
        tablet.until("3 of 14")
        laptop.press(" ")
        tablet.until("4 of 14")
        laptop.press("b")
        laptop.until(shows(0, 283))
        laptop.press("a")
        laptop.until("Looking ahead")
        for key in ("a", "a", "a", "g"):
            laptop.press(key)
        laptop.until("All made? g again")
        laptop.press("g")
        laptop.until(shows(4, 283))
        tablet.press("b")
        tablet.until(shows(4, 283))
        tablet.press("n")
        tablet.until("new note, here")
        tablet.press("pull tight\r")
        laptop.until("Noted at 1 of 3: pull tight")


def test_ticks_and_notes_outlive_the_coach_being_killed(tmp_path: Path) -> None:
    with opened(tmp_path, 80, 24) as terminal:
        terminal.until("for the cutting list")
        terminal.press("b")
        terminal.until("0 of 14")
        terminal.press(" ")
        terminal.until("1 of 14")
        terminal.press("b")
        terminal.until(shows(0, 283))
        terminal.press("n")
        terminal.until("new note, here")
        terminal.press("comb first\r")
        terminal.until("Noted: comb")
        terminal.kill()
    with opened(tmp_path, 80, 24) as terminal:
        terminal.until("1 of 14 made ready")
        terminal.count(1, 1, 283)
        terminal.kill()
    with opened(tmp_path, 80, 24) as terminal:
        terminal.until("hang like this?")
        terminal.press("\x7f")
        terminal.until(shows(0, 283))
        terminal.press(" ")
        terminal.until("Noted: comb")
    assert kept(tmp_path) == [("Tide band", 0, 283)]
