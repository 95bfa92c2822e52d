"""A small file of ours beside the pieces or the settings, written on a thread of its own.

A folder may be on a disk that takes long over a writing, or hangs: a stick that wakes, a drive over
the network. No key waits for that longer than a moment; what could not be written is tried again
with the next change, and the program ends once what is on its way has arrived.
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
    """Holds a JSON object in a file; None for the file keeps nothing."""

    def __init__(self, path: Path | None, *, shared: bool = True) -> None:
        """Take its place, and whether entries that are not changed stay as they are by then."""
        self._path = path
        self._shared = shared
        self._waiting: dict[str, Any] = {}  # not in the file yet
        self._turn = Lock()
        self._thread: ThreadPoolExecutor | None = None

    def read(self) -> Mapping[str, Any]:
        """Return what the file holds; an empty object where none can be read."""
        return _read(self._path) if self._path else {}

    def change(self, entries: Mapping[str, Any]) -> bool:
        """Write entries, without those that are None, and return False if that failed.

        One that takes long is taken for written; it goes on.
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
        """Write all that waits; on the thread."""
        with self._turn:
            entries = dict(self._waiting)
        if not entries:  # written together with what was asked for before
            return True
        held = (_read(path) if self._shared else {}) | entries
        data = json.dumps({name: one for name, one in held.items() if one is not None}, indent=1)
        try:
            path.parent.mkdir(mode=_OWN_FOLDER, parents=True, exist_ok=True)
            put_whole(path, data.encode(), replace=True, mode=_OWN_FILE)
        except (OSError, ValueError):
            return False
        with self._turn:
            for name in [n for n, one in entries.items() if self._waiting.get(n) is one]:
                self._waiting.pop(name, None)
        return True


def _read(path: Path) -> dict[str, Any]:
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return {}
    return data if isinstance(data, dict) else {}
