"""The pieces that the maker has put away, hidden from the list."""

from pathlib import Path
from typing import Final

from coach.settings.small_file import SmallFile

FILE: Final = "put-away.json"


class PutAwayPieces:
    """Remembers pieces that were put away, by their permanent ids."""

    def __init__(self, folder: Path | None = None) -> None:
        """Set the folder of the file; None keeps them in memory only."""
        self._file = SmallFile(folder / FILE if folder else None)
        kept = self._file.read().get("pieces")
        self.uids = frozenset(map(str, kept) if isinstance(kept, list) else ())

    def put(self, uid: str, *, away: bool) -> None:
        """Put a piece away, or take it out again."""
        self.uids = self.uids | {uid} if away else self.uids - {uid}
        self._file.change({"pieces": sorted(self.uids)})
