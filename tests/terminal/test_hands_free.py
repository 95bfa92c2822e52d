"""Pedals, elbows and plain lines, through a real terminal and through a pipe.

Needs POSIX: pseudo-terminals.
"""

import re
from pathlib import Path

import pytest
from command_line import coach
from forks import coach as coach_forked
from processes import Completed
from real_terminal import RealTerminal, shows

from coach.piece import Store, list_pieces

BELT = """
coach: 1
title: Mud-flat belt
cords:
  reed: {colour: "#5b7f3a", fibre: cotton, diameter: 2 mm, pieces: 4}
  clay: {colour: sienna, fibre: cotton, diameter: 2 mm, pieces: 4}
start: {hang: [4 reed, 4 clay], on: dowel, diameter: 10 mm}
work:
  - {use: ripple, times: 20}
parts:
  ripple:
    - {net: 1-16 by 4, of: square knot, rows: 8}
"""


def done(home: Path) -> int:
    """Return how many counts of the only piece are stored."""
    with Store(home / "data" / "coach.db") as store:
        return list_pieces(store)[0].done


CLICKER = {
    "page down": "\x1b[6~", "right": "\x1b[C", "right, keypad mode": "\x1bOC", "down": "\x1b[B",
    "enter": "\r", "space": " ",
}  # fmt: skip


def test_a_clicker_counts_as_it_comes(tmp_path: Path) -> None:
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path)) as terminal:
        terminal.until("0 of 27")
        for sent in CLICKER.values():
            terminal.press(sent)
            terminal.until("1 of 27")
            terminal.press("\x1b[5~")
            terminal.until("0 of 27")


PEDALS = (
    ("f13", "\x1b[25~"), ("f13", "\x1b[1;2P"), ("f13", "\x1b[57376u"), ("f15", "\x1b[1;2R"),
    ("f18", "\x1b[32~"), ("f20", "\x1b[34~"), ("f24", "\x1b[24;2~"), ("f24", "\x1b[57387u"),
    ("x", "x"), ("ctrl+right", "\x1b[1;5C"),
)  # fmt: skip


def test_a_pedal_counts_with_the_key_that_it_is_set_to(tmp_path: Path) -> None:
    names = ", ".join(dict(PEDALS))
    settings = f"bounce: 0\nkeys: {{count: [{names}], mark: ctrl+k}}\n"
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path), settings=settings) as terminal:
        terminal.until("0 of 27")
        for done, (_, sent) in enumerate(PEDALS, start=1):
            terminal.press("  " + sent)
            terminal.until(shows(done, 27))


def test_an_elbow_counts_with_any_key_until_escape(tmp_path: Path) -> None:
    settings = "bounce: 0\nany key counts: yes\n"
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path), settings=settings) as terminal:
        terminal.until("0 of 27")
        for number, key in enumerate("zq?pl", start=1):
            terminal.press(key)
            terminal.until(f"{number} of 27")
        terminal.press("\x7f")
        terminal.until("4 of 27")
        terminal.press("\x1b")
        terminal.until("Only the counting keys count")
        terminal.press("zq")
        assert terminal.end() == 0
    assert done(tmp_path) == 4


def test_500_keys_in_one_burst_are_all_counted(tmp_path: Path) -> None:
    belt = tmp_path / "belt.yaml"
    belt.write_text(BELT)
    with RealTerminal("knot", str(belt), home=str(tmp_path)) as terminal:
        terminal.until("0 of 560")
        terminal.press(" " * 500)
        terminal.until("500 of 560")
        terminal.press("q")
        assert terminal.end() == 0
    assert done(tmp_path) == 500


def test_nothing_is_painted_while_nobody_knots(tmp_path: Path) -> None:
    """The time is told in minutes, so that two seconds pass without a byte."""
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path)) as terminal:
        terminal.until("0 of 27")
        terminal.rest()
        before = len(terminal.written)
        terminal.read_for(2)
        assert len(terminal.written) - before < 2000


def test_passes_are_kept_through_a_kill(tmp_path: Path) -> None:
    settings = "bounce: 0\ncount by: pass\n"
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path), settings=settings) as terminal:
        terminal.until("0 of 27")
        terminal.press(" ")
        terminal.until("Pass 1 of 2")
        terminal.press(" ")
        terminal.until("Pass 2 of 2")
        terminal.kill()
    assert done(tmp_path) == 1
    with RealTerminal("knot", "reed-keyring", home=str(tmp_path)) as terminal:
        terminal.until(lambda text: "made" in text or "1 of 27" in text)
        terminal.press(" ")
        terminal.until("Pass 2 of 2")
        terminal.press(" ")
        terminal.until("2 of 27")
    assert done(tmp_path) == 2


