"""The sheet of written instructions: cut list, cautions and work, as text or Markdown."""

import re
from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import Final

from coach.knots.catalogue import CATALOGUE
from coach.plan.plan_model import Plan
from coach.plan.wording.strand_names import cord_look
from coach.report.plan_report import PlanReport
from coach.report.report_phrases import (
    apart_words,
    cut_heading,
    cut_sum,
    each_heading,
    lengths_words,
    purpose,
    size_line,
)
from coach.text import capital, counted, one_line
from coach.words.hanging import hanging_instructions, laid_out
from coach.words.instructions import Instruction, instructions
from coach.words.spoken_text import read_aloud

WIDTH: Final = 78
BEFORE: Final = "Before folding"
_STEP: Final = 4  # columns that a part is set in by
_MARKED: Final = re.compile(r"([\\`*_\[\]<>#|~]|(?<=^)[-+](?= )|(?<=^\d)\.(?= ))")


def plain_text(plan: Plan, report: PlanReport) -> list[str]:
    """Return the instructions as lines of at most 78 columns (a longer word may stick out)."""
    lines = [report.title, *_folded(report.about), ""]
    for title, body in _sections(report):
        lines += [title, *(part for text in body for part in _folded(text)), ""]
    unfolded, work = _in_two(plan, report.unit)
    if unfolded:
        lines += [BEFORE, *_folded(laid_out(plan)), *_plain_lines(unfolded), ""]
    lines += [each_heading("Hang", report), *_folded(hanging_instructions(plan, report.unit)), ""]
    lines += [each_heading("Work", report), *_plain_lines(work), ""]
    return [*lines, *_plain_knots(report)]


def _in_two(plan: Plan, unit: str) -> tuple[list[Instruction], list[Instruction]]:
    """Return the work before the pieces are folded, and the work after."""
    lines = instructions(plan, unit)
    return [line for line in lines if line.unfolded], [line for line in lines if not line.unfolded]


def _sections(report: PlanReport) -> Iterator[tuple[str, list[str]]]:
    """Yield what comes before the first knot, each section with its heading; no empty ones."""
    care = [one_line(caution) for caution in report.cautions]
    if care:
        yield "Take care", care
    ready = [f"{capital(', '.join(report.ready))}."] if report.ready else []
    surface = [f"Work on: {report.surface}."] if report.surface else []
    if ready or surface:
        yield "Have ready", [*ready, *surface]
    yield cut_heading(report), [*_cut(report), cut_sum(report)]
    apart = [apart_words(one, report.unit) for one in report.apart]
    yield "Size", [size_line(report.size, report.unit), *apart]


def _cut(report: PlanReport) -> Iterator[str]:
    for cord in report.cords:
        for line in cord.pieces:
            for_what = f", {purpose(line)}" if purpose(line) else ""
            yield f"{capital(lengths_words(line, report.unit))} ({cord_look(cord.cord)}){for_what}"


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


def _plain_knots(report: PlanReport) -> list[str]:
    lines = ["Knots"]
    for knot, number in _knots_used(report):
        lines += _folded(f"{counted(number, knot)}: {_tied(knot, report)}")
    return lines


def _knots_used(report: PlanReport) -> list[tuple[str, int]]:
    """Return the knots tied and how many, in the order of the catalogue."""
    counts = dict(report.knots)
    known = (*CATALOGUE, *report.own_knots)
    return [(knot, counts[knot]) for knot in known if knot in counts]


def _tied(knot: str, report: PlanReport) -> str:
    if knot in report.own_knots:
        return report.own_knots[knot].roles
    entry = CATALOGUE[knot]
    return " ".join(filter(None, (entry.roles, *entry.steps, entry.caution)))


def markdown(plan: Plan, report: PlanReport) -> list[str]:
    """Return the instructions as CommonMark, with characters in a maker's words escaped."""
    lines = [f"# {_quoted(report.title)}", ""]
    lines += [f"{_quoted(one_line(report.about))}", ""] if report.about else []
    for title, body in _sections(report):
        lines += [f"## {title}", "", *(f"- {_quoted(text)}" for text in body), ""]
    unfolded, work = _in_two(plan, report.unit)
    if unfolded:
        lines += [f"## {BEFORE}", "", f"- {_quoted(laid_out(plan))}", *_marked_lines(unfolded), ""]
    lines += [f"## {each_heading('Hang', report)}", ""]
    lines += [f"- {_quoted(hanging_instructions(plan, report.unit))}", ""]
    lines += [f"## {each_heading('Work', report)}", "", *_marked_lines(work), "", "## Knots", ""]
    for knot, number in _knots_used(report):
        lines.append(f"- **{counted(number, knot)}.** {_quoted(_tied(knot, report))}")
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
    """Return text with the characters escaped that Markdown would interpret."""
    return _MARKED.sub(r"\\\1", text)


def spoken_words(plan: Plan, report: PlanReport) -> Sequence[str]:
    """Return the instructions as they are read aloud, numbers and units in words."""
    return read_aloud(markdown(plan, report))


def as_words(plan: Plan, report: PlanReport, *, marked: bool) -> Sequence[str]:
    """Return the whole piece as numbered written instructions, line by line.

    Args:
        plan: The plan.
        report: Its report.
        marked: Whether to return Markdown instead of plain text.
    """
    return markdown(plan, report) if marked else plain_text(plan, report)
