"""The terminal driver, robust against odd input and against a terminal that is gone.

Textual's own reader ends the program on a byte that is not UTF-8 and on key reports that it
does not know, and reads on at full load from a terminal that no longer exists.
"""

import os
import selectors
import termios
import tty
from codecs import getincrementaldecoder
from collections.abc import Callable
from contextlib import suppress
from threading import Event
from typing import Any, Protocol, runtime_checkable

from textual._xterm_parser import XTermParser  # the library has no public name for it
from textual.app import App
from textual.drivers.linux_driver import LinuxDriver

from coach.tui.input.replies import Replies, translate_function_keys

_WAIT_S = 0.1  # how long an escape key may wait to be told from the start of a sequence
_GIVEN_UP = 20  # such waits until a reply that stopped in the middle is not waited for any more
_MOST_BYTES = 4096


@runtime_checkable
class ExitableApp(Protocol):
    """An app that can end without asking."""

    def action_end(self) -> None:
        """End without asking."""


@runtime_checkable
class TerminalListener(Protocol):
    """An app that asks the terminal questions."""

    def hear(self, reply: str) -> None:
        """React to a reply of the terminal that is no key."""


class _Ending(Event):
    """An event that wakes who waits for input when it is set."""

    def __init__(self) -> None:
        super().__init__()
        self._woken, self._wake = os.pipe()

    def fileno(self) -> int:
        """Return the descriptor that can be read while the event is set."""
        return self._woken

    def set(self) -> None:
        """Set the event."""
        super().set()
        os.write(self._wake, b"!")

    def clear(self) -> None:
        """Clear the event, which is set."""
        super().clear()
        os.read(self._woken, _MOST_BYTES)


class SteadyDriver(LinuxDriver):
    """A driver that reads keys from any input, and ends the app when the terminal is gone."""

    def __init__(
        self, app: App[Any], *, debug: bool = False, mouse: bool = True,
        size: tuple[int, int] | None = None,
    ) -> None:  # fmt: skip
        super().__init__(app, debug=debug, mouse=mouse, size=size)
        self.exit_event = self._ending = _Ending()

    def _heard(self, reply: str) -> None:
        """Pass a reply of the terminal to the app."""
        if isinstance(self._app, TerminalListener):
            self._app.call_later(self._app.hear, reply)

    def _hung_up(self) -> None:
        """End the app as a signal would, since nobody is there to be asked."""
        if isinstance(self._app, ExitableApp):
            self._app.action_end()
        else:
            self._app.exit(0)

    def _sigcont_application(self, *told: object) -> None:
        """Go on after the process was stopped.

        After a key suspended it, Textual restarts its threads. Where a machine slept or another
        program stopped it, all still run: a second start would leave two readers to share the keys,
        and the program would never end.
        """
        if self._must_signal_resume:
            super()._sigcont_application(*told)
        else:
            # A signal handler may interrupt anything: only the loop may touch the terminal.
            self._loop.call_soon_threadsafe(self._go_on)

    def _go_on(self) -> None:
        """Restore the terminal's modes, which a shell may have changed, and repaint."""
        with suppress(termios.error):
            modes = termios.tcgetattr(self.fileno)
            modes[tty.LFLAG] = self._patch_lflag(modes[tty.LFLAG])
            modes[tty.IFLAG] = self._patch_iflag(modes[tty.IFLAG])
            termios.tcsetattr(self.fileno, termios.TCSANOW, modes)
        self.write("\x1b[?1049h\x1b[?25l")  # the alternate screen, and no cursor on it
        self._app.refresh(layout=True)

    def run_input_thread(self) -> None:
        """Read keys and pass them on until the app ends or the terminal is gone."""
        keys = _Keys(self._debug, self.process_message, self._heard)
        with selectors.SelectSelector() as selector:
            selector.register(self.fileno, selectors.EVENT_READ)
            selector.register(self._ending, selectors.EVENT_READ)
            while not self.exit_event.is_set():
                ready = selector.select(_WAIT_S if keys.more_may_come else None)
                if self.exit_event.is_set():
                    return
                # A terminal that is gone is always readable and gives nothing, where /dev/null
                # would spin.
                data = _read(self.fileno) if ready else None
                if data == b"":
                    # On the app's thread; this one only reads.
                    self._app.call_later(self._hung_up)
                    return
                if data:
                    keys.take(data)
                else:
                    keys.rest()


class _Keys:
    """Parses bytes into key events, and restarts after what cannot be parsed."""

    def __init__(
        self, debug: bool, hand_on: Callable[..., None],
        heard: Callable[[str], None] = lambda _: None,
    ) -> None:  # fmt: skip
        self._debug = debug
        self._hand_on = hand_on
        # Incremental, since a character may come in two reads; "replace", since anything may be
        # sent.
        self._decode = getincrementaldecoder("utf-8")("replace").decode
        self._parser = XTermParser(debug)
        self._replies = Replies(heard)
        self._rested = 0
        self.more_may_come = True
        """Whether what came may be the beginning of a sequence, which is not waited for forever."""

    def take(self, data: bytes) -> None:
        """Pass on the keys in `data`; one that cannot be parsed takes no other with it."""
        self._rested = 0
        text = self._decode(data)
        self.more_may_come = self.more_may_come or not text.isprintable()
        for one in self._replies.passed(text):
            self._parse(one)

    def rest(self) -> None:
        """Pass on what waited for more that did not come."""
        self._rested += 1
        self._parse(self._replies.late())
        if self._rested >= _GIVEN_UP:
            self._replies.given_up()
            self.more_may_come = False

    def _parse(self, one: str) -> None:
        try:
            for event in self._parser.feed(translate_function_keys(one)) if one else ():
                self._hand_on(event)
            for event in self._parser.tick():
                self._hand_on(event)
        except Exception:  # noqa: BLE001 - the parser raises whatever odd input leads it to
            self._parser = XTermParser(self._debug)


def _read(fileno: int) -> bytes:
    """Return what the terminal sent; b"" once it is gone."""
    try:
        return os.read(fileno, _MOST_BYTES)
    except OSError:
        return b""
