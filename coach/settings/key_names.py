"""The names of keys: as makers write them, and as Textual's key ids."""

import unicodedata
from types import MappingProxyType
from typing import Final

from coach.text import normalized_name

RESERVED: Final = ("ctrl+c", "ctrl+q", "ctrl+z")
"""Ids of keys that always end the program or set it aside."""

_MODIFIERS: Final = MappingProxyType(
    {"ctrl": "ctrl", "control": "ctrl", "strg": "ctrl", "alt": "alt", "option": "alt",
     "shift": "shift"}
)  # fmt: skip
_ORDER: Final = ("alt", "ctrl", "shift")
_FUNCTION_KEYS: Final = 24
_SHIFTED: Final = 12  # from here on a function key may arrive as shift and one twelve below
_NAMED: Final = MappingProxyType(
    {
        **{name: name for name in ("space", "enter", "tab", "escape", "backspace", "delete",
                                   "insert", "home", "end", "up", "down", "left", "right")},
        "return": "enter", "esc": "escape", "del": "delete", "ins": "insert",
        "page up": "pageup", "pageup": "pageup", "page down": "pagedown", "pagedown": "pagedown",
        **{f"f{n}": f"f{n}" for n in range(1, _FUNCTION_KEYS + 1)},
    }
)  # fmt: skip
_SHORTER: Final = MappingProxyType(
    {"solidus": "slash", "reverse_solidus": "backslash", "commercial_at": "at",
     "hyphen_minus": "minus", "plus_sign": "plus", "low_line": "underscore"}
)  # fmt: skip
_SIGNS: Final = MappingProxyType({
    sign: _SHORTER.get(name, name)
    for sign in map(chr, range(33, 127)) if not sign.isalnum()
    for name in [unicodedata.name(sign).lower().replace("-", "_").replace(" ", "_")]
})  # fmt: skip
_SIGN_OF: Final = MappingProxyType({name: sign for sign, name in _SIGNS.items()})
_SHOWN: Final = MappingProxyType({"pageup": "page up", "pagedown": "page down"})

KNOWN: Final = tuple(sorted({*_NAMED, *_SIGN_OF}))
"""The names of keys that are no single character."""


def key_ids(written: str) -> tuple[str, ...]:
    """Return the ids of a key as a maker writes it, () for an unknown one.

    A key is a character, or a name such as `page down`, `f13` or `question mark`, with `ctrl+`,
    `alt+` or `shift+` before it. Function keys from 13 on have two ids, for some terminals send
    them as shift and a lower one.
    """
    *before, last = _split(written.strip())
    modifiers = {_MODIFIERS.get(normalized_name(word)) for word in before}
    base = _base(last)
    if not base or None in modifiers:
        return ()
    if modifiers == {"shift"} and len(base) == 1 and base.isalpha():
        return (base.upper(),)
    lead = "".join(f"{word}+" for word in _ORDER if word in modifiers)
    number = int(base[1:]) if base[0] == "f" and base[1:].isdecimal() else 0
    twin = (f"shift+f{number - _SHIFTED}",) if number > _SHIFTED and not lead else ()
    return (lead + base, *twin)


def key_label(key: str) -> str:
    """Return the name of a key for people, by its id."""
    *before, last = _split(key)
    return "+".join([*before, _SIGN_OF.get(last) or _SHOWN.get(last) or last])


def _split(written: str) -> list[str]:
    """Split a key at each plus sign except one that is the key itself."""
    if written == "+":
        return [written]
    if written.endswith("++"):
        return [*written[:-2].split("+"), "+"]
    return written.split("+")


def _base(word: str) -> str:
    """Return the id of a key without modifiers, "" for an unknown one."""
    if len(word) == 1:
        return _SIGNS.get(word, word if word.isalnum() else "")
    name = normalized_name(word)
    joined = name.replace(" ", "_")
    return _NAMED.get(name, joined if joined in _SIGN_OF else "")
