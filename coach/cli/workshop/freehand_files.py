"""The files of pieces knotted without a pattern."""

from pathlib import Path
from typing import Final

from coach.cli.file_output import check_target, write_failure
from coach.cli.project_finder import SHELF
from coach.piece import PieceError
from coach.piece.storage.atomic_write import ANYBODYS_FILE, write_whole
from coach.piece.storage.summary import KNOTTED
from coach.session.ports import CannotWrite, Files
from coach.text import one_line

DEFAULT: Final = "knotted.yaml"
_DATABASE: Final = b"SQLite format 3"


def freehand_source(target: str) -> str:
    """Return the source key of a piece whose pattern goes to a file; "" is none yet."""
    return f"{KNOTTED}{Path(target).resolve()}" if target else KNOTTED


def target_of(source: str) -> str:
    """Return the default file for the pattern of a piece."""
    if source.startswith(KNOTTED):
        return source.removeprefix(KNOTTED) or DEFAULT
    path = Path(source.removeprefix(SHELF))
    own = f"{path.stem}-my-own.yaml"
    return own if source.startswith(SHELF) else str(path.with_name(own))


def _there(name: str) -> bool:
    try:
        return Path(name).expanduser().exists()
    except (OSError, ValueError):
        return False


def _is_database(path: Path) -> bool:
    if not path.is_file():
        return False
    with path.open("rb") as file:
        return file.read(len(_DATABASE)) == _DATABASE


def _write(name: str, text: str) -> str:
    path = Path(name).expanduser()
    try:
        if _is_database(path):
            check_target(path)
        write_whole(path, text.encode(), replace=True, mode=ANYBODYS_FILE)
    except (OSError, ValueError) as fault:
        raise CannotWrite(f"{one_line(name)} cannot be written: {write_failure(fault)}.") from fault
    except PieceError as error:
        raise CannotWrite(str(error)) from error
    return f"{one_line(name)} is written. `coach knot {one_line(path.name)}` makes it again."


FILES: Final = Files(_there, _write)
