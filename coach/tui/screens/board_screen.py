"""The base of the work screen: it shows a piece and draws images over its board."""

import asyncio
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from textual.app import ComposeResult
from textual.strip import Strip
from textual.timer import Timer

from coach.session.controller import BenchController
from coach.session.view_model import View
from coach.tui.base_app import PaletteApp
from coach.tui.drawing.cells import Glyphs
from coach.tui.layout.key_footer import work_hints
from coach.tui.layout.styled_text import Inks
from coach.tui.layout.work_layout import WorkLayout
from coach.tui.pixels.board_image import BoardImage
from coach.tui.pixels.overlay import RESTED_S, Overlay
from coach.tui.pixels.terminal_capabilities import Images
from coach.tui.pixels.tile import BoardArea, PlacedTiles
from coach.tui.screens.base_screen import BenchScreen
from coach.tui.widgets.keys_line import Hint, KeysLine
from coach.tui.widgets.painted_lines import PaintedLines

_LEAST: Final = 4  # lines that an image is worth
_STILL_S: Final = 0.05  # after which a key is on the screen and the next board may be drawn


class BoardScreen(BenchScreen[None]):
    """Shows one piece and its keys, and repaints what has changed."""

    def __init__(self, work: BenchController, inks: Inks, glyphs: Glyphs) -> None:
        super().__init__()
        self._work = work
        self.glyphs = glyphs
        self._face = WorkLayout(work.plan, inks.of(work.plan), work.keys, glyphs)
        self._view: View | None = None  # as it is drawn, or will be
        self._sheet = PaintedLines(self._drawn, "face")
        self._sheet.painted = self._painted
        self._overlay: Overlay | None = None
        self._image: BoardImage | None = None
        self._resting: Timer | None = None
        self._still: asyncio.TimerHandle | None = None
        self._laying: asyncio.Task[None] | None = None

    def compose(self) -> ComposeResult:
        """Yield the face of the piece, and the keys."""
        yield self._sheet
        yield KeysLine(self.hints)

    def on_mount(self) -> None:
        """Begin to follow the time."""
        self.set_interval(1, self._follow_time)

    def on_unmount(self) -> None:
        """Stop drawing."""
        if self._still:
            self._still.cancel()
        if self._laying:
            self._laying.cancel()

    def on_screen_resume(self) -> None:
        """Show what has changed while another screen was on top."""
        self._painted(range(self._sheet.size.height))
        self.show()

    def on_screen_suspend(self) -> None:
        """Remove images before another screen is shown."""
        if self._overlay:
            self._overlay.hide()

    def on_images_known(self) -> None:
        """Draw the first image over the board."""
        self._painted(())

    def show(self) -> None:
        """Take a view of the piece, and repaint what has changed unless covered."""
        # A covered screen shows what has changed when it is resumed.
        if self.app.screen is not self:
            return
        if self._work.stale:
            self._take_up(self._work.anew())
        voice = self._work.aids.voice
        self._work.unspoken = (voice.trouble() if voice else "") or self._work.unspoken
        view = self._work.view()
        if view != self._view:
            before, self._view = self._view, view
            self._sheet.show()
            self._draw_when_still()
            if before is None or _offers(before) != _offers(view):
                self.refresh_bindings()

    def _follow_time(self) -> None:
        """Show what a second has changed."""
        if self.is_current:
            self.show()

    def _draw_when_still(self) -> None:
        """Draw the board after one more count in advance, while the maker ties it.

        That takes a third of the time from a key to the screen. A timer of the library would wake
        the program three times for it.
        """
        if self._still:
            self._still.cancel()
        self._still = asyncio.get_running_loop().call_later(_STILL_S, self._draw_ahead)

    def _draw_ahead(self) -> None:
        self._face.draw_ahead(self._seen().done + 1)

    def hints(self) -> Sequence[Hint]:
        """Return the keys that do something now; without tips if images cover the board."""
        work = self._work  # not its view: a first look takes long, and may be covered by a question
        finished = work.done >= work.plan.total
        hints = work_hints(work.keys, any_key=work.settings.any_key, finished=finished)
        covered = isinstance(self.app, PaletteApp) and self.app.showing.wanted
        return [replace(hint, tip="") for hint in hints] if covered else hints

    def _drawn(self, width: int, height: int) -> list[Strip]:
        return self._face.lines(self._seen(), width, height)

    def _seen(self) -> View:
        """Return the last view, or the first one if there is none."""
        if self._view is None:
            self._view = self._work.view()
        return self._view

    @property
    def inks(self) -> Inks:
        """The styles, with the colours of the piece's cords."""
        return self._face.inks

    @property
    def work(self) -> BenchController:
        """The controller of the piece."""
        return self._work

    def _take_up(self, work: BenchController) -> None:
        """Go on with a controller whose plan follows the last happening."""
        self._work, self._view = work, None
        self._face = WorkLayout(work.plan, self._face.inks.of(work.plan), work.keys, self.glyphs)
        self._image = None

    def wear(self, inks: Inks) -> None:
        """Show the piece in other colours."""
        self._face = WorkLayout(
            self._work.plan, inks.of(self._work.plan), self._work.keys, self.glyphs
        )
        self._image = None
        self._sheet.show()

    def _painted(self, lines: Sequence[int]) -> None:
        """Redraw the image where cells were painted, after a moment without painting."""
        app = self.app
        if not isinstance(app, PaletteApp) or not app.showing.wanted:
            return
        if self._overlay:
            self._overlay.painted(lines)
        if self._resting:
            self._resting.stop()
        self._resting = self.set_timer(RESTED_S, self._rested)

    def _rested(self) -> None:
        app = self.app
        if not (isinstance(app, PaletteApp) and app.screen is self):
            return
        if told := app.showing.trouble():
            self._work.message = told
            self.show()
        elif (images := app.showing.images) and not (self._laying and not self._laying.done()):
            self._laying = asyncio.create_task(self._lay(app, images))

    async def _lay(self, app: PaletteApp, images: Images) -> None:
        """Draw the tiles that are not visible, until the piece or the screen changes."""
        view, size = self._seen(), self.size
        self._overlay = self._overlay or Overlay(app.write)
        room = self._room(images)
        if not room:
            return

        # Tiles take long to draw: by then a key may have been pressed or a page opened.
        def wanted() -> bool:
            return app.screen is self and self._seen() is view and self.size == size

        tiles = await self._shown_as().tiles(view.done, room[0])
        if wanted():
            lying = PlacedTiles(tiles, *room[1], room[0].columns)
            await self._overlay.lay(lying, images, app.showing.draw, wanted)
        if not wanted() and app.screen is self:
            self._painted(())

    def _shown_as(self) -> BoardImage:
        """Return the maker of tiles in the screen's current colours."""
        if self._image is None:
            inks, plan = self._face.inks, self._work.plan
            palette = inks.palette
            self._image = BoardImage(plan, inks.seen(plan), palette.background, palette.figure)
        return self._image

    def _room(self, images: Images) -> tuple[BoardArea, tuple[int, int]] | None:
        """Return the room above the board's labels, and the column and line where it begins."""
        spot, (width, height) = self._face.spot, self._sheet.size
        if spot.picture is None or not spot.picture.wide:
            return None
        rows = len(spot.picture.rows)
        lines = rows - spot.picture.labels
        room = BoardArea(spot.columns, lines, spot.picture.columns, spot.picture.wide, images.cell)
        at = int(spot.columns < width), height - spot.below - rows
        return (room, at) if lines >= _LEAST else None


def _offers(view: View) -> tuple[bool, bool]:
    """Return what decides which keys do something."""
    return view.any_key, view.finished
