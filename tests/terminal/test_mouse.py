"""Taps and the wheel in a real terminal, as the bytes that it sends (SGR mouse reports, xterm).

Needs POSIX: pseudo-terminals.
"""

from pathlib import Path

from real_terminal import RealTerminal, shows


def tap(column: int, row: int) -> str:
    """Return what a terminal sends for a tap on a cell, counted from 0."""
    return f"\x1b[<0;{column + 1};{row + 1}M\x1b[<0;{column + 1};{row + 1}m"


def test_taps_count_once_the_keys_can_be_tapped_and_the_mouse_goes_back(tmp_path: Path) -> None:
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path), settings="") as terminal:
        terminal.until(shows(0, 27))
        terminal.press(tap(40, 14))
        terminal.until(shows(1, 27))
        terminal.rest()
        terminal.press(tap(40, 14) * 3)  # a thumb that trembles
        terminal.until(shows(2, 27))
        terminal.until("counted once")
        foot = terminal.text.splitlines()[-1]
        terminal.press(tap(foot.index("one back"), 23))
        terminal.until(shows(1, 27))
        terminal.press(tap(foot.index("help"), 23))
        terminal.until("Count one as made.")
        close = terminal.text.splitlines()[-1].index("back")
        terminal.press(tap(close, 23))
        terminal.until(shows(1, 27))
        terminal.press("\x1b[<65;41;13M")
        terminal.until("Looking ahead")
        terminal.until("I am here")
        terminal.press("\x1b[<64;41;13M\x1b")
        terminal.until("space made")
        before = len(terminal.written)
        terminal.press("M")
        terminal.until("The terminal has the mouse")
        assert "\x1b[?1000l" in terminal.written[before:]
        terminal.press("M")
        terminal.until("Taps and the wheel work here")
        terminal.press("q")
        assert terminal.end() == 0
