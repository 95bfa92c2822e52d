"""The barest app that counts: a figure, a line, and with `timer` a clock that ticks."""

import sys
import time

from textual import events
from textual.app import App, ComposeResult
from textual.widgets import Digits, Static


class BareApp(App[None]):
    """Counts keys and shows them twice."""

    made = 0

    def compose(self) -> ComposeResult:
        """Yield the figure and the line."""
        yield Digits("0")
        yield Static("0 made")

    def on_mount(self) -> None:
        """Begin to show the time, if that is wanted."""
        if sys.argv[1:] == ["timer"]:
            self.set_interval(1, self._tick)

    def on_key(self, event: events.Key) -> None:
        """Count every key."""
        event.stop()
        self.made += 1
        self.query_one(Digits).update(str(self.made))
        self.query_one(Static).update(f"{self.made} made")

    def _tick(self) -> None:
        self.query_one(Static).update(f"{self.made} made, {time.monotonic():.0f} s")


if __name__ == "__main__":
    BareApp().run()
