"""Large digits for the count, in block characters."""

from functools import cache
from typing import Final, TypeAlias

from coach.tui.layout.styled_text import ellipsized

Pixel: TypeAlias = tuple[int, int]
"""A column and a row, two rows to a line of text."""

_STROKES: Final = {  # top, upper right, lower right, bottom, lower left, upper left, middle
    "0": "abcdef", "1": "", "2": "abged", "3": "abgcd", "4": "fgbc",
    "5": "afgcd", "6": "afgedc", "7": "a", "8": "abcdefg", "9": "abcdfg",
}  # fmt: skip
_SIZES: Final = {  # rows: width and stroke in pixels
    11: (12, 3), 9: (10, 2), 7: (8, 2), 5: (6, 2), 3: (4, 1),
}  # fmt: skip
_DOT: Final = 2  # pixels each way of the dot in a nought
HEIGHTS: Final = tuple(_SIZES)
"""The heights that figures come in, in rows; the tallest first."""


def large(number: int, rows: int, *, plain: bool = False) -> list[str]:
    """Return a whole number as `rows` lines of equal length; `plain` uses ASCII only.

    Raises:
        KeyError: The height is none of `HEIGHTS`.
    """
    drawn = [_figure(figure, rows, plain=plain) for figure in str(number)]
    return [" ".join(parts) for parts in zip(*drawn, strict=True)]


def large_width(number: int, rows: int) -> int:
    """Return how many columns `large` takes."""
    width, _ = _SIZES[rows]
    figures = str(number)
    return sum(_narrow(f, width, rows) for f in figures) + len(figures) - 1


def _narrow(figure: str, width: int, rows: int) -> int:
    return 3 * _SIZES[rows][1] if figure == "1" else width


@cache
def _figure(figure: str, rows: int, *, plain: bool) -> list[str]:
    """Draw one figure two pixels to a character, one above the other."""
    width, stroke = _SIZES[rows]
    lit = _pixels(_STROKES[figure], width, 2 * rows, stroke) ^ _own(figure, width, 2 * rows, stroke)
    return [
        "".join(
            _block((x, 2 * y) in lit, (x, 2 * y + 1) in lit, plain)
            for x in range(_narrow(figure, width, rows))
        )
        for y in range(rows)
    ]


def _own(figure: str, width: int, height: int, stroke: int) -> set[Pixel]:
    """Return the pixels that straight strokes cannot make: flag and foot of a 1, and the like.

    The 1 has a flag and a foot, the stem of the 7 slants, and the 0 has a dot where there is room.
    """
    low = height - stroke
    if figure == "1":
        flag = _box(0, stroke, stroke, 2 * stroke)
        return flag | _box(stroke, 0, 2 * stroke, height) | _box(0, low, 3 * stroke, height)
    if figure == "7":
        lean = (width - stroke) / (2 * (height - stroke))
        return {
            (round(width - stroke - lean * (y - stroke)) + x, y)
            for y in range(stroke, height)
            for x in range(stroke)
        }
    if figure == "0":
        middle, half = width // 2, height // 2
        if width - 2 * stroke >= 2 * _DOT:
            return _box(middle - 1, half - 1, middle + 1, half + 1)
        return {(x, y) for x in (0, width - 1) for y in (0, height - 1)} if stroke == 1 else set()
    return set()


def _block(upper: bool, lower: bool, plain: bool) -> str:
    """Return the character for two pixels, one above the other."""
    return (' _"#' if plain else " ▄▀█")[2 * upper + lower]


def _box(left: int, top: int, right: int, bottom: int) -> set[Pixel]:
    return {(x, y) for x in range(left, right) for y in range(top, bottom)}


def _pixels(strokes: str, width: int, height: int, stroke: int) -> set[Pixel]:
    """Return the pixels of some strokes; thick strokes meet in round corners."""
    middle = (height - stroke) // 2
    boxes = {
        "a": (0, 0, width, stroke), "d": (0, height - stroke, width, height),
        "g": (0, middle, width, middle + stroke),
        "f": (0, 0, stroke, middle + stroke), "e": (0, middle, stroke, height),
        "b": (width - stroke, 0, width, middle + stroke),
        "c": (width - stroke, middle, width, height),
    }  # fmt: skip
    lit = {pixel for name in strokes for pixel in _box(*boxes[name])}
    return lit - _rounded(strokes, width, height) if stroke > 1 else lit


def _rounded(strokes: str, width: int, height: int) -> set[Pixel]:
    """Return the outer corners at which two strokes meet."""
    right, low = width - 1, height - 1
    corners = {"af": (0, 0), "ab": (right, 0), "de": (0, low), "dc": (right, low)}
    return {place for pair, place in corners.items() if set(pair) <= set(strokes)}


_LETTERS: Final = {  # five rows of pixels each
    "A": "### #.# ### #.# #.#", "B": "##. #.# ##. #.# ##.", "C": "### #.. #.. #.. ###",
    "D": "##. #.# #.# #.# ##.", "E": "### #.. ##. #.. ###", "F": "### #.. ##. #.. #..",
    "G": "### #.. #.# #.# ###", "I": "# # # # #",
    "J": "..# ..# ..# #.# ###", "K": "#.# #.# ##. #.# #.#",
    "L": "#.. #.. #.. #.. ###", "M": "#...# ##.## #.#.# #...# #...#",
    "N": "#...# ##..# #.#.# #..## #...#", "O": "### #.# #.# #.# ###", "P": "### #.# ### #.. #..",
    "R": "##. #.# ##. #.# #.#", "S": "### #.. ### ..# ###", "T": "### .#. .#. .#. .#.",
    "U": "#.# #.# #.# #.# ###", "W": "#...# #...# #.#.# ##.## #...#", "Z": "### ..# .#. #.. ###",
}  # fmt: skip
_HIGH: Final = 5


def large_word(word: str, rows: int, *, plain: bool = False) -> list[str]:
    """Return a word as `rows` lines of equal length, three or more; `plain` uses only ASCII.

    Raises:
        KeyError: It has a letter that no sign has.
    """
    scale = max(1, 2 * rows // _HIGH)
    letters = [_LETTERS[letter].split() for letter in word]
    pixels = [
        ".".join(
            letter[y].replace("#", "#" * scale).replace(".", "." * scale) for letter in letters
        )
        for y in range(_HIGH)
        for _ in range(scale)
    ]
    pixels += ["." * len(pixels[0])] * (2 * rows - len(pixels))
    marks = ' _"#' if plain else " ▄▀█"
    return [
        "".join(
            marks[2 * (upper == "#") + (lower == "#")]
            for upper, lower in zip(pixels[2 * y], pixels[2 * y + 1], strict=True)
        )
        for y in range(rows)
    ]


def fitting_sign(word: str, rows: int, width: int, *, plain: bool = False) -> list[str]:
    """Return a word as large as fits into rows and columns; a large 1 for no word.

    Args:
        word: A word of a few letters.
        rows: The lines that it may take.
        width: The columns that it may take.
        plain: Whether to use ASCII only.
    """
    for tall in (size for size in HEIGHTS if size <= rows):
        drawn = large_word(word, tall, plain=plain) if word else large(1, tall, plain=plain)
        if len(drawn[0]) <= width:
            return drawn
    return [ellipsized(word or "1 of 1", width)]
