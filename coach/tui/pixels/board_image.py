"""The image of one plan's board as tiles, made in the background."""

import asyncio
from collections.abc import Mapping
from importlib import import_module
from typing import Any

from coach.plan.plan_model import Plan
from coach.tui.pixels.tile import BoardArea, Tile


class BoardImage:
    """Makes the tiles of one plan's board in the colours of the screen, as `#rrggbb`."""

    def __init__(self, plan: Plan, cords: Mapping[str, str], ground: str, hands: str) -> None:
        """Set a plan and the colours.

        Args:
            plan: The plan.
            cords: The colour of each cord.
            ground: The background.
            hands: The highlight of the current strands.
        """
        self._plan = plan
        self._cords = cords
        self._grounds = ground, hands
        self._tiles: Any = None

    async def tiles(self, done: int, room: BoardArea) -> tuple[Tile, ...]:
        """Return the tiles after `done` counts."""
        return await asyncio.to_thread(self._made, done, room)

    def _made(self, done: int, room: BoardArea) -> tuple[Tile, ...]:
        if self._tiles is None:  # the scene is loaded only where images are shown
            looks = import_module("coach.picture.render.shades").looks
            make = import_module("coach.tui.pixels.tiles").BoardTiles
            self._tiles = make(self._plan, looks(list(self._cords), self._cords), *self._grounds)
        return tuple(self._tiles.tiles(done, room))
