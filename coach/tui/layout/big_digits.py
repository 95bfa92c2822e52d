"""Large figures for the count, drawn from straight strokes in block characters."""

from functools import cache
from typing import Final

_STROKES: Final = {  # top, upper right, lower right, bottom, lower left, upper left, middle
    "0": "abcdef", "1": "bc", "2": "abged", "3": "abgcd", "4": "fgbc",
    "5": "afgcd", "6": "afgedc", "7": "abc", "8": "abcdefg", "9": "abcdfg",
}  # fmt: skip
_SIZES: Final = {7: (8, 2), 5: (6, 2), 3: (4, 1)}  # rows: width and stroke in pixels
HEIGHTS: Final = tuple(_SIZES)
"""The heights that figures come in, in rows; the tallest first."""


def large(number: int, rows: int, *, plain: bool = False) -> list[str]:
    """Return a whole number as `rows` lines of equal length; `plain` uses ASCII only.

    Raises KeyError for a height that is none of `HEIGHTS`.
    """
    drawn = [_figure(figure, rows, plain=plain) for figure in str(number)]
    return [" ".join(parts) for parts in zip(*drawn, strict=True)]


def large_width(number: int, rows: int) -> int:
    """Return how many columns `large` takes."""
    width, _ = _SIZES[rows]
    figures = str(number)
    return sum(_narrow(f, width, rows) for f in figures) + len(figures) - 1


def _narrow(figure: str, width: int, rows: int) -> int:
    return _SIZES[rows][1] + 1 if figure == "1" else width


@cache
def _figure(figure: str, rows: int, *, plain: bool) -> list[str]:
    """Draw one figure two pixels to a character, one above the other."""
    width, stroke = _SIZES[rows]
    lit = _pixels(_STROKES[figure], width, 2 * rows, stroke)
    first = width - _narrow(figure, width, rows)
    return [
        "".join(
            _block((x, 2 * y) in lit, (x, 2 * y + 1) in lit, plain) for x in range(first, width)
        )
        for y in range(rows)
    ]


def _block(upper: bool, lower: bool, plain: bool) -> str:
    """Return the character for two pixels, one above the other."""
    return (' _"#' if plain else " ▄▀█")[2 * upper + lower]


def _pixels(strokes: str, width: int, height: int, stroke: int) -> set[tuple[int, int]]:
    """Return the pixels of some strokes; thick strokes meet in round corners."""
    middle = (height - stroke) // 2
    boxes = {
        "a": (0, 0, width, stroke), "d": (0, height - stroke, width, height),
        "g": (0, middle, width, middle + stroke),
        "f": (0, 0, stroke, middle + stroke), "e": (0, middle, stroke, height),
        "b": (width - stroke, 0, width, middle + stroke),
        "c": (width - stroke, middle, width, height),
    }  # fmt: skip
    lit = {
        (x, y)
        for name in strokes
        for x in range(boxes[name][0], boxes[name][2])
        for y in range(boxes[name][1], boxes[name][3])
    }
    return lit - _rounded(strokes, width, height) if stroke > 1 else lit


def _rounded(strokes: str, width: int, height: int) -> set[tuple[int, int]]:
    """Return the outer corners at which two strokes meet."""
    right, low = width - 1, height - 1
    corners = {"af": (0, 0), "ab": (right, 0), "de": (0, low), "dc": (right, low)}
    return {place for pair, place in corners.items() if set(pair) <= set(strokes)}
