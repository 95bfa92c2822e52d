"""Drawing tiles in another process, with a cache."""

import asyncio
import json
import sys
from collections import OrderedDict
from collections.abc import Awaitable, Callable
from contextlib import suppress
from pathlib import Path
from typing import Final, TypeAlias

from coach.tui.pixels.terminal_capabilities import Way

Draw: TypeAlias = Callable[[str, Way], Awaitable[str]]
"""Draws an SVG picture as a terminal is sent it; "" where that cannot be done."""
_MOST_KEPT: Final = 200
_WORKER: Final = Path(__file__).with_name("tile_worker.py")
_MOST_BYTES: Final = 2**24  # of one line of its answers


class TileDrawer:
    """Draws tiles in a process that is started with the first one; each tile only once."""

    def __init__(self, program: tuple[str, ...] = (sys.executable, str(_WORKER))) -> None:
        """Set the command of the program that draws."""
        self._program = program
        self._process: asyncio.subprocess.Process | None = None
        self._turn = asyncio.Lock()
        self._kept: OrderedDict[tuple[str, Way], str] = OrderedDict()

    async def __call__(self, svg: str, way: Way) -> str:
        """Return a tile as it is sent; "" where it cannot be drawn."""
        async with self._turn:
            if (svg, way) not in self._kept:
                self._kept[svg, way] = await self._drawn(svg, way)
                if len(self._kept) > _MOST_KEPT:
                    self._kept.popitem(last=False)
            self._kept.move_to_end((svg, way))
            return self._kept[svg, way]

    async def _drawn(self, svg: str, way: Way) -> str:
        with suppress(OSError, ValueError):  # not there, gone, or not what was asked for
            process = self._process or await self._started()
            if process.stdin and process.stdout:
                process.stdin.write(json.dumps({"svg": svg, "way": way}).encode() + b"\n")
                await process.stdin.drain()
                return str(json.loads(await process.stdout.readline()))
        return ""

    async def _started(self) -> asyncio.subprocess.Process:
        none, pipe = asyncio.subprocess.DEVNULL, asyncio.subprocess.PIPE
        self._process = await asyncio.create_subprocess_exec(
            *self._program, stdin=pipe, stdout=pipe, stderr=none, limit=_MOST_BYTES,
            start_new_session=True,
        )  # fmt: skip
        return self._process

    async def close(self) -> None:
        """End the process."""
        if self._process and self._process.returncode is None:
            with suppress(ProcessLookupError):
                self._process.kill()
            await self._process.wait()
