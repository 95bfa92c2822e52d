"""Reading the maker's own keys for actions, and finding clashes between them."""

from collections.abc import Mapping
from types import MappingProxyType

from coach.settings.key_names import KNOWN, RESERVED, key_ids
from coach.text import normalized_name
from coach.yaml_reader import nodes
from coach.yaml_reader.collector import ReadingProblems, quoted
from coach.yaml_reader.declarations import Value
from coach.yaml_reader.diagnostics import Span
from coach.yaml_reader.scalars import word

Chosen = dict[str, dict[str, Span]]  # by action: its keys, each with its place


def keys_for(actions: Mapping[str, tuple[str, ...]]) -> Value[Mapping[str, tuple[str, ...]]]:
    """Return a reader of keys by action.

    Args:
        actions: All actions with their default keys. An action keeps these if anything is wrong
            with the maker's keys for it.
    """

    def read(node: nodes.Node, found: ReadingProblems) -> Mapping[str, tuple[str, ...]] | None:
        if not isinstance(node, nodes.Mapping):
            hint = "Write an action, a colon and its key, as in ‘count: f13’."
            found.error("SHAPE", node.span, "Keys are given for each action.", hint)
            return None
        chosen: Chosen = {}
        for key, value in node.pairs:
            action = _action(key, actions, found)
            keys = _keys(value, found)
            if action and keys:
                chosen[action] = keys
        return _without_clashes(chosen, actions, found)

    return Value(read, MappingProxyType({}))


def _action(
    key: nodes.Scalar, actions: Mapping[str, tuple[str, ...]], found: ReadingProblems
) -> str:
    known = {normalized_name(action): action for action in actions}
    action = known.get(normalized_name(key.text), "")
    if not action:
        hint = found.suggest(normalized_name(key.text), known, f"Actions are {', '.join(known)}.")
        found.error("UNKNOWN-KEY", key.span, f"There is no action {quoted(key.text)}.", hint)
    return action


def _keys(node: nodes.Node, found: ReadingProblems) -> dict[str, Span]:
    """Read the keys of one action with their places; none if one of them is not allowed."""
    items = node.items if isinstance(node, nodes.Sequence) else (node,)
    keys: dict[str, Span] = {}
    sound = bool(items)
    if not items:
        found.error("EMPTY", node.span, "An action needs a key.", "Write one, or leave it out.")
    for item in items:
        ids = _ids(item, found)
        sound = sound and bool(ids)
        keys |= dict.fromkeys(ids, item.span)
    return keys if sound else {}


def _ids(node: nodes.Node, found: ReadingProblems) -> tuple[str, ...]:
    written = word(node, found, "a key")
    if written is None:
        return ()
    ids = key_ids(written.text)
    if not ids:
        hint = found.suggest(
            normalized_name(written.text), KNOWN, "`coach keys` shows what keys are called."
        )
        found.error("KEY-NAME", node.span, f"No key is called {quoted(written.text)}.", hint)
    if set(ids) & set(RESERVED):
        message = f"{quoted(written.text)} always ends the program or sets it aside."
        found.error("KEY-NAME", node.span, message, "Choose another key.")
        return ()
    return ids


def _without_clashes(
    chosen: Chosen, actions: Mapping[str, tuple[str, ...]], found: ReadingProblems
) -> Mapping[str, tuple[str, ...]]:
    """Drop the maker's keys for actions until no key does two things."""
    while True:
        clash = _clash(chosen, actions)
        if clash is None:
            return MappingProxyType({action: tuple(keys) for action, keys in chosen.items()})
        action, key, other = clash
        message = f"{quoted(key)} is the key for {quoted(normalized_name(other))} already."
        hint = f"Give {quoted(normalized_name(other))} another key, or choose another here."
        found.error("KEY-CLASH", chosen[action][key], message, hint)
        del chosen[action]


def _clash(chosen: Chosen, actions: Mapping[str, tuple[str, ...]]) -> tuple[str, str, str] | None:
    """Return an action, the key that it may not have and the action that has it, or None."""
    owners = {
        key: action
        for action, keys in actions.items() if action not in chosen
        for key in keys
    }  # fmt: skip
    for action, keys in chosen.items():
        for key in keys:
            if key in owners:
                return action, key, owners[key]
            owners[key] = action
    return None
