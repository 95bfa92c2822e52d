"""The actions of the bench with their keys, and the guard against bouncing keys."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Final

from coach.piece import Clock
from coach.settings.key_names import key_label
from coach.settings.overrides import Kept

GROUPS: Final = (
    ("count", "Count"), ("look", "Look"), ("go", "Go elsewhere"), ("write", "Write down"),
    ("change", "Change the piece"), ("set", "Set how it works"), ("end", "Help and leaving"),
)  # fmt: skip
"""What the maker wants to do, by the ids of groups of actions, in the order of the help page."""


@dataclass(frozen=True, slots=True)
class Action:
    """One action of the bench.

    Attributes:
        id: Its id in settings and screens.
        group: Its group in the list of keys, one of `GROUPS`.
        keys: The ids of its default keys.
        short: Its name in the footer and in the list of all actions.
        help: What it does, in a sentence or two.
    """

    id: str
    group: str
    keys: tuple[str, ...]
    short: str
    help: str


ACTIONS: Final = (
    Action("count", "count", ("space", "enter", "right", "down", "pagedown"), "made",
           "Count one as made."),
    Action("take_back", "count", ("backspace", "left", "up", "pageup"), "one back",
           "Take back one that was counted and not made, or is unpicked."),
    Action("give_back", "count", ("equals_sign",), "count merged",
           "Count presses that came too close together and were counted once."),
    Action("rest", "count", ("r",), "rest of step",
           "Count the rest of this step, when counting was forgotten."),
    Action("restart", "count", ("s",), "step again",
           "Take back to the start of this step; at its start, the step before."),
    Action("pause", "count", ("p",), "pause",
           "Stop the clock, or let it run. A count lets it run too."),
    Action("before", "look", ("b",), "cutting list",
           "Open the list for cutting and hanging, and tick each piece as it is made ready."),
    Action("ahead", "go", ("a",), "look ahead",
           "Look through the work; the count stays where it is."),
    Action("unpick", "go", ("u",), "unpick",
           "Look back by steps: how many ties there are to unpick, how much cord comes free."),
    Action("goto", "go", ("g",), "go to", "Go to a repeat and a step that you find on the work."),
    Action("mark", "write", ("x",), "mark", "Mark this spot; the words can be written later."),
    Action("note", "write", ("n",), "note",
           "Write a note here, or words for a spot that is marked."),
    Action("measure", "write", ("m",), "measure",
           "Write down what you measured: the rest of a strand, or the length of the work."),
    Action("more", "change", ("plus",), "one more", "Make one more repeat from here on."),
    Action("fewer", "change", ("minus",), "one fewer", "Make one fewer repeat from here on."),
    Action("choose", "change", ("C",), "choose",
           "Choose what is left to you here: how often, how long, who ties, which group is next."),
    Action("otherwise", "change", ("o",), "something changed",
           "Say what changed: the order of strands, a cord joined in, an early end."),
    Action("freehand", "change", ("K",), "make it up",
           "Leave the pattern here: from now on you say what you knot, and it is written out."),
    Action("next_piece", "go", ("j",), "next piece",
           "Go to the next piece of the order that this one belongs to."),
    Action("batch", "set", ("J",), "order's way",
           "Work one step over all pieces of the order, or one piece after the other."),
    Action("desk", "go", ("D",), "order desk", "See orders, stock and a quote on the order desk."),
    Action("how", "look", ("k",), "this knot", "See how this knot is tied, in words and stages."),
    Action("piece", "look", ("f",), "the piece",
           "See the whole piece as it will be, and try it in other colours."),
    Action("legend", "look", ("d",), "drawing", "See what the lines of the drawing stand for."),
    Action("cords", "look", ("c",), "cord left", "See how much cord is left on every strand."),
    Action("plan", "look", ("l",), "plan",
           "See the plan: what to cut, the knots, the size, the time."),
    Action("say", "look", ("y",), "say", "Say again what to do, with the speech program."),
    Action("speech", "set", ("v",), "voice", "Speak each step at its start, or be silent."),
    Action("any_key", "set", ("e",), "any key",
           "Let any key count, for an elbow; escape stops that."),
    Action("count_by", "set", ("t",), "count by",
           "Count by tie, by pass or by step, one after another."),
    Action("count_by_knot", "set", ("T",), "this knot by",
           "The same for this knot alone; again, and it is counted like the others."),
    Action("units", "set", ("i",), "cm or in", "Show lengths in centimetres or in inches."),
    Action("theme", "set", ("L", "ctrl+l"), "theme",
           "Change the colours: dark, light, or the terminal's own."),
    Action("colourway", "set", ("F",), "colourway",
           "Show the piece in the next colourway of its file."),
    Action("actions", "end", ("slash", "ctrl+p"), "actions",
           "Find anything the coach does by a word of it."),
    Action("mouse", "set", ("M",), "mouse",
           "Take taps and the wheel, or give the mouse back to the terminal for copying."),
    Action("another", "end", ("A",), "make another",
           "When a piece is finished, begin another of the same project."),
    Action("away", "end", ("Z",), "put away",
           "When a piece is finished, put it away: it is folded up on the list."),
    Action("help", "end", ("question_mark", "h", "f1"), "help", "See all keys."),
    Action("leave", "end", ("q",), "leave", "Leave. Everything is saved."),
)  # fmt: skip

BOUNCE_MS: Final = 150
CHATTER: Final = 2  # bounces of one press: a key or pedal that chatters has no more
CHATTER_TOLD: Final = 0
MERGED_TOLD: Final = 10
"""Presses after which it is not told any more that some were merged: of chatter, and of more."""


@dataclass(frozen=True, slots=True)
class Keys:
    """The actions with the keys that are set for them."""

    actions: tuple[Action, ...] = ACTIONS

    def action(self, key: str) -> str | None:
        """Return the id of the action of a key, None for a key without one."""
        return next((action.id for action in self.actions if key in action.keys), None)

    def found(self, typed: str) -> tuple[Action, ...]:
        """Return the actions that match all words typed, those with matching names first."""
        words = typed.casefold().split()
        by_name = [a for a in self.actions if all(word in a.short.casefold() for word in words)]
        told = [a for a in self.actions if all(word in _said_of(a) for word in words)]
        return tuple(dict.fromkeys((*by_name, *told)))

    def shown(self, action_id: str) -> str:
        """Return the name of the first key of an action; "" where it has none."""
        keys = next((a.keys for a in self.actions if a.id == action_id), ())
        return key_label(keys[0]) if keys else ""


def _said_of(action: Action) -> str:
    return f"{action.short} {action.help}".casefold()


def rebound(changes: Mapping[str, Iterable[str]]) -> Keys:
    """Return the actions, with other keys for some.

    Args:
        changes: The keys by the ids of actions.

    Raises:
        KeyError: There is no such action.
    """
    known = {action.id: action for action in ACTIONS}
    for name, keys in changes.items():
        was = known[name]
        known[name] = replace(was, keys=tuple(keys))
    return Keys(tuple(known.values()))


class BounceGuard:
    """Tells presses of a key from its bounces.

    A key that is held down repeats without end, so what counts is the time since the key was last
    seen, whether or not that was taken as a press. It is the time at which the key was read: a
    key may wait behind a busy screen.
    """

    def __init__(self, least_ms: int = BOUNCE_MS) -> None:
        self._least_ms = least_ms
        self._seen_ms: int | None = None
        self._before_ms: int | None = None
        self.merged = 0
        self._since = 0  # presses of their own since one was merged

    def after(self, before_ms: int | None) -> None:
        """Set when the key before was read; None where it cannot be the same press."""
        self._before_ms = before_ms

    def is_new(self, read_ms: int) -> bool:
        """Return whether a key read at that time is a new press, and remember the time."""
        # Also the key before on another screen: a key that chatters closes a page, and counts here.
        seen = [ms for ms in (self._seen_ms, self._before_ms) if ms is not None]
        self._seen_ms = read_ms
        new = not seen or read_ms - max(seen) >= self._least_ms
        self._since = self._since + 1 if new else 0
        if not new:
            self.merged += 1
        elif self._since > (CHATTER_TOLD if self.merged <= CHATTER else MERGED_TOLD):
            self.merged = 0
        return new


class Presses:
    """Turns keys into actions, and filters bounces."""

    def __init__(self, keys: Keys, kept: Kept, clock: Clock) -> None:
        """Set the keys, the settings in use, and the clock."""
        self._keys = keys
        self._kept = kept
        self._clock = clock
        self._guard = BounceGuard(kept.now.bounce_ms)

    def action(self, key: str) -> str | None:
        """Return the id of the action of a key, None for a key without one.

        While any key counts, escape ends that, the keys that take back do so, and all others count.
        """
        action = self._keys.action(key)
        if not self._kept.now.any_key or action == "take_back":
            return action
        return "any_key" if key == "escape" else "count"

    def came_before(self, key: str, read_ms: int, now: str) -> None:
        """Record the key before the current one, whichever screen it went to.

        A key that chatters closes a page, and the same press must not be counted here as well.
        Where any key counts, an elbow presses several, and they are one press too.

        Args:
            key: The key before.
            read_ms: When it was read, by the monotonic clock.
            now: The current key.
        """
        same = key == now or self._kept.now.any_key
        self._guard.after(read_ms if same and self.action(key) == "count" else None)

    @property
    def merged(self) -> int:
        """How many presses were merged into another and can still be counted."""
        return self._guard.merged

    def given_back(self) -> int:
        """Return how many presses were merged, and reset that number."""
        merged, self._guard.merged = self._guard.merged, 0
        return merged

    def told(self) -> str:
        """Return the message about merged presses, and the key that counts them; or ""."""
        n, key = self.merged, self._keys.shown("give_back")
        if not n:
            return ""
        them = "them" if n > 1 else "it"
        way = f" {key} counts {them}." if key else ""
        counted = "once" if n == 1 else f"once, {n} left out"
        return f"Too close together: counted {counted}.{way}"

    def bounces(self, read_s: float | None) -> bool:
        """Return whether a counting key comes too soon after the last one to be a press."""
        return not self._guard.is_new(self.tick_ms(read_s))

    def tick_ms(self, read_s: float | None) -> int:
        """Return the time of a key read at `read_s`, in monotonic seconds; None for now."""
        return self._clock.tick_ms() if read_s is None else self._clock.tick_at(read_s)
