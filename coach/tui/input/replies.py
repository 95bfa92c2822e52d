"""Filtering replies of the terminal out of its input.

A terminal answers questions of programs, also late and of a program before this one: colours,
version, title, modes, light or dark. Such an answer is a control sequence or a control string by
ECMA-48 (read), and may come in pieces; taken for typed text, its letters would be keys.
"""

import re
from collections.abc import Callable, Iterator
from types import MappingProxyType
from typing import Final

# the library has no public names for what it knows
from textual._ansi_sequences import ANSI_SEQUENCES_KEYS
from textual._xterm_parser import (
    _re_cursor_position,
    _re_extended_key,
    _re_in_band_window_resize,
    _re_mouse_event,
    _re_terminal_mode_response,
)

_ESC: Final = "\x1b"
_JOINT: Final = "\uffff"  # no character
ESCAPE: Final = "\x1b[27u"  # the key as it cannot be taken for the start of a sequence
_PASTE, _PASTED = "\x1b[200~", "\x1b[201~"
_FROM_ONE_BYTE: Final = str.maketrans(
    {"\x90": "\x1bP", "\x98": "\x1bX", "\x9b": "\x1b[", "\x9c": "\x1b\\", "\x9d": "\x1b]",
     "\x9e": "\x1b^", "\x9f": "\x1b_"}
)  # fmt: skip
_STRING: Final = re.compile(r"\x1b(\][0-9lLI]|P[!-?]|_[!-~]|\^[!-~]|X[!-~])")
"""How control strings begin that terminals send: alt and that sign is not followed so."""
_BEGINS: Final = re.compile(r"\x1b[\]P_^X[O]")
_GOES_ON: Final = re.compile(rf"{_BEGINS.pattern}|{_STRING.pattern}|\x1b\[[0-9<-?]")
"""What is a reply's beginning, though a part of it came so late that it was taken for a key."""
_KNOWN: Final = (
    _re_extended_key, _re_mouse_event, _re_cursor_position, _re_in_band_window_resize,
    _re_terminal_mode_response,
)  # fmt: skip
_FOCUS: Final = ("\x1b[I", "\x1b[O")
_MOUSE: Final = "\x1b[M"  # three signs follow
_MOST: Final = 256  # signs of one control sequence; no reply is longer
_ENDS: Final = ("\a", "\x18", "\x1a")


