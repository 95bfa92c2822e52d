"""`coach knot --new FILE`: a piece without a pattern, begun or resumed, on screen or in lines."""

import sys
from functools import partial
from pathlib import Path

from coach import tui
from coach.cli.bench_setup import Setup
from coach.cli.file_output import refuse_call
from coach.cli.workshop.freehand_files import DEFAULT, FILES
from coach.cli.workshop.workshop import Workshop
from coach.piece import PieceError
from coach.plain_ui.knot_first import Ports, ask_hanging, knot_first
from coach.recording.record import new_recording
from coach.recording.sentence_words import NotUnderstood
from coach.session.by_sentence.freehand import Freehand
from coach.session.ports import CannotOpen, OnBench
from coach.text import capital, one_line
from coach.yaml_reader.file_loader import load


def run_knot_first(workshop: Workshop, file: str, setup: Setup, *, plain: bool) -> int:
    """Go on with the piece of a file, or begin it.

    Args:
        workshop: The pieces.
        file: The file for its pattern; "" for none yet.
        setup: The settings and helpers of the bench.
        plain: Whether to use plain lines instead of a screen.

    Returns:
        The exit status: 2 if the start is impossible, or nothing can be stored.
    """
    target = file or DEFAULT
    try:
        opened = _there_already(workshop, target)
        if plain:
            return _in_lines(opened, workshop, target)
        return _on_screen(opened, workshop, target, setup)
    except EOFError:
        return refuse_call("The answers ended; nothing is hung.")
    except (CannotOpen, PieceError, NotUnderstood) as error:
        return refuse_call(str(error))


def _there_already(workshop: Workshop, target: str) -> OnBench | None:
    """Return the piece of a file, under way or continued from it, or None."""
    piece = workshop.freehand_under_way(target)
    if piece:
        return workshop.open(piece.id)
    if not Path(target).exists():
        return None
    text = load(Path(target)).text
    if text is None:
        raise CannotOpen(f"{one_line(target)} cannot be read.")
    return workshop.begin_freehand(new_recording(None, text), target)


def _in_lines(opened: OnBench | None, workshop: Workshop, target: str) -> int:
    opened = opened or workshop.begin_freehand(ask_hanging(_ask, print, _called(target)), target)
    freehand = Freehand(opened)
    try:
        knot_first(freehand, Ports(_ask, print, FILES, target))
    finally:
        freehand.leave()
    return 0


def _on_screen(opened: OnBench | None, workshop: Workshop, target: str, setup: Setup) -> int:
    looks = {
        "keys": setup.keys, "palette": setup.palette, "glyphs": setup.glyphs, "aids": setup.aids,
    }  # fmt: skip
    if opened:
        return tui.run_bench(opened, **looks)
    return tui.run_freehand(
        partial(workshop.begin_freehand, target=target), _called(target), **looks
    )


def _called(target: str) -> str:
    """Return the default title of a piece from its file: `Marsh band` for marsh-band.yaml."""
    name = Path(target).stem
    return "" if target == DEFAULT else one_line(capital(name.replace("-", " ").replace("_", " ")))


def _ask(question: str) -> str:
    print(question, end=" ", flush=True)
    line = sys.stdin.readline()
    if not line:
        raise EOFError
    return one_line(line)
