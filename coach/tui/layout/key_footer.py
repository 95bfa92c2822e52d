"""The key hints of the work screen."""

from typing import Final

from coach.session.keymap import Action, Keys
from coach.tui.widgets.keys_line import Hint

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
_AT_WORK: Final = (
    "count", "give_back", "rest", "restart", "pause", "before", "how", "ahead", "otherwise",
)  # fmt: skip
"""What is offered only until all is made."""
_AT_END: Final = ("another", "away")
"""What there is only then."""


def is_offered(name: str, *, finished: bool) -> bool:
    """Return whether an action of the bench is worth a hint, by its id."""
    return name not in (_AT_WORK if finished else _AT_END)


def work_hints(keys: Keys, *, any_key: bool, finished: bool) -> list[Hint]:
    """Return the keys that do something now, from the left; see `KeysLine`.

    Args:
        keys: The keys as they are set.
        any_key: Whether any key counts.
        finished: Whether all counts are made.
    """
    known = {action.id: action for action in keys.actions}
    if any_key:
        back = known["take_back"]
        return [
            Hint("any key", "made", action_name(known["count"])),
            *([_hint(keys, back)] if back.keys else []),
            Hint("escape", "only set keys", action_name(known["any_key"]), known["any_key"].help),
        ]
    shown = [known[name] for name in _ORDER if is_offered(name, finished=finished)]
    return [_hint(keys, action) for action in shown if action.keys]


def action_name(action: Action) -> str:
    """Return the name under which a binding asks the work screen for an action."""
    return f"bench('{action.id}')"


def _hint(keys: Keys, action: Action) -> Hint:
    rank = _ROOM.index(action.id)
    return Hint(keys.shown(action.id), action.short, action_name(action), action.help, rank)
