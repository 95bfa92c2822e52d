"""Joining what was knotted without a pattern onto a project file's text."""

import re
from collections.abc import Mapping, Sequence
from typing import Final

from coach.recording.project_text import OPEN

_TOP: Final = re.compile(r"^[^\s#-].*", re.MULTILINE)
_OPEN_LINE: Final = re.compile(rf"^([ \t]*- )\{{{re.escape(OPEN)}\}}[ \t]*\n", re.MULTILINE)


class CannotJoin(ValueError):
    """A file whose lists are not written one step a line; the text says how to write them."""


def is_open_ended(text: str) -> bool:
    """Return whether the work of a project file is open, to go on by sentences."""
    return bool(_OPEN_LINE.search(text))


def open_ended(text: str) -> str:
    """Return a project file opened at its end, to go on by sentences. Raises CannotJoin."""
    text = text if text.endswith("\n") else f"{text}\n"
    return (
        text
        if is_open_ended(text)
        else _after(text, "work", [f"{_indent(text, 'work')}- {{{OPEN}}}"])
    )


def with_steps_joined(text: str, work: Sequence[str], parts: Mapping[str, Sequence[str]]) -> str:
    """Return an open project file with steps added at its end, and parts beside its own.

    Comments and all else stay as they are.

    Args:
        text: The file.
        work: The steps, a line each without its dash.
        parts: The steps of each new part, by name.

    Raises:
        CannotJoin: The file's lists are not written one step a line.
    """

    def lines(match: re.Match[str]) -> str:
        return "".join(f"{match[1]}{{{step}}}\n" for step in work)

    text = _OPEN_LINE.sub(lines, text)
    written = [line for name, steps in parts.items() for line in _part(name, steps)]
    return with_lines(text, "parts", written)


def with_lines(text: str, key: str, lines: Sequence[str]) -> str:
    """Return a project file with lines added to a section, which is created if missing.

    Args:
        text: The file.
        key: The section, as in `parts`.
        lines: The lines, with indents and without line ends.

    Raises:
        CannotJoin: The section is written so that no line can follow.
    """
    if not lines:
        return text
    if re.search(rf"^{key}:", text, re.MULTILINE):
        return _after(text, key, lines)
    return f"{text}{key}:\n" + "".join(f"{line}\n" for line in lines)


def with_title(text: str, title: str) -> str:
    """Return a project file with another title, which is quoted already."""
    return re.sub(r"^title:.*$", lambda _: f"title: {title}", text, count=1, flags=re.MULTILINE)


def _part(name: str, steps: Sequence[str]) -> list[str]:
    return [f'  "{name}":', *(f"    - {{{step}}}" for step in steps)]


def _block(text: str, key: str) -> tuple[int, int]:
    """Return the range of lines below a top-level key."""
    head = re.search(rf"^{key}:[ \t]*(?:#.*)?\n", text, re.MULTILINE)
    if head is None:
        what = "each step" if key == "work" else "each entry"
        raise CannotJoin(f"Put {what} of ‘{key}:’ on a line of its own, then try again.")
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
