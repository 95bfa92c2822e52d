"""Large words, for steps in which there is nothing to count."""

from typing import Final

from coach.tui.layout.big_digits import HEIGHTS, large
from coach.tui.layout.styled_text import fitted

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
    """Return a word as lines of equal length: `rows` lines, three or more; `plain` uses ASCII only.

    Raises KeyError for a letter that no sign has.
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
    """Return a word as large as fits into so many rows and columns; a large 1 for no word.

    Args:
        word: A word of a few letters.
        rows: The lines that it may take.
        width: The columns that it may take.
        plain: Whether only ASCII is drawn with.
    """
    for tall in (size for size in HEIGHTS if size <= rows):
        drawn = large_word(word, tall, plain=plain) if word else large(1, tall, plain=plain)
        if len(drawn[0]) <= width:
            return drawn
    return [fitted(word or "1 of 1", width)]
