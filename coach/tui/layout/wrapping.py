"""Wrapping text into lines, between words where that is possible."""

from functools import lru_cache

from rich.cells import cell_len, get_character_cell_size

from coach.text import one_line


@lru_cache(maxsize=256)  # the same few texts are painted over and over
def wrapped(text: str, width: int) -> tuple[str, ...]:
    """Break a text into lines of at most `width` columns, between words where that is possible."""
    lines: list[str] = [""]
    for word in one_line(text).split(" "):
        joined = f"{lines[-1]} {word}" if lines[-1] else word
        if cell_len(joined) <= width:
            lines[-1] = joined
            continue
        lines += [""] if lines[-1] else []
        start, end = 0, _fitting(word, 0, width)
        while end < len(word) and width > 1:
            lines[-1:] = [word[start:end], ""]
            start, end = end, _fitting(word, end, width)
        lines[-1] = word[start:]
    return tuple(line for line in lines if line)


def _fitting(text: str, start: int, width: int) -> int:
    """Return the end of what fits of a text from a character on, at least that one."""
    room = width - get_character_cell_size(text[start]) if start < len(text) else 0
    end = start + 1
    while end < len(text) and (room := room - get_character_cell_size(text[end])) >= 0:
        end += 1
    return end
