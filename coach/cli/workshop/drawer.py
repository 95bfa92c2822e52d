"""The pieces that a maker has put away: they stay as they are, and out of sight on the list."""

from pathlib import Path
from typing import Final

from coach.settings.small_file import SmallFile

FILE: Final = "put-away.json"


class Drawer:
    """Remembers pieces that were put away, by the ids that they have wherever they go."""

    def __init__(self, folder: Path | None = None) -> None:
        """Remember them in a file of `folder`; None remembers them until the end only."""
        self._file = SmallFile(folder / FILE if folder else None)
        kept = self._file.read().get("pieces")
        self.uids = frozenset(map(str, kept) if isinstance(kept, list) else ())

    def put(self, uid: str, *, away: bool) -> None:
        """Put a piece away, or take it out again."""
        self.uids = self.uids | {uid} if away else self.uids - {uid}
        self._file.change({"pieces": sorted(self.uids)})