class Replies:
    """Passes on what keys, mouse and paste send, in whole sequences only.

    What is filtered out goes to `heard`, a control string without its end.
    """

    def __init__(self, heard: Callable[[str], None] = lambda _: None) -> None:
        self._heard = heard
        self._said = ""  # a control string as far as it has come
        self._held = ""  # a sequence that is not whole yet
        self._pasting = False
        self._within = False  # a control string
        self._early = ""  # the beginning of a sequence that was given out as a key already
        self._since = ""  # what came after that, as long as it may be typed

    def passed(self, text: str) -> Iterator[str]:
        """Yield each key and sequence of new input, after what was held back before."""
        for sign in text.translate(_FROM_ONE_BYTE):
            yield from filter(None, self._next(sign).split(_JOINT))

    def late(self) -> str:
        """Return what was held back once nothing followed for a while: escape, or alt.

        A reply that stops in the middle stays held back; see `given_up`. One that stopped where it
        may still be a key may go on: a hand then sends one character alone, a terminal more.
        """
        if len(self._since) == 1:
            typed, self._since = self._since, ""
            self._held, self._within = "", False
            return typed
        self._since = ""
        held = self._held
        if not held or self._within or self._pasting or len(held) > 2:  # noqa: PLR2004 - ESC and a sign
            return ""
        self._held, self._early = "", held
        return ESCAPE if held == _ESC else _with_alt(held)

    def given_up(self) -> None:
        """Drop a reply that stopped in the middle long ago: what comes now is typed."""
        self._early = ""
        if not self._pasting:
            self._held, self._within = "", False

    def _next(self, sign: str) -> str:
        if len(self._since) == 1:
            self._since += sign
        if self._pasting:
            return self._pasted(sign)
        if self._within:
            return self._in_string(sign)
        if not self._held:
            return self._first(sign)
        return self._in_sequence(sign)

    def _first(self, sign: str) -> str:
        """Return a character, unless it begins or continues a sequence."""
        early, self._early, self._since = self._early, "", ""
        if early and _GOES_ON.fullmatch(early + sign):
            self._held, self._since = early, sign
            return self._in_sequence(sign)
        if sign != _ESC:
            return sign
        self._held = sign
        return ""

    def _pasted(self, sign: str) -> str:
        """Pass a pasted character; an escape in it would end the paste too soon."""
        self._held += sign
        if self._held == _PASTED:
            self._pasting = False
            return self._whole(wanted=True)
        if _PASTED.startswith(self._held):
            return ""
        text, self._held = self._held.replace(_ESC, ""), _ESC if sign == _ESC else ""
        return text

    def _in_string(self, sign: str) -> str:
        """Swallow a character of a string; another sequence breaks it off."""
        if sign in _ENDS or (self._held == _ESC and sign == "\\"):
            self._held, self._within = "", False
            self._heard(self._said)
        elif self._held == _ESC and sign != _ESC:
            self._within = False
            return self._in_sequence(sign)
        else:
            self._held = _ESC if sign == _ESC else "x"
            self._said += sign if sign != _ESC and len(self._said) < _MOST else ""
        return ""

    def _in_sequence(self, sign: str) -> str:
        held = self._held + sign
        if sign == _ESC:  # what was before is no sequence
            self._held = _ESC
            return ESCAPE if held == _ESC * 2 else self._typed()
        self._held = held
        if held.startswith(_MOUSE):
            return self._whole(wanted=True) if len(held) == len(_MOUSE) + 3 else ""
        if held in ANSI_SEQUENCES_KEYS:
            return self._whole(wanted=True)
        if _BEGINS.fullmatch(held):
            return ""
        if _STRING.fullmatch(held):
            self._held, self._within, self._said = "x", True, held
            return ""
        if held.startswith("\x1b["):
            return self._in_control(sign)
        self._held = ""
        if len(held) == 2:  # noqa: PLR2004 - ESC and a sign
            return _with_alt(held)
        first = self._typed() or _with_alt(held[:2])
        return first + _JOINT + held[2]  # alt and a sign that begins no string

    def _typed(self) -> str:
        """Return the character after an escape that was a key, unless it begins a sequence."""
        typed, self._since = self._since[:1], ""
        return typed

    def _in_control(self, sign: str) -> str:
        """Return a control sequence with its last character, if it is one to pass on."""
        if self._held == "\x1b[[" or "0" <= sign <= "?" or " " <= sign <= "/":
            return self._whole(wanted=False) if len(self._held) > _MOST else ""
        if "@" <= sign <= "~":
            self._pasting = self._held == _PASTE
            return self._whole(wanted=self._pasting or _is_known(self._held))
        self._held = ""
        return sign  # no sequence holds it: what was before is broken off

    def _whole(self, *, wanted: bool) -> str:
        held, self._held = self._held, ""
        if not wanted:
            self._heard(held)
        return held if wanted else ""


def _with_alt(held: str) -> str:
    """Return a character with alt in a form that cannot merge with what follows."""
    return f"\x1b[{ord(held[1])};3u" if held not in ANSI_SEQUENCES_KEYS else held


def _is_known(sequence: str) -> bool:
    """Return whether Textual reads a control sequence as a whole, and not as text."""
    return sequence in _FOCUS or any(known.fullmatch(sequence) for known in _KNOWN)


_KITTY_F13: Final = 57376
_NUMBERS: Final = (25, 26, 28, 29, 31, 32, 33, 34)  # as the VT220 numbered its keys F13 to F20
_FORMS: Final = MappingProxyType(
    {f"\x1b[{number}~": 13 + at for at, number in enumerate(_NUMBERS)} | {"\x1b[1;2R": 15}
)
_SENT: Final = re.compile("|".join(map(re.escape, _FORMS)))


def translate_function_keys(sent: str) -> str:
    """Return input from a terminal with its function keys in a form that Textual knows."""
    return _SENT.sub(lambda found: f"\x1b[{_KITTY_F13 + _FORMS[found[0]] - 13}u", sent)
