"""Finished lines of a screen, kept from key to key."""

from collections.abc import Callable, Hashable
from typing import Any, TypeVar

T = TypeVar("T")


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
