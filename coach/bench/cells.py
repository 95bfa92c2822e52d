"""What a picture of the board is made of: cells, and the characters they may hold."""

from dataclasses import dataclass
from typing import Final, Literal, NamedTuple, TypeAlias

Part = Literal[
    "", "cord", "holding", "knotting", "knot", "across", "pending",
    "number", "here", "initial", "word", "bar", "edge",
]  # fmt: skip


class Cell(NamedTuple):
    """One character of a picture; `age` is how many steps ago it was made."""

    char: str = " "
    part: Part = ""
    strand: int | None = None
    age: int = 0


BLANK: Final = Cell()
Line: TypeAlias = dict[int, Cell]  # cells by column; what is missing is blank


@dataclass(frozen=True, slots=True)
class Glyphs:
    """One set of single-width characters.

    `turns` are the corners that a cord takes from above to the right and to the left, and from
    the left and the right downward.
    """

    cord: str
    holding: str
    knotting: str
    across: str
    turns: tuple[str, str, str, str]
    body: tuple[str, str, str]  # a knot: left edge, inside, right edge
    upright: tuple[str, str, str]  # a knot of the travelling strand
    single: tuple[str, str, str, str]  # one turn: left end, across, over a filler, right end
    double: tuple[str, str, str, str]  # two turns
    lace: str
    roll: str
    pending: str
    end: str
    bar: str
    cut: str
    more: tuple[str, str]


UNICODE: Final = Glyphs(
    cord="┃", holding="║", knotting="█", across="━", turns=("┗", "┛", "┓", "┏"),
    body=("▇", "▇", "▇"), upright=("╞", "═", "╡"),
    single=("┣", "━", "╂", "┫"), double=("▇", "▇", "┃", "▇"),
    lace="╳",  # noqa: RUF001 - two cords crossing, not a letter
    roll="▓", pending="░", end="╹", bar="▀", cut="┄",
    more=("‹", "›"),  # noqa: RUF001 - pointing out of the picture
)  # fmt: skip

ASCII: Final = Glyphs(
    cord="|", holding="!", knotting="#", across="=", turns=("\\", "/", "\\", "/"),
    body=("(", "@", ")"), upright=("(", "=", ")"),
    single=("+", "-", "+", "+"), double=("+", "=", "#", "+"),
    lace="x", roll="%", pending=".", end="'", bar="=", cut="-", more=("<", ">"),
)  # fmt: skip


def glyphs_for(encoding: str | None) -> Glyphs:
    """Give the characters that a terminal with this encoding can show."""
    try:
        "━┃░▓▇".encode(encoding or "ascii")
    except (LookupError, UnicodeEncodeError):
        return ASCII
    return UNICODE
