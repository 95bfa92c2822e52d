"""Sends two and three keys in one write to every screen of the bench, in a real terminal.

What must come of them is told by a few rules, so that a key which met another screen than the one
that the key before it left is noticed. `python tests/faults/bursts.py 3` runs all triples by hand,
bursts_at_length.py all pairs; the tests run those in which every key comes first and comes second.

Needs POSIX: pseudo-terminals.
"""

import itertools
import sys
import tempfile
import time
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "tests"), str(ROOT / "tests" / "terminal")]

from real_terminal import RealTerminal  # noqa: E402 - found on the line above when run by hand

PROJECT: Final = "tide-band"
ESCAPE: Final = "\x1b[27u"  # as terminals send it where an escape may stand before another key
DOWN, UP, BACKSPACE = "\x1b[B", "\x1b[A", "\x7f"

OPENERS: Final = {
    "c": "page", "l": "page", "?": "page", "d": "page", "k": "how", "a": "ahead", "u": "ahead",
    "g": "hands", "b": "before", "n": "notes", "m": "measure", "o": "otherwise",
}  # fmt: skip
RULES: Final[Mapping[str, Mapping[str, str]]] = {
    "work": {**OPENERS, "q": "gone", ESCAPE: "gone"},
    "page": dict.fromkeys((ESCAPE, "q", BACKSPACE, "c", "l", "d", "?", " ", "\r"), "work"),
    "how": dict.fromkeys((ESCAPE, "q", BACKSPACE, "c", "l", "d", "?", " ", "\r"), "work"),
    "ahead": {"q": "work", ESCAPE: "work", "g": "asked"},
    "asked": {"q": "work", ESCAPE: "work", "g": "work", " ": "ahead"},
    "hands": {"q": "work", ESCAPE: "work", "g": "work", " ": "ahead"},
    "before": {"q": "work", ESCAPE: "work", "b": "work"},
    "notes": {ESCAPE: "work", "\r": "work"},
    "measure": {ESCAPE: "work"},
    "otherwise": {ESCAPE: "work"},
    "gone": {},
}
"""Which key leads from which screen to which other one; no other key leads anywhere."""
KEYS: Final[Mapping[str, tuple[str, ...]]] = {
    "work": (" ", "c", "k", "a", "b", "n", "m", "x"),
    "page": (" ", "q", "c", DOWN),
    "how": (" ", "k", "q"),
    "ahead": (" ", "g", "q", "\t"),
    "before": (" ", "b", "q", "\t"),
    "notes": ("w", "\r", DOWN, ESCAPE),
    "measure": ("5", "\r", DOWN, ESCAPE),
    "otherwise": ("5", "\r", DOWN, ESCAPE),
}
"""A key of each kind on each screen."""
SIGNS: Final = {
    "work": "one back  r rest", "page": "\n escape back", "how": "the other side",
    "ahead": "Looking", "asked": "Looking", "hands": "You are here", "before": "Cut and hang",
    "notes": "another spot", "measure": "Measured", "otherwise": "Something changed",
}  # fmt: skip


def after(screen: str, keys: Iterable[str]) -> str:
    """Return the screen that keys lead to from another."""
    for key in keys:
        screen = RULES[screen].get(key, "ahead" if screen == "asked" else screen)
    return screen


def shows(screen: str) -> Callable[[str], bool]:
    """Return a look at the terminal: whether it shows a screen, and nothing of another any more."""
    return lambda text: {sign for sign in SIGNS.values() if sign in text} == {SIGNS[screen]}


class Walk:
    """A bench on one piece, started anew whenever keys have left it."""

    def __init__(self, home: Path) -> None:
        self._home = home
        self._terminal: RealTerminal | None = None
        self.bursts = 0

    def close(self) -> None:
        if self._terminal:
            self._terminal.__exit__(None, None, None)
        self._terminal = None

    def burst(self, screen: str, keys: Iterable[str]) -> None:
        """Open a screen, send keys in one write, see what they led to and go back to the work."""
        terminal = self._terminal = self._terminal or self._started()
        for opener in [key for key, name in OPENERS.items() if name == screen][:1]:
            terminal.press(opener)
        terminal.until(shows(screen))
        terminal.press("".join(keys))
        self.bursts += 1
        there = after(screen, keys)
        if there == "gone":
            assert terminal.end() == 0, terminal.text
            self.close()
            return
        terminal.until(shows(there))
        if there != "work":
            terminal.press(ESCAPE)
            terminal.until(shows("work"))

    def _started(self) -> RealTerminal:
        terminal = RealTerminal("knot", PROJECT, home=str(self._home))
        shown = terminal.until(lambda text: SIGNS["work"] in text or "hang like this" in text)
        if SIGNS["work"] not in shown:
            terminal.press(" ")
            terminal.until(shows("work"))
        return terminal


def bursts(screen: str, length: int, *, leaving: bool = False) -> Iterator[tuple[str, ...]]:
    """Yield all bursts of so many keys; `leaving` takes in those that leave the piece."""
    keys = (*KEYS[screen], *(("q",) if leaving and screen == "work" else ()))
    for burst in itertools.product(keys, repeat=length):
        if leaving or after(screen, burst) != "gone":
            yield burst


def some_pairs(keys: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Yield each key twice, and before the one after it."""
    for first, then in zip(keys, (*keys[1:], keys[0]), strict=True):
        yield from ((first, first), (first, then))


def main(length: int) -> None:
    begun_s = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        walk = Walk(Path(folder) / "home")
        for screen in KEYS:
            for burst in bursts(screen, length, leaving=True):
                walk.burst(screen, burst)
            sys.stdout.write(f"{screen}: {walk.bursts}, {time.monotonic() - begun_s:.0f} s\n")
            sys.stdout.flush()
        walk.close()


if __name__ == "__main__":
    main(int(sys.argv[1]))
