"""Who does what, with strand numbers in large coloured digits."""

from collections.abc import Sequence
from typing import Final

from rich.cells import cell_len
from rich.style import Style
from rich.text import Span, Text

from coach.plan.wording.who_ties import Who
from coach.text import one_line
from coach.tui.layout.large_print import HEIGHTS, large, large_width
from coach.tui.layout.styled_text import Inks

_APART: Final = 3  # columns between two numbers, which must not be read as one


def who_lines(parts: Sequence[Who], inks: Inks, width: int, rows: int) -> list[Text]:
    """Return the parts on at most `rows` lines, in the tallest digits that fit.

    Words are on the last line, on the baseline of the digits. If not even the lowest digits fit, it
    is one line of plain type, or none at all.
    """
    for tall in (size for size in HEIGHTS if size <= rows):
        if _width(parts, tall) <= width:
            drawn = _drawn(parts, inks, tall)
            return [_line(drawn, y) for y in range(tall)]
    typed = Text(" ").join(Text(one_line(part.text), _ink(part, inks)) for part in parts)
    return [typed] if parts and rows and typed.cell_len <= width else []


def _width(parts: Sequence[Who], rows: int) -> int:
    if not any(part.large for part in parts):
        return 1 << 16  # type does for words alone
    wide = [large_width(int(p.text), rows) if p.large else Text(p.text).cell_len for p in parts]
    return sum(wide) + sum(map(_gap, parts, parts[1:]))


def _gap(before: Who, after: Who) -> int:
    return _APART if before.large and after.large else _APART - 1


def _drawn(parts: Sequence[Who], inks: Inks, rows: int) -> list[tuple[int, list[str], Style]]:
    """Return each part as its gap to the one before, its lines from the top, and its style."""
    gaps = [0, *map(_gap, parts, parts[1:])]
    return [
        (gap, _pieces(part, inks, rows), _ink(part, inks))
        for gap, part in zip(gaps, parts, strict=True)
    ]


def _line(drawn: Sequence[tuple[int, list[str], Style]], y: int) -> Text:
    """Return one of the lines; `y` counts them from the top."""
    said, spans = "", []
    for gap, pieces, ink in drawn:
        said += " " * gap
        spans.append(Span(len(said), len(said) + len(pieces[y]), ink))
        said += pieces[y]
    return Text(said, spans=spans)


def _pieces(part: Who, inks: Inks, rows: int) -> list[str]:
    if part.large:
        return large(int(part.text), rows, plain=inks.plain)
    word = one_line(part.text)
    return [*[" " * cell_len(word)] * (rows - 1), word]


def _ink(part: Who, inks: Inks) -> Style:
    if part.strand is None:
        return inks.style("text", bold=True)
    return inks.named(part.strand, bold=True)
