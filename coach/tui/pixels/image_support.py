"""Whether the board is shown as an image on this terminal, and the message about it."""

from collections.abc import Mapping
from importlib.util import find_spec
from typing import Final

from coach.settings.settings import Picture
from coach.tui.pixels.terminal_capabilities import (
    NO_IMAGES,
    NOT_INSTALLED,
    Images,
    TerminalCapabilities,
)
from coach.tui.pixels.tile_drawer import Draw, TileDrawer

_NEEDED: Final = ("resvg_py", "PIL", "textual_image")


def is_installed() -> bool:
    """Return whether the extra is installed."""
    return all(find_spec(name) for name in _NEEDED)


class ImageSupport:
    """Knows how images are shown, once the terminal has answered, and draws tiles.

    `asks` is whether the terminal is to be asked at all.
    """

    def __init__(
        self, picture: Picture, environment: Mapping[str, str], *, installed: bool,
        draw: Draw | None = None,
    ) -> None:  # fmt: skip
        """Set what decides whether the board is shown as an image.

        Args:
            picture: The maker's wish.
            environment: The environment variables.
            installed: Whether the extra that images need is installed.
            draw: Draws tiles; by default the extra does.
        """
        self.asks = installed and picture != "cells"
        self.draw = draw or TileDrawer()
        self._claims = TerminalCapabilities(picture, environment)
        self._wished = picture == "pixels"
        self._missing = self._wished and not installed

    def hear(self, reply: str) -> bool:
        """Read a reply of the terminal; return whether it was the last one."""
        before = self._claims.whole
        self._claims.hear(reply)
        return self.asks and self._claims.whole and not before

    @property
    def images(self) -> Images | None:
        """How images are shown; None until that is known, and where they are not."""
        return self._claims.images if self.asks else None

    def trouble(self) -> str:
        """Return once why a wish for images cannot be met, else ""."""
        told = NOT_INSTALLED if self._missing else ""
        if self._wished and self.asks and self._claims.whole and not self.images:
            told = NO_IMAGES
        self._wished, self._missing = self._wished and not told, self._missing and not told
        return told

    @property
    def wanted(self) -> bool:
        """Whether there is anything to show or to say."""
        return self.asks or self._missing

    async def close(self) -> None:
        """Stop drawing."""
        if isinstance(self.draw, TileDrawer):
            await self.draw.close()
