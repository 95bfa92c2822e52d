"""Breaking texts into lines, between words where that is possible."""

from rich.cells import cell_len

from coach.text import one_line


def wrapped(text: str, width: int) -> list[str]:
    """Break a text into lines of at most `width` columns, between words where that is possible."""
    lines: list[str] = [""]
    for word in one_line(text).split(" "):
        rest = word
        joined = f"{lines[-1]} {rest}" if lines[-1] else rest
        if cell_len(joined) <= width:
            lines[-1] = joined
            continue
        lines += [""] if lines[-1] else []
        while cell_len(rest) > width > 1:
            head = _head(rest, width)
            lines[-1:] = [head, ""]
            rest = rest[len(head) :]
        lines[-1] = rest
    return [line for line in lines if line]


def _head(text: str, width: int) -> str:
    """Return as much of the beginning as fits, one character at least."""
    taken = 1
    while taken < len(text) and cell_len(text[: taken + 1]) <= width:
        taken += 1
    return text[:taken]