def test_keys_are_named_with_what_they_would_do(tmp_path: Path) -> None:
    settings = "keys: {rest: f14, count: nokey}\n"
    with RealTerminal("keys", home=str(tmp_path), columns=110, settings=settings) as terminal:
        terminal.until("Press a key or a pedal")
        assert "KEY-NAME" in terminal.text
        for sent, name, does in (
            ("\x1b[25~", "f13", "nothing"), ("\x1b[26~", "f14", "rest: "),
            ("\x1b[6~", "page down", "count: "), ("?", "?", "help: "),
            ("\x1b", "escape", "nothing"),
        ):  # fmt: skip
            terminal.press(sent)
            terminal.until(
                lambda text, name=name, does=does: bool(
                    re.search(rf"^ *{re.escape(name)} +{does}", text, re.MULTILINE)
                )
            )
        terminal.press("q")
        terminal.until(lambda text: bool(re.search("^ *q +leave", text, re.MULTILINE)))
        terminal.press("xqq")
        assert terminal.end() == 0


def test_settings_that_are_wrong_are_told_at_start_and_change_nothing(tmp_path: Path) -> None:
    wrong = "units: cm\nkeys:\n  count: [space, r]\n"
    with RealTerminal(
        "knot", "reed-keyring", home=str(tmp_path), columns=120, settings=wrong
    ) as terminal:
        terminal.until("settings.yaml:3:18")
        terminal.press(" ")
        terminal.until(lambda text: "1 of 27" in text and "settings.yaml:3:18" not in text)
        terminal.press("q")
        assert terminal.end() == 0
    assert "KEY-CLASH" in terminal.written


PLAINLY = ("knot", "reed-keyring", "--plain")


def plainly(home: Path, typed: str | bytes) -> Completed:
    """Walk a keyring in plain lines."""
    return coach(*PLAINLY, typed=typed, environment={"COACH_HOME": str(home)})


def test_a_keyring_is_walked_in_plain_lines_through_a_pipe(tmp_path: Path) -> None:
    seen = {"COACH_HOME": str(tmp_path), "TERM": "dumb"}
    walk = coach_forked(*PLAINLY, environment=seen)
    told, _ = walk.communicate("\n" * 27 + "leave\n")
    assert walk.returncode == 0
    assert "Finished: all 27 made." in told
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f]", told)
    assert done(tmp_path) == 27


def test_plain_lines_keep_what_was_counted_when_the_pipe_ends(tmp_path: Path) -> None:
    assert plainly(tmp_path, "\n\n-\n\n").returncode == 0
    assert done(tmp_path) == 2
    assert "2 of 27 made" in plainly(tmp_path, "").stdout


def test_plain_lines_take_any_bytes(tmp_path: Path) -> None:
    odd = b"\xff\xfe\x00\n\x1b[31m\n" + b"9" * 5000 + b"\nnote \xe2\x80\xae x\n\x1b\n\n"
    walked = plainly(tmp_path, odd)
    assert walked.returncode == 0
    assert b"Traceback" not in walked.stderr
    assert done(tmp_path) == 1


def test_a_terminal_that_writes_lines_only_gets_plain_lines(tmp_path: Path) -> None:
    environment = {"TERM": "dumb"}
    with RealTerminal(
        "knot", "reed-keyring", home=str(tmp_path), environment=environment
    ) as terminal:
        terminal.until("help lists all words")
        terminal.press("\r")
        terminal.until("1 of 4. Square knot")
        terminal.press("leave\r")
        assert terminal.end() == 0
    assert "\x1b" not in terminal.written


@pytest.mark.parametrize(
    ("environment", "colours"),
    [
        ({"TERM": "xterm-256color", "COLORTERM": "truecolor"}, r"\x1b\[[0-9;]*38;2;"),
        ({"TERM": "xterm-256color", "COLORTERM": ""}, r"\x1b\[[0-9;]*38;5;"),
        ({"TERM": "xterm", "COLORTERM": ""}, r"\x1b\[[0-9;]*(3|9)[0-7][;m]"),
    ],
)
def test_a_terminal_gets_the_colours_that_it_has(
    tmp_path: Path, environment: dict[str, str], colours: str
) -> None:
    written = shown(tmp_path, environment)
    assert re.search(colours, written)
    if "truecolor" not in environment.values():
        assert not re.search(r"[34]8;2;", written)


@pytest.mark.parametrize("environment", [{"NO_COLOR": "1"}, {"TERM": "vt220", "COLORTERM": ""}])
def test_who_wants_no_colours_gets_none(tmp_path: Path, environment: dict[str, str]) -> None:
    codes = re.findall(r"\x1b\[([0-9;]*)m", shown(tmp_path, environment))
    assert codes
    parts = {part for code in codes for part in code.split(";") if len(part) > 1}
    assert parts <= {"39", "49"}, "the terminal's own colours are none"


@pytest.mark.parametrize(
    "environment",
    [{"LC_ALL": "C"}, {"LANG": "C", "LC_ALL": ""}, {"LC_ALL": "de_DE.ISO-8859-1"}],
)
def test_a_locale_without_utf_8_gets_ascii_alone(
    tmp_path: Path, environment: dict[str, str]
) -> None:
    assert shown(tmp_path, environment).isascii()


def shown(home: Path, environment: dict[str, str]) -> str:
    """Return all that the bench writes for a few keys."""
    with RealTerminal("knot", "reed-keyring", home=str(home), environment=environment) as terminal:
        terminal.until("0 of 27")
        terminal.press(" ")
        terminal.until("1 of 27")
        terminal.press("q")
        assert terminal.end() == 0
        return terminal.written
