"""Caches of drawn lines, kept from one picture to the next while their inputs are the same."""

from collections.abc import Callable, Hashable
from typing import Any, TypeVar

T = TypeVar("T")


class KeptLines:
    """Caches what was made of lines from one picture to the next, and drops older entries."""

    def __init__(self) -> None:
        self._before: dict[object, tuple[object, Any]] = {}
        self._now: dict[object, tuple[object, Any]] = {}

    def kept(self, line: object, how: object, make: Callable[[], T]) -> T:
        """Return the value made from a line, cached from the last picture.

        Args:
            line: The line, compared by identity.
            how: What else the value depends on, compared by value: a width, say.
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
    """Caches finished lines from key to key, each until its inputs change.

    A key changes few of some forty lines, and finishing all of them takes as long as drawing them.
    """

    def __init__(self) -> None:
        self._kept: dict[Hashable, tuple[object, Any]] = {}

    def kept(self, name: Hashable, of: object, make: Callable[[], T]) -> T:
        """Return the line or lines of a name, made again if `of` has changed.

        Args:
            name: The name of the lines.
            of: All that they depend on, compared by value.
            make: Makes them.
        """
        kept = self._kept.get(name)
        if kept is None or kept[0] != of:
            kept = self._kept[name] = of, make()
        made: T = kept[1]
        return made
