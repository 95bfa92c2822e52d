"""The whole piece on paper: cut list and cautions first, then the work; plain text or Markdown."""

import re
from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import Final

from coach.knots.catalogue import CATALOGUE
from coach.plan.as_json import tie_counts
from coach.plan.cord.cut_list import CordCut
from coach.plan.cord.outlook import outlook
from coach.plan.plan_model import Plan
from coach.plan.wording.cautions import cautions
from coach.plan.wording.cutting_words import promise
from coach.text import one_line
from coach.words.hanging import hanging, laid_out
from coach.words.instructions import Instruction, instructions
from coach.words.phrases import plural
from coach.words.preparing import CutRow, cut_rows, cut_total, size_line

WIDTH: Final = 78
BEFORE: Final = "Before folding"
_STEP: Final = 4  # columns that a part is set in by
_MARKED: Final = re.compile(r"([\\`*_\[\]<>#|~]|(?<=^)[-+](?= )|(?<=^\d)\.(?= ))")


def plain_text(plan: Plan, cuts: tuple[CordCut, ...]) -> list[str]:
    """Return the instructions as lines of at most 78 columns (a long word may stand out)."""
    lines = [plan.project.title, *_folded(plan.project.about), ""]
    for title, body in _sections(plan, cuts):
        lines += [title, *(part for text in body for part in _folded(text)), ""]
    unfolded, work = _in_two(plan)
    if unfolded:
        lines += [BEFORE, *_folded(laid_out(plan)), *_plain_lines(unfolded), ""]
    lines += ["Hang", *_folded(hanging(plan)), "", "Work", *_plain_lines(work), ""]
    return [*lines, *_plain_knots(plan)]


def _in_two(plan: Plan) -> tuple[list[Instruction], list[Instruction]]:
    """Return what is worked before the pieces are folded, and what comes after."""
    lines = instructions(plan)
    return [line for line in lines if line.unfolded], [line for line in lines if not line.unfolded]


def _sections(plan: Plan, cuts: tuple[CordCut, ...]) -> Iterator[tuple[str, list[str]]]:
    """Yield what stands before the first knot, each with its heading; empty ones are left out."""
    project = plan.project
    care = [one_line(caution) for caution in cautions(project)]
    if care:
        yield "Take care", care
    needs = [*project.tools, *project.findings]
    surface = [f"Work on: {project.surface}."] if project.surface else []
    if needs or surface:
        listing = ", ".join(needs)
        ready = [f"{listing[:1].upper()}{listing[1:]}."] if needs else []
        yield "Have ready", [*ready, *surface]
    total = f"In all {cut_total(cuts)}. {promise(plan, outlook(plan, cuts))}"
    yield "Cut", [*(_cut(row) for row in cut_rows(plan, cuts)), total]
    yield "Size", [size_line(plan)]


def _cut(row: CutRow) -> str:
    many = "s" if row.pieces > 1 else ""
    purpose = f", {row.purpose}" if row.purpose else ""
    return f"{row.pieces} piece{many} of {row.cord}, {row.length} ({row.look}){purpose}"


def _folded(text: str, indent: str = "  ", hang: str = "    ") -> list[str]:
    lines = text.splitlines()
    return [
        part
        for line in lines
        for part in wrap(line, WIDTH, initial_indent=indent, subsequent_indent=hang)
    ]


def _plain_lines(lines: Sequence[Instruction]) -> list[str]:
    return [part for line in lines for part in _plain_line(line)]


def _plain_line(line: Instruction) -> list[str]:
    indent = "  " + " " * _STEP * line.depth
    lead = f"{indent}{line.number}. " if line.number else indent
    hang = " " * len(lead)
    notes = [part for note in line.notes for part in _folded(f"({note})", hang, hang)]
    return [*_folded(line.text, lead, hang), *notes]


def _plain_knots(plan: Plan) -> list[str]:
    lines = ["Knots"]
    for knot, number in _knots_used(plan):
        lines += _folded(f"{number:,} {plural(knot) if number > 1 else knot}: {_tied(knot)}")
    return lines


def _knots_used(plan: Plan) -> list[tuple[str, int]]:
    """Return the knots really tied and how many, in the order of the catalogue."""
    counts = tie_counts(plan)
    return [(knot, counts[knot]) for knot in CATALOGUE if knot in counts]


def _tied(knot: str) -> str:
    entry = CATALOGUE[knot]
    return " ".join(filter(None, (entry.roles, *entry.steps, entry.caution)))


def markdown(plan: Plan, cuts: tuple[CordCut, ...]) -> list[str]:
    """Return the instructions as Markdown (CommonMark); a maker's signs stay what they are."""
    project = plan.project
    lines = [f"# {_quoted(project.title)}", ""]
    lines += [f"{_quoted(one_line(project.about))}", ""] if project.about else []
    for title, body in _sections(plan, cuts):
        lines += [f"## {title}", "", *(f"- {_quoted(text)}" for text in body), ""]
    unfolded, work = _in_two(plan)
    if unfolded:
        lines += [f"## {BEFORE}", "", f"- {_quoted(laid_out(plan))}", *_marked_lines(unfolded), ""]
    lines += ["## Hang", "", f"- {_quoted(hanging(plan))}", ""]
    lines += ["## Work", "", *_marked_lines(work), "", "## Knots", ""]
    for knot, number in _knots_used(plan):
        name = plural(knot) if number > 1 else knot
        lines.append(f"- **{number:,} {name}.** {_quoted(_tied(knot))}")
    return lines


def _marked_lines(lines: Sequence[Instruction]) -> list[str]:
    return [part for line in lines for part in _marked_line(line)]


def _marked_line(line: Instruction) -> list[str]:
    indent = " " * _STEP * line.depth
    number = f"**{line.number}.** " if line.number else ""
    text = _quoted(line.text)
    body = f"{number}{text}" if line.number else f"*{text}*"
    notes = "".join(f" ({_quoted(note)})" for note in line.notes)
    return [f"{indent}- {body}{notes}"]


def _quoted(text: str) -> str:
    """Return text with the signs that Markdown would take for its own made plain."""
    return _MARKED.sub(r"\\\1", text)


def as_words(plan: Plan, cuts: tuple[CordCut, ...], *, marked: bool) -> Sequence[str]:
    """Return the instructions as Markdown where `marked`, else as plain text."""
    return markdown(plan, cuts) if marked else plain_text(plan, cuts)
