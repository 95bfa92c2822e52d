"""What was made of lines at the last picture, kept for those that are the very same objects.

From count to count most lines of a picture are. To ask whether they are equal would take as long
as to draw them.
"""

from collections.abc import Callable
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
