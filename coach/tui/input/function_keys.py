"""Translating function keys above 12 to the form that the terminal library knows.

It takes the numbers in which the Linux console and rxvt send F13 to F20 for characters, and does
not know the form in which xterm sends F15.
"""

import re
from types import MappingProxyType
from typing import Final

_KITTY_F13: Final = 57376
_NUMBERS: Final = (25, 26, 28, 29, 31, 32, 33, 34)  # as the VT220 numbered its keys F13 to F20
_FORMS: Final = MappingProxyType(
    {f"\x1b[{number}~": 13 + at for at, number in enumerate(_NUMBERS)} | {"\x1b[1;2R": 15}
)
_SENT: Final = re.compile("|".join(map(re.escape, _FORMS)))


def understood(sent: str) -> str:
    """Return what a terminal sent, with function keys in a form that the library understands."""
    return _SENT.sub(lambda found: f"\x1b[{_KITTY_F13 + _FORMS[found[0]] - 13}u", sent)
