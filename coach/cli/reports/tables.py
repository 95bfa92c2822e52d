"""Rows for spreadsheets, in which no text is taken for a formula."""

import csv
import io
from collections.abc import Sequence
from typing import Final

from coach.text import one_line

_FORMULA: Final = ("=", "+", "-", "@", "\t", "\r")


def table(head: Sequence[str], rows: Sequence[Sequence[object]]) -> str:
    """Return rows as CSV under a head; short ones are filled up."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(head)
    for row in rows:
        cells = [_harmless(cell) for cell in row]
        writer.writerow(cells + [""] * (len(head) - len(cells)))
    return out.getvalue()


def _harmless(cell: object) -> object:
    """Keep a text from being taken for a formula by a spreadsheet."""
    if not isinstance(cell, str):
        return cell
    text = one_line(cell)
    return f"'{text}" if text.startswith(_FORMULA) else text
