"""What can be done on the bench, the keys that do it, and the guard against bouncing keys."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Action:
    """One thing that a key does. `short` stands in the footer, `help` on the help page."""

    id: str
    keys: tuple[str, ...]
    short: str
    help: str


ACTIONS: Final = (
    Action("count", ("space", "enter", "right", "down", "pagedown"), "made",
           "Count one as made."),
    Action("take_back", ("backspace", "left", "up", "pageup"), "one back",
           "Take one back that was counted and not made, or is unpicked."),
    Action("rest", ("r",), "rest of step",
           "Count the rest of this step, when counting was forgotten."),
    Action("restart", ("s",), "step again",
           "Take back to the start of this step; at its start, the step before."),
    Action("pause", ("p",), "pause", "Stop the clock, or let it go on. A count lets it go on too."),
    Action("cords", ("c",), "cords", "See how much cord is left on every strand."),
    Action("plan", ("l",), "cut list", "See the list for cutting and hanging, and the plan."),
    Action("help", ("question_mark", "h", "f1"), "help", "See all keys."),
    Action("leave", ("q", "escape"), "leave", "Leave. All is kept already."),
)  # fmt: skip

BOUNCE_MS: Final = 150

_SHOWN: Final = {
    "space": "space", "enter": "enter", "question_mark": "?", "backspace": "backspace",
    "pagedown": "page down", "pageup": "page up", "escape": "escape",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Keys:
    """The keys as they are set: which action each key has."""

    actions: tuple[Action, ...] = ACTIONS

    def action(self, key: str) -> str | None:
        """Give the id of a key's action, or None."""
        return next((action.id for action in self.actions if key in action.keys), None)

    def shown(self, action_id: str) -> str:
        """Give the first key of an action as people call it, or nothing where it has none."""
        keys = next((a.keys for a in self.actions if a.id == action_id), ())
        return shown(keys[0]) if keys else ""


def with_keys(changes: Mapping[str, Iterable[str]]) -> Keys:
    """Give the actions with other keys for those named. Raises KeyError for an unknown action."""
    known = {action.id: action for action in ACTIONS}
    for name, keys in changes.items():
        was = known[name]
        known[name] = Action(was.id, tuple(keys), was.short, was.help)
    return Keys(tuple(known.values()))


def shown(key: str) -> str:
    """Give a key's name as people call it."""
    return _SHOWN.get(key, key)


class BounceGuard:
    """Takes a key that comes again too soon for the same press.

    A key that is leant on repeats without end: what counts is the time since it was last seen,
    taken or not.
    """

    def __init__(self, tick_ms: Callable[[], int], least_ms: int = BOUNCE_MS) -> None:
        self._tick_ms = tick_ms
        self._least_ms = least_ms
        self._seen_ms: int | None = None

    def is_new(self) -> bool:
        """Give whether this key is a press of its own."""
        now, before = self._tick_ms(), self._seen_ms
        self._seen_ms = now
        return before is None or now - before >= self._least_ms
