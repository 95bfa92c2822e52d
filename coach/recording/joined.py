"""What was knotted without a pattern, joined onto the work of a project file."""

import re
from collections.abc import Mapping, Sequence
from typing import Final

_TOP: Final = re.compile(r"^[^\s#-].*", re.MULTILINE)


class CannotJoin(ValueError):
    """A file whose lists are not written a step a line; the text says how they must be."""


def joined(text: str, work: Sequence[str], parts: Mapping[str, Sequence[str]]) -> str:
    """Return a project file with steps after those of its work, and parts beside its own.

    Comments and all else stay as they are. Raises CannotJoin.
    """
    text = text if text.endswith("\n") else f"{text}\n"
    indent = _indent(text, "work")
    text = _after(text, "work", [f"{indent}- {{{step}}}" for step in work])
    if not parts:
        return text
    lines = [line for name, steps in parts.items() for line in _part(name, steps)]
    if re.search(r"^parts:", text, re.MULTILINE):
        return _after(text, "parts", lines)
    return f"{text}parts:\n" + "".join(f"{line}\n" for line in lines)


def _part(name: str, steps: Sequence[str]) -> list[str]:
    return [f"  {name}:", *(f"    - {{{step}}}" for step in steps)]


def _block(text: str, key: str) -> tuple[int, int]:
    """Return where the lines below a key at the top begin and end."""
    head = re.search(rf"^{key}:[ \t]*(?:#.*)?\n", text, re.MULTILINE)
    if head is None:
        raise CannotJoin(f"Put each step of ‘{key}:’ on a line of its own, beginning with a dash.")
    following = _TOP.search(text, head.end())
    end = following.start() if following else len(text)
    return head.end(), end


def _indent(text: str, key: str) -> str:
    begin, end = _block(text, key)
    dash = re.search(r"^([ \t]*)- ", text[begin:end], re.MULTILINE)
    return dash[1] if dash else "  "


def _after(text: str, key: str, lines: Sequence[str]) -> str:
    begin, end = _block(text, key)
    kept = text[begin:end].rstrip("\n \t")
    added = "".join(f"{line}\n" for line in lines)
    return f"{text[:begin]}{kept}\n{added}{text[end:]}"
