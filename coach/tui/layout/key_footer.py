"""The line of keys at the foot of the work screen."""

from collections.abc import Iterator
from typing import Final

from rich.text import Text

from coach.session.keymap import Keys
from coach.session.view_model import View
from coach.tui.layout.styled_text import Inks

_ROOM: Final = (  # which of them come first where there is little room
    "count", "take_back", "help", "leave", "another", "away", "rest", "actions", "before", "how",
    "piece", "note", "cords", "plan", "pause", "restart", "measure", "goto", "ahead", "otherwise",
    "mark",
    "unpick", "legend",
)  # fmt: skip
_ORDER: Final = (  # how those for which there is room stand from the left
    "count", "take_back", "rest", "restart", "another", "away", "pause", "before", "how", "piece",
    "note", "mark", "measure", "otherwise", "cords", "plan", "legend", "ahead", "goto", "unpick",
    "actions", "help", "leave",
)  # fmt: skip
_GAP: Final = 2
_AT_WORK: Final = ("count", "rest", "restart", "pause", "before", "how", "ahead", "otherwise")
"""What there is nothing for once all is made."""
_AT_END: Final = ("another", "away")
"""What there is only then."""


def footer(keys: Keys, inks: Inks, width: int, view: View) -> Text:
    """Return the keys that are set and do something now, as many as fit."""
    keyed, told = inks.style("figure", bold=True), inks.style("quiet")
    return Text(" " * _GAP).join(
        Text.assemble((key, keyed), (f" {what}", told))
        for _, key, what in _shown(keys, width, view)
    )


def action_at(keys: Keys, width: int, view: View, column: int) -> str | None:
    """Return the id of the action that stands at a column of the footer; None between two."""
    at = 0
    for name, key, what in _shown(keys, width, view):
        end = at + len(key) + 1 + len(what)
        if at <= column < end:
            return name
        at = end + _GAP
    return None


def _shown(keys: Keys, width: int, view: View) -> Iterator[tuple[str, str, str]]:
    """Yield the ids, keys and names of the actions for which there is room, from the left."""
    parts = _any_key(keys) if view.any_key else _set(keys, view)
    shown = _with_room(parts, width)
    return ((name, *parts[name]) for name in _ORDER if name in shown)


def _set(keys: Keys, view: View) -> dict[str, tuple[str, str]]:
    """Return the key of each action that has one and does something now, and its short name."""
    dead = _AT_WORK if view.finished else _AT_END
    return {a.id: (keys.shown(a.id), a.short) for a in keys.actions if a.keys and a.id not in dead}


def _any_key(keys: Keys) -> dict[str, tuple[str, str]]:
    """Return what is left to tell where any key counts."""
    back = {a.id: (keys.shown(a.id), a.short) for a in keys.actions if a.id == "take_back"}
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
