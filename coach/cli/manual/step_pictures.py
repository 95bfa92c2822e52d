"""Drawings for the manual's page on steps, each of the snippet above it."""

import re
from collections.abc import Iterator
from typing import Final

from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.tui.drawing.board_picture import BoardDrawing
from coach.tui.drawing.cells import glyphs_for

_HEAD: Final = {
    "coach": "coach: 1",
    "title": "title: A step",
    "cords": 'cords: {reed: {colour: "#5b7f3a", diameter: 2 mm}, '
    "clay: {colour: sienna, diameter: 2 mm}}",
    "start": "start: {nest: [reed, clay, reed], on: ring}",
}  # fmt: skip
_SNIPPET: Final = re.compile(
    r"```yaml\n(.*?)```(?:\n\n!\[[^\]]*\]\(\S*?([\w-]+)\.svg\))?", re.DOTALL
)
_MOST_ROWS: Final = 40
_ALIKE: Final = 2  # rows of cords that only hang


def snippets(markdown: str) -> Iterator[tuple[str, str]]:
    """Yield the steps of a page as text, each with the name of its drawing, "" without one."""
    for found in _SNIPPET.finditer(markdown):
        yield found[1], found[2] or ""


def snippet_plan(written: str) -> Plan:
    """Return the plan of a step alone, or of a `work:` with the rest of a project.

    Raises:
        ValueError: It has errors.
    """
    body = written
    if not re.search(r"^work:", body, re.MULTILINE):
        first, *rest = written.strip().splitlines()
        body = "\n".join(["work:", f"  - {first}", *(f"    {line}" for line in rest)])
    head = [line for key, line in _HEAD.items() if not re.search(rf"^{key}:", body, re.MULTILINE)]
    reading = read_plan("\n".join([*head, body, ""]))
    if reading.plan is None:
        raise ValueError(f"{written}: {[problem.message for problem in reading.problems]}")
    return reading.plan


def with_drawings(markdown: str, columns: int, encoding: str | None = "utf-8") -> str:
    """Return a page with each picture drawn in characters.

    Args:
        markdown: The page; a picture is marked in it by the step that it shows.
        columns: The most columns of a line.
        encoding: The encoding of the output, whose characters the drawing uses; None is ASCII.
    """

    def in_characters(found: re.Match[str]) -> str:
        if not found[2]:
            return found[0]
        return f"```yaml\n{found[1]}```\n\n```text\n{_drawing(found[1], columns, encoding)}\n```"

    return _SNIPPET.sub(in_characters, markdown)


def _drawing(written: str, columns: int, encoding: str | None) -> str:
    plan = snippet_plan(written)
    picture = BoardDrawing(plan, glyphs_for(encoding)).picture(plan.total, columns - 4, _MOST_ROWS)
    rows = picture.text().splitlines()
    kept = [row for n, row in enumerate(rows) if not row or {row} != set(rows[max(0, n - _ALIKE):n])
            or n < _ALIKE]  # fmt: skip
    left = min((len(row) - len(row.lstrip()) for row in kept if row.strip()), default=0)
    return "\n".join(row[left:] for row in kept if row.strip())
