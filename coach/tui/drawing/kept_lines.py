"""Lines kept from one picture to the next, as far as what they are made of is the same."""

from collections.abc import Callable, Hashable
from typing import Any, TypeVar

T = TypeVar("T")


class KeptLines:
    """Keeps what was made of lines from one picture to the next, and nothing of older ones."""

    def __init__(self) -> None:
        self._before: dict[object, tuple[object, Any]] = {}
        self._now: dict[object, tuple[object, Any]] = {}

    def kept(self, line: object, how: object, make: Callable[[], T]) -> T:
        """Return what is made of a line in some way; make it unless it was at the last picture.

        Args:
            line: The line, known by being the same object.
            how: What else the result hangs on, compared by its value: a width, say.
            make: Makes it.
        """
        key = id(line), how
        found = self._before.get(key)  # it holds the line, so that no other has its number
        if found is None:
            found = line, make()
        self._now[key] = found
        made: T = found[1]
        return made

    def turn(self) -> None:
        """Begin another picture."""
        self._before, self._now = self._now, {}


class LineCache:
    """Keeps finished lines from key to key, each until it is made of something else.

    A key changes few of some forty lines, and finishing them all takes as long as to draw them.
    """

    def __init__(self) -> None:
        self._kept: dict[Hashable, tuple[object, Any]] = {}

    def kept(self, name: Hashable, of: object, make: Callable[[], T]) -> T:
        """Return the line of this name, or lines; make them if made of something else than `of`.

        Args:
            name: What the lines are, in words.
            of: All that they depend on; they are made anew where it is not equal.
            make: Makes them.
        """
        kept = self._kept.get(name)
        if kept is None or kept[0] != of:
            kept = self._kept[name] = of, make()
        made: T = kept[1]
        return made
