"""Drawings read back from their SVG: cords as strokes in painting order, whoever wrote them.

What is read is what is seen: a stroke that comes later lies over an earlier one. It knows the paths
that our drawings are made of, shapes that are used again, and colours given by class or attribute.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import hypot
from xml.etree import ElementTree as ET

Point = tuple[float, float]
SVG = "{http://www.w3.org/2000/svg}"
_TOKEN = re.compile(r"[MLHVQTChv]|-?\d+(?:\.\d+)?")
_TURNS = 12


@dataclass(frozen=True)
class Stroke:
    """A line along some points, in a colour (or "" for one that is set elsewhere)."""

    colour: str
    width: float
    points: tuple[Point, ...]
    kind: str

    def covers(self, at: Point) -> bool:
        return any(_apart(at, a, b) <= self.width / 2 for a, b in pairwise(self.points))


def read(text: str) -> ET.Element:
    """Read a drawing that may stand inside HTML."""
    found = ET.fromstring(text)  # noqa: S314 - our own text
    for node in found.iter():
        node.tag = node.tag.removeprefix(SVG)
    return found


def strokes(root: ET.Element) -> list[Stroke]:
    """Return all strokes that are solid, in the order in which they are painted."""
    rules = dict(
        re.findall(
            r"\.(\w+)\{stroke:(#\w+)", "".join(style.text or "" for style in root.iter("style"))
        )
    )
    named = {node.get("id"): node for node in root.iter() if node.get("id")}

    def painted(node: ET.Element, x: float, y: float, given: dict[str, str]) -> Iterator[Stroke]:
        given = {**given, **node.attrib}
        if node.tag in ("defs", "style", "title", "clipPath"):
            return
        if node.tag == "use":
            target = named[given["href"].removeprefix("#")]
            inner = {k: v for k, v in given.items() if k in ("class", "stroke", "stroke-width")}
            yield from painted(target, x + _at(node, "x"), y + _at(node, "y"), inner)
        elif node.tag == "path" and "stroke-dasharray" not in given:
            kind = given.get("class", "")
            colour = given.get("stroke", rules.get(kind, ""))
            width = float(given.get("stroke-width", 1))
            for points in _lines(node.attrib["d"]):
                moved = tuple((px + x, py + y) for px, py in points)
                yield Stroke(colour, width, moved, kind)
        else:
            for child in node:
                yield from painted(child, x, y, given)

    return list(painted(root, 0.0, 0.0, {}))


def on_top(root: ET.Element, at: Point, colours: set[str]) -> str:
    """Return which of these colours is seen at a point, "" for none of them."""
    seen = [s.colour for s in strokes(root) if s.colour in colours and s.covers(at)]
    return seen[-1] if seen else ""


def crossings(root: ET.Element, one: str, other: str) -> list[str]:
    """Return which of two colours is on top wherever cords of these cross, downwards."""
    mine, yours = ([s for s in strokes(root) if s.colour == c] for c in (one, other))
    met = {
        (round(point[0], 1), round(point[1], 1))
        for a in mine for b in yours for p in pairwise(a.points) for q in pairwise(b.points)
        if (point := _crossing(*p, *q))
    }  # fmt: skip
    return [on_top(root, at, {one, other}) for at in sorted(met, key=lambda at: at[1])]


def rules(root: ET.Element) -> list[tuple[Point, Point]]:
    """Return the straight lines of the ruler, each from one end to the other."""
    lines = [
        ((_at(n, "x1"), _at(n, "y1")), (_at(n, "x2"), _at(n, "y2")))
        for n in root.iter("line") if n.get("class") == "rule"
    ]  # fmt: skip
    return lines + [(s.points[0], s.points[-1]) for s in strokes(root) if s.kind == "n"]


def _at(node: ET.Element, name: str) -> float:
    return float(node.get(name) or 0)


def _lines(path: str) -> Iterator[list[Point]]:
    """Yield each stretch of a path as points near enough to each other."""
    points: list[Point] = []
    bend: Point = (0.0, 0.0)
    for command, numbers in _commands(path):
        if command == "M":
            if points:
                yield points
            points = [(numbers[0], numbers[1])]
            continue
        x, y = points[-1]
        if command in "QT":
            turned = (2 * x - bend[0], 2 * y - bend[1])
            bend = turned if command == "T" else (numbers[0], numbers[1])
        points += _drawn(command, numbers, (x, y), bend)
    if points:
        yield points


_TAKES = {"M": 2, "L": 2, "H": 1, "V": 1, "h": 1, "v": 1, "Q": 4, "T": 2, "C": 6}


def _commands(path: str) -> Iterator[tuple[str, list[float]]]:
    """Yield each command with its numbers; one that is left out is the one before."""
    tokens = _TOKEN.findall(path)
    command = ""
    while tokens:
        command = tokens.pop(0) if tokens[0].isalpha() else command
        takes = _TAKES[command]
        yield command, [float(token) for token in tokens[:takes]]
        tokens = tokens[takes:]


def _drawn(command: str, numbers: list[float], at: Point, bend: Point) -> list[Point]:
    """Return the points that a command adds behind one."""
    (x, y), by = at, numbers[0]
    straight = {"H": (by, y), "V": (x, by), "h": (x + by, y), "v": (x, y + by)}
    if command in straight:
        return [straight[command]]
    end = (numbers[-2], numbers[-1])
    if command == "L":
        return [end]
    return _curve(at, bend if command == "T" else (numbers[0], numbers[1]), end)


def _curve(start: Point, bend: Point, end: Point) -> list[Point]:
    shares = [step / _TURNS for step in range(1, _TURNS + 1)]
    return [
        (
            (1 - t) ** 2 * start[0] + 2 * t * (1 - t) * bend[0] + t**2 * end[0],
            (1 - t) ** 2 * start[1] + 2 * t * (1 - t) * bend[1] + t**2 * end[1],
        )
        for t in shares
    ]


def _apart(at: Point, a: Point, b: Point) -> float:
    """Return how far a point is from a straight line between two."""
    across, down = b[0] - a[0], b[1] - a[1]
    long = across**2 + down**2
    share = ((at[0] - a[0]) * across + (at[1] - a[1]) * down) / long if long else 0.0
    share = min(1.0, max(0.0, share))
    return hypot(at[0] - a[0] - share * across, at[1] - a[1] - share * down)


def _crossing(a: Point, b: Point, c: Point, d: Point) -> Point | None:
    """Return where two straight lines cross, or None; one that ends on the other crosses it."""
    r, s = (b[0] - a[0], b[1] - a[1]), (d[0] - c[0], d[1] - c[1])
    turn = r[0] * s[1] - r[1] * s[0]
    if not turn:
        return None
    t = ((c[0] - a[0]) * s[1] - (c[1] - a[1]) * s[0]) / turn
    u = ((c[0] - a[0]) * r[1] - (c[1] - a[1]) * r[0]) / turn
    return (a[0] + t * r[0], a[1] + t * r[1]) if _in(t) and _in(u) else None


def _in(share: float) -> bool:
    """Return whether a share of a line lies on it, rounding apart."""
    return -1e-9 <= share <= 1 + 1e-9
