"""The summary of a piece for lists, and the mark of the last entry seen."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any, Final

KNOTTED: Final = "knotted:"
"""Before the path in the source of a piece begun without a pattern."""


@dataclass(frozen=True, slots=True)
class Summary:
    """One piece in a list: its progress and when it was last touched (UTC epoch ms).

    `id` is its number in this database; `uid` is random and the piece's own wherever it goes.
    """

    id: int
    name: str
    title: str
    source: str
    done: int
    total: int
    worked_ms: int
    touched_ms: int
    begun_ms: int = 0
    events: int = 0
    uid: str = ""

    @property
    def finished(self) -> bool:
        """Whether all counts have been made."""
        return self.done >= self.total

    @property
    def open_ended(self) -> bool:
        """Whether its number of counts is unknown: it was begun without a pattern."""
        return self.source.startswith(KNOTTED) and not self.finished

    @property
    def touched(self) -> str:
        """When it was last touched, in UTC in ISO 8601, to the second."""
        at = datetime(1970, 1, 1, tzinfo=UTC) + timedelta(milliseconds=self.touched_ms)
        return f"{at:%Y-%m-%dT%H:%M:%SZ}"

    def to_data(self) -> dict[str, Any]:
        """Return it as JSON for other programs; `worked_s` is in whole seconds."""
        return {
            "name": self.name,
            "title": self.title,
            "done": self.done,
            "total": self.total,
            "worked_s": self.worked_ms // 1000,
            "touched": self.touched,
        }


@dataclass(frozen=True, slots=True)
class LastEntry:
    """The last known entry of a piece: its place and checksum, and the piece's id."""

    uid: str
    seq: int
    sum: int
