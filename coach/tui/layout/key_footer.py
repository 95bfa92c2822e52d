"""The line of keys at the foot of the work screen."""

from typing import Final

from rich.text import Text

from coach.session.keymap import Keys
from coach.tui.layout.styled_text import Inks

_ROOM: Final = (  # which of them come first where there is little room
    "count", "take_back", "help", "leave", "rest", "actions", "before", "how", "note", "cords",
    "plan", "pause", "restart", "measure", "goto", "ahead", "otherwise", "mark", "unpick", "legend",
)  # fmt: skip
_ORDER: Final = (  # how those for which there is room stand from the left
    "count", "take_back", "rest", "restart", "pause", "before", "how", "note", "mark", "measure",
    "otherwise", "cords", "plan", "legend", "ahead", "goto", "unpick", "actions", "help", "leave",
)  # fmt: skip
_GAP: Final = 2


def footer(keys: Keys, inks: Inks, width: int, *, any_key: bool) -> Text:
    """Return the keys that are set, as many as fit; help comes before the rest."""
    parts = _any_key(keys) if any_key else _set(keys)
    shown = _with_room(parts, width)
    keyed, told = inks.style("figure", bold=True), inks.style("quiet")
    return Text(" " * _GAP).join(
        Text.assemble((key, keyed), (f" {what}", told))
        for key, what in (parts[name] for name in _ORDER if name in shown)
    )


def _set(keys: Keys) -> dict[str, tuple[str, str]]:
    """Return the key of each action that has one, and its short name."""
    return {a.id: (keys.shown(a.id), a.short) for a in keys.actions if a.keys}


def _any_key(keys: Keys) -> dict[str, tuple[str, str]]:
    """Return what is left to tell where any key counts."""
    back = {name: part for name, part in _set(keys).items() if name == "take_back"}
    return {"count": ("any key", "made"), **back, "leave": ("escape", "only set keys")}


def _with_room(parts: dict[str, tuple[str, str]], width: int) -> set[str]:
    """Choose the parts that fit on a line, the first ones of `_ROOM` first."""
    taken: set[str] = set()
    used = 0
    for name in (name for name in _ROOM if name in parts):
        length = sum(map(len, parts[name])) + 1 + _GAP
        if used + length <= width + _GAP:
            taken.add(name)
            used += length
    return taken
