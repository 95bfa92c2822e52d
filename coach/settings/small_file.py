"""A small JSON file of ours, written on a thread of its own.

A folder may be on a disk that is slow to write, or hangs: a stick that wakes up, a network drive.
No key waits for that longer than a moment; what could not be written is tried again with the next
change, and the program waits at its end for writing to finish.
"""

import json
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor, wait
from pathlib import Path
from threading import Lock
from typing import Any, Final

from coach.whole_file import put_whole

MOMENT_S: Final = 0.1
"""How long a hand does not notice that it waits (common practice, no source)."""
_OWN_FOLDER: Final = 0o700
_OWN_FILE: Final = 0o600


class SmallFile:
    """A JSON object in a file; without a path it is never stored."""

    def __init__(self, path: Path | None, *, shared: bool = True) -> None:
        """Set the path, and whether unchanged entries are taken from the file on writing.

        Args:
            path: Where the file is; None stores nothing.
            shared: Whether entries that are not changed here keep what the file has by then.
        """
        self._path = path
        self._shared = shared
        self._waiting: dict[str, Any] = {}  # not in the file yet
        self._turn = Lock()
        self._thread: ThreadPoolExecutor | None = None

    def read(self) -> Mapping[str, Any]:
        """Return the object in the file; an empty one if it cannot be read."""
        return _read(self._path) if self._path else {}

    def change(self, entries: Mapping[str, Any]) -> bool:
        """Write entries, without those that are None; return False if that failed.

        Writing that takes long counts as done, and goes on in the background.
        """
        if self._path is None:
            return True
        with self._turn:
            self._waiting |= entries
        if self._thread is None:
            self._thread = ThreadPoolExecutor(1, "small file")
        asked = self._thread.submit(self._write, self._path)
        return not wait((asked,), MOMENT_S).done or asked.result()

    def _write(self, path: Path) -> bool:
        """Write all waiting changes; runs on the thread."""
        with self._turn:
            entries = dict(self._waiting)
        if not entries:  # written together with what was asked for before
            return True
        # Read again, since another bench may have written other entries meanwhile.
        held = (_read(path) if self._shared else {}) | entries
        data = json.dumps({name: one for name, one in held.items() if one is not None}, indent=1)
        try:
            path.parent.mkdir(mode=_OWN_FOLDER, parents=True, exist_ok=True)
            put_whole(path, data.encode(), replace=True, mode=_OWN_FILE)
        except (OSError, ValueError):
            return False
        with self._turn:
            # By identity: an entry that was changed again meanwhile still has to be written.
            for name in [n for n, one in entries.items() if self._waiting.get(n) is one]:
                self._waiting.pop(name, None)
        return True


def _read(path: Path) -> dict[str, Any]:
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
    # A small file is a convenience: a damaged one is replaced with the next change.
    except (OSError, ValueError, RecursionError):
        return {}
    return data if isinstance(data, dict) else {}
