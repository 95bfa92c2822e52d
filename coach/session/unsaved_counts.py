"""Counts that cannot be stored: warnings, and other places to save the piece."""

import tempfile
from contextlib import suppress
from pathlib import Path
from typing import Final

from coach.piece import AlreadyThere, Busy, PieceError, Sitting
from coach.piece.export_import import piece_file_name, to_text
from coach.piece.piece_errors import StillWriting
from coach.piece.storage.atomic_write import write_whole
from coach.text import counted

_MOST_NAMES: Final = 100


class Watch:
    """Watches whether counts are stored, to warn, and to report when they are again."""

    def __init__(self, sitting: Sitting) -> None:
        self._sitting = sitting
        self._stored_at: int | None = None
        self._waited = False

    def line(self) -> str:
        """Return the warning that counts are not stored, or once that they are; else ""."""
        sitting = self._sitting
        if isinstance(sitting.trouble, StillWriting):
            return f"Being saved{f': {_so_many(sitting.waiting)}' if sitting.waiting else ''}."
        if sitting.trouble:
            self._waited = True
            waiting = f": {_so_many(sitting.waiting)} in memory only" if sitting.waiting else ""
            yet = " YET" if isinstance(sitting.trouble, Busy) else ""
            return f"NOT SAVED{yet}{waiting or ' from here on'}. {sitting.trouble}"
        if self._waited:
            self._waited, self._stored_at = False, sitting.state.seq
        if self._stored_at == sitting.state.seq:
            return "Everything is saved again."
        return ""


def must_ask_before_leaving(sitting: Sitting) -> bool:
    """Try once more to store all counts, and return whether leaving would lose some."""
    return not sitting.keep_before_leaving()


def closing_line(sitting: Sitting) -> str:
    """Return the last line of plain mode; what is not saved is reported after it."""
    return "Closed." if must_ask_before_leaving(sitting) else "Closed. Everything is saved."


def leave_question(sitting: Sitting) -> str:
    """Return the warning before leaving: how many counts are not stored, and why."""
    what = _so_many(sitting.waiting) if sitting.waiting else "This piece is"
    return f"{what.capitalize()} not kept. {sitting.trouble or ''}"


def rescue_paths(sitting: Sitting) -> list[Path]:
    """Return files to which the piece may be saved instead, the likeliest first."""
    name = piece_file_name(sitting.name)
    folders = []
    with suppress(RuntimeError):  # nobody's
        folders.append(Path.home())
    with suppress(OSError):  # it is written to before it is named
        folders.append(Path(tempfile.gettempdir()))
    return [folder / name for folder in folders if folder.is_dir()]


def write_to(sitting: Sitting, path: Path) -> Path:
    """Save the piece, with all that is only in memory, to a file, and return its path.

    Raises:
        AlreadyThere: There is such a file.
        CannotKeep: It cannot be written.
    """
    return write_whole(path, to_text(sitting.name, sitting.events).encode())


def rescue(sitting: Sitting) -> Path | None:
    """Save the piece to the first place that works, without asking; None if none does."""
    for path in rescue_paths(sitting):
        for n in range(1, _MOST_NAMES):
            numbered = path if n == 1 else path.with_name(f"{n}-{path.name}")
            try:
                return write_to(sitting, numbered)
            except AlreadyThere:
                continue
            except PieceError:
                break
    return None


def written_message(path: Path) -> str:
    """Return the sentence that says where a piece was saved, and how to import it."""
    return f"The piece is written to {path}. `coach import` with that file brings it back."


def saved_message(sitting: Sitting) -> str:
    """Return the sentence on leaving: the piece's progress, and that it is saved."""
    state = sitting.state
    return f"{sitting.name}: {state.done} of {state.total} made. Everything is saved."


def _so_many(n: int) -> str:
    return counted(n, "count")
