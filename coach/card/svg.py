"""A few words of SVG: elements as text, with everything from outside escaped."""

from collections.abc import Iterable, Sequence
from html import escape
from typing import TypeAlias

Point: TypeAlias = tuple[float, float]  # to the right, downward


def element(name: str, body: str = "", /, **attributes: object) -> str:
    """Return one element; `_` in an attribute's name stands for `-`, a trailing one is dropped."""
    given = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{_value(value)}"'
        for key, value in attributes.items()
        if value is not None
    )
    return f"<{name}{given}>{body}</{name}>" if body else f"<{name}{given}/>"


def _value(value: object) -> str:
    return number(value) if isinstance(value, float) else escape(str(value))


def number(value: float) -> str:
    """Return a number to a hundredth, without zeros that say nothing."""
    return f"{value:.2f}".rstrip("0").rstrip(".") or "0"


def picture(inside: Iterable[str], box: tuple[float, float, float, float], label: str,
            **attributes: object) -> str:  # fmt: skip
    """Return a whole picture; `box` is left, top, width and height, `label` what it shows."""
    shape = " ".join(number(side) for side in box)
    body = f"<title>{escape(label)}</title>{''.join(inside)}"
    return element("svg", body, viewBox=shape, role="img", aria_label=label, **attributes)


def line(points: Sequence[Point], round_by: float = 6.0) -> str:
    """Return the path through some points, its corners rounded."""
    path = [f"M{_at(points[0])}"]
    for before, corner, after in zip(points, points[1:], points[2:], strict=False):
        path.append(f"L{_at(_toward(corner, before, round_by))}")
        path.append(f"Q{_at(corner)} {_at(_toward(corner, after, round_by))}")
    return "".join([*path, f"L{_at(points[-1])}"])


def _at(point: Point) -> str:
    return f"{number(point[0])} {number(point[1])}"


def _toward(start: Point, end: Point, by: float) -> Point:
    """Return the point `by` from one point on the way to another, at most half way."""
    across, down = end[0] - start[0], end[1] - start[1]
    long = (across**2 + down**2) ** 0.5
    share = min(by, long / 2) / long if long else 0.0
    return start[0] + across * share, start[1] + down * share


def text(words: str, x: float, y: float, **attributes: object) -> str:
    """Return a text, centred at x."""
    attributes = {"text_anchor": "middle", **attributes}
    return element("text", escape(words), x=x, y=y, **attributes)
