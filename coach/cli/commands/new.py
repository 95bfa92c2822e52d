"""`coach new FILE`: a few questions, and a commented project file that passes `check`."""

import argparse
import sys
from pathlib import Path
from typing import Final

import coach.project
from coach.cli.file_output import refuse_call
from coach.cli.options.draft_fitting import FittedDraft, fit_draft
from coach.cli.options.draft_questions import Questions, Unanswerable, add_answers
from coach.piece.piece_errors import PieceError
from coach.piece.storage.atomic_write import ANYBODYS_FILE, write_whole
from coach.project.drafts.project_draft import SCHEMA as SCHEMA_NAME
from coach.quantities import show_length
from coach.text import counted, one_line

SCHEMA: Final = Path(coach.project.__file__).parent / SCHEMA_NAME


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument("file", metavar="FILE", help="where to write it; it must not be there yet")
    add_answers(parser)
    parser.add_argument(
        "--schema",
        action="store_true",
        help="only put the schema beside a file that is there, for an editor",
    )


def run(options: argparse.Namespace) -> int:
    """Ask and write; 2 if the file exists, cannot be written, or the answers end early."""
    path = Path(options.file)
    name = one_line(options.file)
    if path.suffix not in (".yaml", ".yml"):
        return refuse_call(f"A project file ends in .yaml; try {name}.yaml.")
    if options.schema:
        return _beside(path)
    if path.exists() or path.is_symlink():
        return refuse_call(f"{name} is there already; choose another name.")
    try:
        found = fit_draft(Questions(options, _input).answers())
    except EOFError:
        return refuse_call("The answers ended; nothing was written.")
    except Unanswerable as error:
        return refuse_call(str(error))
    try:
        write_whole(path, found.text.encode("utf-8"), mode=ANYBODYS_FILE)
    except PieceError as fault:
        return refuse_call(str(fault))
    _beside(path)
    print(f"\n{name} is written: {_told(found)}")
    print(f"Next: coach check {name}, or coach check --watch {name}")
    return 0


def _told(found: FittedDraft) -> str:
    plan = found.plan
    size = f"{show_length(plan.length_mm)} long and {show_length(plan.width_mm)} wide"
    hung = counted(len(plan.start), "strand")
    why = f" {found.told}" if found.told else ""
    return f"about {size}, {hung}.{why}"


def _beside(path: Path) -> int:
    """Write the schema beside a project file, unless there is one; 2 if that fails."""
    schema = path.parent / SCHEMA_NAME
    if not schema.exists():
        try:
            write_whole(schema, SCHEMA.read_bytes(), mode=ANYBODYS_FILE)
        except PieceError as fault:
            return refuse_call(str(fault))
    return 0


def _input(question: str) -> str:
    print(question, end=" ", flush=True)
    line = sys.stdin.readline()
    if not line:
        raise EOFError
    return line
