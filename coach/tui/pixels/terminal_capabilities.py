"""A terminal's replies about images: whether it shows them, how, and its cell size.

It is asked three things, and the last, which every terminal answers, ends the waiting: a test
image (the reply to it names the number below), the size of a cell in pixels, and its
attributes, of which 4 is sixel graphics (DEC STD 070; quoted).
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from coach.settings.settings import Picture

Way = Literal["sixel", "kitty"]

_TRIED: Final = 4107
ASKED: Final = f"\x1b_Gi={_TRIED},s=1,v=1,a=q,t=d,f=24;AAAA\x1b\\\x1b[16t\x1b[c"
"""What is sent to ask."""
_CELL: Final = re.compile(r"\x1b\[6;([0-9]{1,4});([0-9]{1,4})t")
_ATTRIBUTES: Final = re.compile(r"\x1b\[\?([0-9;]+)c")
_SIXEL: Final = "4"
_SHOWN: Final = f"\x1b_Gi={_TRIED};OK"
_CELLS: Final = range(4, 129)  # pixels of a cell's side that can be true
_USUAL: Final = (10, 20)
_PASSING_ON: Final = ("TMUX", "STY", "ZELLIJ")  # set inside programs that stand between
NO_IMAGES: Final = "This terminal shows no images, so the board is drawn in cells."
NOT_INSTALLED: Final = (
    "‘picture: pixels’ needs an extra: pip install 'bench-coach[pixels]'. "
    "Until then the board is drawn in cells."
)


@dataclass(frozen=True, slots=True)
class Images:
    """How a terminal shows images, and the width and height of its cells in pixels."""

    way: Way
    cell: tuple[int, int]


class TerminalCapabilities:
    """Collects the replies of one terminal; `images` is known once `whole` is true."""

    def __init__(self, picture: Picture, environment: Mapping[str, str]) -> None:
        """Set the maker's wish, and the environment, which shows programs in between."""
        self._sure = picture == "pixels"
        self._between = any(environment.get(name) for name in _PASSING_ON)
        self._cell: tuple[int, int] | None = None
        self._ways: list[Way] = []
        self.whole = False

    def hear(self, reply: str) -> None:
        """Read a reply; unrelated ones are ignored."""
        if self.whole:
            return
        if reply == _SHOWN:
            self._ways.append("kitty")
        elif size := _CELL.fullmatch(reply):
            high, wide = int(size[1]), int(size[2])
            self._cell = (wide, high) if wide in _CELLS and high in _CELLS else None
        elif told := _ATTRIBUTES.fullmatch(reply):
            self._ways += ["sixel"] if _SIXEL in told[1].split(";")[1:] else []
            self.whole = True

    @property
    def images(self) -> Images | None:
        """How images are shown; None where there are none, or where `auto` leaves a doubt.

        It is in doubt without the size of a cell, and where a multiplexer stands between that may
        answer for a terminal which cannot.
        """
        doubt = self._between or self._cell is None
        if not self.whole or not self._ways or (doubt and not self._sure):
            return None
        return Images(self._ways[0], self._cell or _USUAL)
