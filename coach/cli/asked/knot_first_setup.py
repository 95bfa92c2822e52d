"""What is hung before knotting without a pattern, and the file that it is written to."""

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Final

from coach.cli.written import why
from coach.piece.storage.atomic_write import write_whole
from coach.plain_ui.knot_first import Ports, knot_first
from coach.recording.project_text import Hung
from coach.recording.record import Record, begun
from coach.recording.said import NotUnderstood
from coach.text import one_line
from coach.yaml_reader.file_loader import load

DEFAULT: Final = "knotted.yaml"
_NESTED: Final = ("nest", "nested", "folded together", "together")


def run_knot_first(file: str) -> int:
    """Take down a piece in plain lines; 2 if nothing can hang so, or the file cannot be kept."""
    path = Path(file or DEFAULT)
    try:
        record = _begun(path, _input)
    except EOFError:
        return _refuse("The answers ended; nothing is hung.")
    except NotUnderstood as error:
        return _refuse(str(error))
    failed: list[str] = []

    def write(text: str) -> str:
        try:
            write_whole(path, text.encode(), replace=True)
        except OSError as fault:
            failed.append(file)
            return f"{one_line(str(path))} cannot be written: {why(fault)}."
        failed.clear()
        return f"{one_line(str(path))} is written. It is made again with coach knot {path.name}."

    knot_first(record, Ports(lambda: _input(">"), print, write))
    return 2 if failed else 0


def _refuse(message: str) -> int:
    sys.stderr.write(f"coach: {message}\n")
    return 2


def _input(question: str) -> str:
    print(question, end=" ", flush=True)
    line = sys.stdin.readline()
    if not line:
        raise EOFError
    return one_line(line)


def _begun(path: Path, ask: Callable[[str], str]) -> Record:
    """Return the record of a file that is there already, or of what is hung now."""
    if path.exists():
        loaded = load(path)
        if loaded.text is None:
            raise NotUnderstood(f"{one_line(str(path))} cannot be read.")
        print(f"Going on with {one_line(str(path))} from where its work ends.")
        return begun(None, loaded.text)
    return begun(_hung(ask))


def _hung(ask: Callable[[str], str]) -> Hung:
    """Ask what hangs, on what and how."""
    pieces = ask("What hangs? Pieces from the left, as in ‘2 reed, 4 clay’: [4 reed]") or "4 reed"
    names = list(dict.fromkeys(_cord(piece) for piece in pieces.split(",")))
    cords = {
        name: f"{{diameter: {ask(f'How thick is {name}? [2 mm]') or '2 mm'}}}" for name in names
    }
    on = ask("On what: board, ring, dowel, buckle, hook or cord? [board]") or "board"
    how = ask("Folded together, or each on its own? [each]").casefold()
    layout = "nest" if how in _NESTED else "hang"
    return Hung(cords, f"{{{layout}: [{pieces}], on: {on}}}")


def _cord(piece: str) -> str:
    return piece.strip().lstrip("0123456789").strip()
