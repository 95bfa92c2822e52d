"""The base of all apps: styles and colours, keys in turn, a driver that survives odd input."""

import asyncio
import os
from pathlib import Path

from textual import events
from textual.app import App
from textual.driver import Driver
from textual.filter import Monochrome, NoColor
from textual.theme import Theme

from coach.session.keymap import ACTIONS, Keys
from coach.settings.settings import Picture
from coach.tui.input.input_queue import TYPED, InputQueue
from coach.tui.messages import ImagesKnown
from coach.tui.pixels.image_support import ImageSupport, is_installed
from coach.tui.pixels.terminal_capabilities import ASKED
from coach.tui.theme.palette import Palette
from coach.tui.theme.textual_theme import textual_theme


class PaletteApp(App[int]):
    """An app in the colours of one palette; its result is an exit status."""

    ENABLE_COMMAND_PALETTE = False
    CSS_PATH = Path(__file__).with_name("bench.tcss")

    def __init__(self, palette: Palette, keys: Keys | None = None) -> None:
        """Set the colours, and the keys as they are set."""
        self._worn = textual_theme(palette)
        self.set_reactive(App.theme, palette.name)  # before any style is parsed: they are once
        super().__init__()
        self.keys = keys or Keys()
        # `set_keymap` accepts unknown ids silently; ours come from ACTIONS, so they all exist.
        self.set_keymap(_keymap(self.keys))
        # for no colours at all the library would give shades of grey
        self._filters = [one for one in self._filters if not isinstance(one, Monochrome)]
        if palette.depth == "none":
            self._filters.append(NoColor())
        self._mouse_taken = True
        self._typed = InputQueue(self)
        self._typist: asyncio.Task[None] | None = None
        self.showing = ImageSupport("cells", os.environ, installed=False)

    @property
    def more_typed(self) -> bool:
        """Whether keys are waiting, so that what this one shows is over at once."""
        return self._typed.more

    @property
    def read_s(self) -> float | None:
        """When the current key or tap was read, on the clock of Textual's events."""
        return self._typed.read_s

    def has_turn(self, event: events.Event) -> None:
        """React to a key or tap that is about to go to the screen."""

    async def on_event(self, event: events.Event) -> None:
        """Queue input until its turn; drop it once the app is closing.

        By then Textual has reported that it stopped, but may still process what has come.
        """
        if isinstance(event, TYPED):
            if not self.is_running or self._typed.waits(event):
                return
            if not event.is_forwarded:
                self.has_turn(event)
        await super().on_event(event)

    def switch_mouse(self) -> str:
        """Release the mouse to the terminal, or capture it again, and return which."""
        self._mouse_taken = not self._mouse_taken
        name = "_enable_mouse_support" if self._mouse_taken else "_disable_mouse_support"
        getattr(self._driver, name, lambda: None)()  # the library has no public way
        back = "The terminal has the mouse, for copying."
        return "Taps and the wheel work here." if self._mouse_taken else back

    def show_images(self, picture: Picture) -> None:
        """Find out whether this terminal shows images, if the maker wants them."""
        self.showing = ImageSupport(picture, os.environ, installed=is_installed())
        if self.showing.asks:
            self.write(ASKED)

    async def on_mount(self) -> None:
        """Begin to pass keys on."""
        self._typist = asyncio.create_task(self._typed.hand_on())

    async def on_unmount(self) -> None:
        """Stop passing keys on and drawing images."""
        if self._typist:
            self._typist.cancel()
        await self.showing.close()

    def write(self, sent: str) -> None:
        """Send something to the terminal, after what was painted before."""
        if self._driver:
            self._driver.write(sent)
            self._driver.flush()

    def hear(self, reply: str) -> None:
        """Take an answer of the terminal."""
        if self.showing.hear(reply):
            self.screen.post_message(ImagesKnown())

    def wear(self, palette: Palette) -> None:
        """Apply a palette to everything that Textual draws."""
        self._worn = textual_theme(palette)
        self.theme = palette.name

    @property
    def available_themes(self) -> dict[str, Theme]:
        """Textual's themes and the one that is worn, which it asks for before it is set up."""
        return {**super().available_themes, self._worn.name: self._worn}

    def get_driver_class(self) -> type[Driver]:
        """Return the driver for this system; on Linux and macOS `SteadyDriver`."""
        driver = super().get_driver_class()
        # By name: importing LinuxDriver fails on systems without termios.
        if driver.__name__ != "LinuxDriver":
            return driver
        from coach.tui.input.terminal_driver import SteadyDriver  # noqa: PLC0415 - not everywhere

        return SteadyDriver


def _keymap(keys: Keys) -> dict[str, str]:
    """Return the keys of actions with changed keys, by the ids of their bindings.

    An action without keys gets one that no terminal sends, since Textual cannot unset a binding.
    """
    usual = {action.id: action.keys for action in ACTIONS}
    set_now = {one.id: one.keys for one in keys.actions if one.keys != usual[one.id]}
    return {name: ",".join(own) or f"no_key_for_{name}" for name, own in set_now.items()}
