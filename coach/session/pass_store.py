"""Passes of the tie at hand: kept beside the pieces, for progress itself is whole ties.

Each pass is written to its file before it is shown, so that ending the program in mid-tie loses
none; only a power cut may. Ties are never lost: they are events of the piece.
"""

import json
from pathlib import Path

from coach.settings.overrides import read_whole, write_whole

FILE = "passes.json"


class Passes:
    """How many passes are made of the next tie, piece by piece."""

    def __init__(self, folder: Path | None = None) -> None:
        """Keep them in a folder; without one, as long as the program runs."""
        self._path = folder / FILE if folder else None
        self._made: dict[int, tuple[int, int]] = {}

    def made(self, piece_id: int, done: int) -> int:
        """Return the passes made of the tie after `done` counts."""
        if piece_id not in self._made:
            self._made[piece_id] = self._stored(piece_id)
        at, passes = self._made[piece_id]
        return passes if at == done else 0

    def put(self, piece_id: int, done: int, passes: int) -> None:
        """Keep how many are made now."""
        if self.made(piece_id, done) == passes:
            return
        self._made[piece_id] = (done, passes)
        if self._path:
            data = dict(read_whole(self._path))
            data.pop(str(piece_id), None)
            if passes:
                data[str(piece_id)] = [done, passes]
            write_whole(self._path, json.dumps(data))

    def _stored(self, piece_id: int) -> tuple[int, int]:
        match read_whole(self._path).get(str(piece_id)):
            case [int(done), int(passes)] if passes > 0:
                return done, passes
        return -1, 0
