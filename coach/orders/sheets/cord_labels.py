"""Labels for cut cord on sheets with cut marks: cord, length, number, strand names."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape
from typing import Final, Literal

from coach.orders.material_names import colour_words, wanted_in
from coach.orders.quote_model import Group
from coach.plan.cord.cut_list import cut_list, lengths_of
from coach.plan.pieces import pieces_of
from coach.quantities import show_cut

Paper = Literal["a4", "letter"]

# ISO 216; ANSI/ASME Y14.1 (both from memory): width, height in mm.
PAPERS: Final[dict[Paper, tuple[float, float]]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
MARGIN_MM: Final = 10.0
LABEL_MM: Final = (60.0, 22.0)
MARK_MM: Final = 4.0
"""How long the lines are that show where to cut, outside of the labels."""
_THINNEST: Final = 0.15


@dataclass(frozen=True, slots=True)
class Label:
    """The text of one label: what is needed to find the cord and hang it.

    `copy` is the number of the kit that it belongs to, None where there is only one.
    """

    cord: str
    length_mm: float
    number: str
    strands: str
    copy: int | None


def labels_of(groups: Sequence[Group], unit: str = "cm") -> tuple[Label, ...]:
    """Return a label for each piece of cord of each copy, copy by copy in the order of the cuts."""
    found: list[Label] = []
    several = sum(group.copies for group in groups) > 1
    copy = 0
    for group in groups:
        pieces = list(_pieces(group, unit))
        for _ in range(group.copies):
            copy += 1
            found += [Label(*piece, copy if several else None) for piece in pieces]
    return tuple(found)


def _pieces(group: Group, unit: str) -> Iterator[tuple[str, float, str, str]]:
    plan, lengths = group.plan, lengths_of(cut_list(group.plan, unit))
    cords = list(plan.project.cords)
    for piece in sorted(pieces_of(plan), key=lambda one: cords.index(one.cord)):
        wanted = wanted_in(plan.project, piece.cord, group.colourway)
        name = piece.cord if wanted.own else f"{piece.cord}, {colour_words(wanted.colour)}"
        strands = " ".join(plan.strands[strand].id for strand in piece.strands)
        yield (
            name, lengths[piece.cord, piece.number], f"{piece.cord}.{piece.number}", strands
        )  # fmt: skip


def per_sheet(paper: Paper) -> tuple[int, int]:
    """Return how many labels fit side by side and below each other on a sheet."""
    wide, high = PAPERS[paper]
    beside, below = (
        int((side - 2 * (MARGIN_MM + MARK_MM)) // label)
        for side, label in zip((wide, high), LABEL_MM, strict=True)
    )
    return beside, below


def label_sheets(labels: Sequence[Label], paper: Paper, unit: str = "cm") -> Iterator[str]:
    """Yield each sheet of labels as an SVG in true size, with marks for cutting.

    Args:
        labels: The labels.
        paper: The paper that they are printed on.
        unit: "cm" or "in": the unit in which lengths are shown.
    """
    beside, below = per_sheet(paper)
    for first in range(0, len(labels), beside * below):
        yield _sheet(labels[first : first + beside * below], paper, unit)


def _sheet(labels: Sequence[Label], paper: Paper, unit: str) -> str:
    (wide, high), (beside, _) = PAPERS[paper], per_sheet(paper)
    left, top = (wide - beside * LABEL_MM[0]) / 2, MARGIN_MM + MARK_MM
    rows = -(-len(labels) // beside)
    parts = [*_marks(left, top, beside, rows)]
    for place, label in enumerate(labels):
        row, column = divmod(place, beside)
        parts.append(_label(label, left + column * LABEL_MM[0], top + row * LABEL_MM[1], unit))
    # The paper's own edge is no part of the drawing: printers would shrink what touches it.
    box = f"{MARGIN_MM:g} {MARGIN_MM:g} {wide - 2 * MARGIN_MM:g} {high - 2 * MARGIN_MM - 1:g}"
    return (
        f'<svg class="labels" viewBox="{box}" width="{wide - 2 * MARGIN_MM:g}mm" '
        f'height="{high - 2 * MARGIN_MM - 1:g}mm" role="img" aria-label="labels">'
        f"{''.join(parts)}</svg>"
    )


def _marks(left: float, top: float, beside: int, rows: int) -> Iterator[str]:
    """Yield short lines outside of the labels, where a ruler is laid to cut."""
    right, bottom = left + beside * LABEL_MM[0], top + rows * LABEL_MM[1]
    for column in range(beside + 1):
        x = left + column * LABEL_MM[0]
        yield _line(x, top - MARK_MM, x, top - 1)
        yield _line(x, bottom + 1, x, bottom + MARK_MM)
    for row in range(rows + 1):
        y = top + row * LABEL_MM[1]
        yield _line(left - MARK_MM, y, left - 1, y)
        yield _line(right + 1, y, right + MARK_MM, y)


def _line(x1: float, y1: float, x2: float, y2: float) -> str:
    return (
        f'<line x1="{x1:g}" y1="{y1:g}" x2="{x2:g}" y2="{y2:g}" stroke="#000" '
        f'stroke-width="{_THINNEST}"/>'
    )


def _label(label: Label, x: float, y: float, unit: str) -> str:
    kit = f"kit {label.copy}" if label.copy else ""
    lines = (
        (3.0, 6.5, 4.6, "bold", "start", label.number),
        (LABEL_MM[0] - 3.0, 6.5, 4.0, "normal", "end", kit),
        (3.0, 12.5, 4.0, "normal", "start", label.cord),
        (LABEL_MM[0] - 3.0, 12.5, 4.6, "bold", "end", show_cut(label.length_mm, unit)),
        (3.0, 18.5, 3.2, "normal", "start", label.strands),
    )
    return "".join(
        f'<text x="{x + dx:g}" y="{y + dy:g}" font-size="{size:g}" font-weight="{weight}" '
        f'text-anchor="{anchor}" font-family="sans-serif">{escape(_short(said))}</text>'
        for dx, dy, size, weight, anchor, said in lines
        if said
    )


def _short(text: str) -> str:
    """Return a text shortened to fit on a label."""
    most = 26
    return text if len(text) <= most else f"{text[: most - 1]}…"
