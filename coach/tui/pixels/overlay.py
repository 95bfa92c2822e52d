"""Drawing the board's image over its cells, only while no key is pressed.

The cells are always painted: a terminal that claims images and shows none still shows the board.
"""

from collections.abc import Callable, Sequence
from typing import Final

from coach.tui.pixels.terminal_capabilities import Images
from coach.tui.pixels.tile import PlacedTiles
from coach.tui.pixels.tile_drawer import Draw

RESTED_S: Final = 0.15
"""How long nothing was painted before tiles are laid over it."""
_CHUNK: Final = 4096  # of base 64 in one control string, as the protocol has it
_IDS: Final = 4200  # the number of the first tile


class Overlay:
    """Remembers which tiles are visible, and sends those that are not."""

    def __init__(self, write: Callable[[str], None]) -> None:
        """Set the function that writes to the terminal."""
        self._write = write
        self._seen: dict[int, tuple[str, int]] = {}  # by its line: SVG, and how many lines
        self._images: Images | None = None

    def painted(self, lines: Sequence[int]) -> None:
        """Record that cells were painted on these lines: no tile is visible there any more."""
        over = {
            line for line, (_, high) in self._seen.items()
            if any(line <= y < line + high for y in lines)
        }  # fmt: skip
        for line in over:
            del self._seen[line]
        if over and self._images and self._images.way == "kitty":  # it would float above the cells
            self._write("".join(f"\x1b_Ga=d,d=I,i={_IDS + line},q=2\x1b\\" for line in over))

    def hide(self) -> None:
        """Remove every tile, as when another screen is shown."""
        self.painted(range(1000))

    async def lay(
        self, lying: PlacedTiles, images: Images, draw: Draw, wanted: Callable[[], bool]
    ) -> None:
        """Send the tiles that are not visible yet, one by one.

        Args:
            lying: The tiles, and the cells of the screen that they lie over.
            images: How the terminal takes images.
            draw: Turns a tile into what the terminal takes.
            wanted: Whether they still are, asked before each; a key or another picture ends it.
        """
        self._images = images
        for tile in lying.tiles:
            line = lying.line + tile.line
            if self._seen.get(line) == (tile.svg, tile.lines):
                continue
            sent = await draw(tile.svg, images.way)
            if not wanted():
                return
            if sent:
                self._write(
                    tile_sequences(sent, images, (lying.column, line), (lying.columns, tile.lines))
                )
                self._seen[line] = tile.svg, tile.lines


def tile_sequences(sent: str, images: Images, at: tuple[int, int], cells: tuple[int, int]) -> str:
    """Return the control strings that show a tile; the cursor goes back to where it was.

    Args:
        sent: The tile as it is sent.
        images: How the terminal takes images.
        at: The column and line of the tile, from 0.
        cells: Its columns and lines.
    """
    column, line = at
    shown = sent
    if images.way == "kitty":
        keys = f"a=T,f=100,i={_IDS + line},p=1,C=1,q=2,c={cells[0]},r={cells[1]},"
        parts = [sent[n : n + _CHUNK] for n in range(0, len(sent), _CHUNK)]
        shown = "".join(
            f"\x1b_G{'' if n else keys}m={int(n + 1 < len(parts))};{part}\x1b\\"
            for n, part in enumerate(parts)
        )
    return f"\x1b7\x1b[{line + 1};{column + 1}H{shown}\x1b8"
