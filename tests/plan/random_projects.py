"""Whole projects drawn at random, with every kind of step, that can be worked as they stand."""

from dataclasses import dataclass
from random import Random
from typing import Final

from simulator import simulated

FLAT: Final = ("half knot", "reverse half knot", "square knot", "reverse square knot")
ROWS: Final = (("clove hitch", "holder"), ("reverse clove hitch", "knotter"),
               ("half hitch", "holder"), ("lark's head", "holder"))  # fmt: skip
KEPT: Final = (
    "do: Rest your hands.", "wait: 10 min", "measure: length", "space: 2 cm",
    "trim: all, leave: 9 cm",
)  # fmt: skip
CORDS: Final = """cords:
  reed: {diameter: 2 mm}
  clay: {diameter: 2 mm, fold: none}
  wick: {diameter: 1 mm}
"""
CORE: Final = "  core: {diameter: 2 mm, fold: none, lead: 30 cm, pieces: 2}\n"
KNOTS: Final = """knots:
  pearl: {strands: 2, uses: 3 cm, size: 5 mm}
  swap: {strands: 3, uses: 4 cm, size: 6 mm, order: reverses}
  roll: {strands: 4, uses: [4 cm, 5 cm, 6 cm, 7 cm], size: 9 mm, order: [2, 3, 4, 1]}
"""
APART: Final = """apart:
  handle:
    make: 2
    mirror: every second
    start: {hang: [2 reed]}
    work: [%s]
"""


WAYS: Final = (
    "each", "use", "flip", "add", "aside", "grown", "seam", "over", "net", "make", "end", "down",
    "up", "back",
)  # fmt: skip
ENDED: Final = {"end", "add", "aside", "grown", "up"}  # after these it is not turned end for end
MIRRORS: Final = ("none", "all", "every second")


@dataclass
class Drawn:
    """A text, and what kinds of step stand in it."""

    text: str
    kinds: set[str]


def drawn(seed: int) -> Drawn:
    """Return one project."""
    return _Drawing(Random(seed)).project()  # noqa: S311 - projects, no secrets


def _listed(key: str, steps: list[str]) -> str:
    return f"{key}\n" + "".join(f"    - {{{step}}}\n" for step in steps)


class _Drawing:
    def __init__(self, rng: Random) -> None:
        self.rng = rng
        self.kinds: set[str] = set()
        self.closed = False
        self.head = self.parts = ""
        self.work: list[str] = []

    def project(self) -> Drawn:
        rng = self.rng
        start, n = self._start()
        cords = CORDS + (CORE if "core" in self.kinds else "")
        self.head = f"coach: 1\ntitle: Drawn\n{cords}start: {start}\n"
        inner = [self._still(4) for _ in range(rng.randint(1, 3))]
        grown = ["add: [clay], at: 2", self._still(4), "lay aside: 1"]
        self.parts = _listed("parts:\n  inner:", inner) + _listed("  grown:", grown) + KNOTS
        made = ", ".join(f"{{{self._still(4)}}}" for _ in range(2))
        self.parts += APART % made
        for _ in range(rng.randint(2, 7)):
            steps, n = self._steps(n)
            self.work += steps
        text = self._text()
        return Drawn(text if "make" in self.kinds else text.replace(APART % made, ""), self.kinds)

    def _text(self) -> str:
        return self.head + _listed("work:", self.work) + self.parts

    def _start(self) -> tuple[str, int]:
        rng = self.rng
        kind = rng.choice(("nest", "hang", "strands", "round", "flat", "middle", "core"))
        self.kinds.add(kind)
        reed = rng.randint(2, 4)
        if kind == "core":
            return "{strands: [core.1, core.2, clay.1, clay.2, clay.3], on: board}", 5
        if kind == "strands":
            return f"{{strands: [{', '.join(f'clay.{n}' for n in range(1, 6))}]}}", 5
        if kind == "middle":
            return f"{{hang: [{2 * reed} reed], from: middle}}", 2 * reed
        self.closed = kind in ("round", "flat")
        more = {"round": ", round: yes", "flat": ", round: flat"}.get(kind, "")
        way = "nest" if kind == "nest" else "hang"
        return f"{{{way}: [{reed} reed], on: ring{more}}}", 2 * reed

    def _steps(self, n: int) -> tuple[list[str], int]:
        """Return steps for n strands, and how many hang after them."""
        way = self.rng.choice(("still",) * 6 + WAYS)
        able = {
            "aside": n > 5 and not self.closed,
            "use": n >= 4,
            "grown": n >= 4,
            "make": "make" not in self.kinds,
            "seam": self.closed,
            "over": self.closed and n % 2 == 0,
            "net": n >= 4 and n % 2 == 0,
            "end": "middle" in self.kinds and not self.kinds & ENDED,
            "down": "core" in self.kinds and "down" not in self.kinds,
            "up": n > 5 and not self.closed,
            "back": n >= 4 and not self.closed,
        }  # fmt: skip
        if way == "still" or not able.get(way, True):
            return [self._still(n)], n
        self.kinds.add(way)
        found: tuple[list[str], int] = getattr(self, f"_way_{way}")(n)
        return found

    def _way_add(self, n: int) -> tuple[list[str], int]:
        pieces, folded = self.rng.randint(1, 2), self.rng.random() < 0.5
        what, strands = ("reed", 2 * pieces) if folded else ("clay", pieces)
        return [f"add: [{pieces} {what}], at: {self.rng.randint(1, n + 1)}"], n + strands

    def _way_aside(self, n: int) -> tuple[list[str], int]:
        return [f"lay aside: {self.rng.randint(1, n)}"], n - 1

    def _way_up(self, n: int) -> tuple[list[str], int]:
        """Lay a strand aside and take it up again; the simulator tells its name."""
        place = self.rng.randint(1, n)
        name = simulated(self._text()).order[place - 1] if self.work else ""
        if not name:
            return [self._still(n)], n
        between = self._still(n - 1)
        taken = f"take up: {name}, at: {self.rng.randint(1, n)}"
        return [f"lay aside: {place}", between, taken], n

    def _way_use(self, n: int) -> tuple[list[str], int]:
        mirror = self.rng.choice(MIRRORS)
        return [f"use: inner, times: {self.rng.randint(1, 3)}, mirror: {mirror}"], n

    def _way_grown(self, n: int) -> tuple[list[str], int]:
        mirror = self.rng.choice(MIRRORS)
        return [f"use: grown, times: {self.rng.randint(1, 3)}, mirror: {mirror}"], n

    def _way_each(self, n: int) -> tuple[list[str], int]:
        return [self._each(n)], n

    def _way_flip(self, n: int) -> tuple[list[str], int]:
        return ["flip: piece"], n

    def _way_seam(self, n: int) -> tuple[list[str], int]:
        return [f"seam: {self.rng.randint(1, n)}"], n

    def _way_over(self, n: int) -> tuple[list[str], int]:
        return [f"knot: {self.rng.choice(FLAT)}, groups: 2-{n + 1} by 2"], n

    def _way_net(self, n: int) -> tuple[list[str], int]:
        return [self._net(n)], n

    def _way_make(self, n: int) -> tuple[list[str], int]:
        return [f"attach: handle, at: [1, {n}], by: sewn"], n

    def _way_end(self, n: int) -> tuple[list[str], int]:
        return ["flip: end for end"], n

    def _way_down(self, n: int) -> tuple[list[str], int]:
        return [f"bring down: [core.1, core.2], at: {self.rng.randint(1, n + 1)}"], n + 2

    def _way_back(self, n: int) -> tuple[list[str], int]:
        long = "knot: square knot, strands: 1-4, times: 30"
        return [long, "fold back: 1-4, loop: 5 mm", self._still(n)], n

    def _net(self, n: int) -> str:
        rng = self.rng
        sides, size = rng.choice(("even", "narrow", "widen")), 2 if n < 8 else rng.choice((2, 4))
        whole = n // size * size
        rows = rng.randint(1, max(1, whole // size))
        return (
            f"net: 1-{whole} by {size}, of: {rng.choice(FLAT[:3])}, rows: {rows}, sides: {sides}"
            if not self.closed or sides == "even"
            else f"net: 1-{whole} by {size}, of: square knot, rows: {rows}"
        )

    def _each(self, n: int) -> str:
        rng = self.rng
        size = rng.randint(2, min(4, n))
        groups = n // size
        first = rng.randint(1, n - groups * size + 1)
        inner = ", ".join(f"{{{self._still(size)}}}" for _ in range(rng.randint(1, 2)))
        mirror = rng.choice(("none", "all", "every second"))
        last = first + groups * size - 1
        order = ", order: any" if rng.random() < 0.2 else ""
        return f"each: {first}-{last} by {size}, mirror: {mirror}{order}, steps: [{inner}]"

    def _still(self, n: int) -> str:
        """Return a step that leaves as many strands as there were."""
        rng = self.rng
        kinds = [
            "flat",
            "cross",
            "chain",
            "around",
            "kept",
            "bundle",
            "picot",
            "bead",
            "turn",
            "own",
        ]
        if n >= 2:
            kinds += ["row", "row", "weave", "gather", "barrel", "itself", "clasp", "rigid"]
        if n >= 3:
            kinds += ["braid", "bundles", "swap", "berry", "longest"]
        if n >= 4:
            kinds += ["josephine", "roll"]
        kind = rng.choice(kinds)
        self.kinds.add(kind)
        return str(getattr(self, f"_{kind}")(n))

    def _span(self, n: int, least: int = 1) -> tuple[int, int]:
        first = self.rng.randint(1, n - least + 1)
        return first, self.rng.randint(first + least - 1, n)

    def _flat(self, n: int) -> str:
        rng = self.rng
        size = rng.randint(2, min(4, n))
        groups = rng.randint(1, n // size)
        first = rng.randint(1, n - groups * size + 1)
        last, times = first + groups * size - 1, rng.randint(1, 3)
        return f"knot: {rng.choice(FLAT)}, groups: {first}-{last} by {size}, times: {times}"

    def _cross(self, n: int) -> str:
        first, last = self._span(n, 2)
        order = list(range(first, last + 1))
        self.rng.shuffle(order)
        return f"cross: {order}"

    def _chain(self, n: int) -> str:
        first = self.rng.randint(1, n - 1)
        return (
            f"knot: half hitch chain, strands: {first}-{first + 1}, times: {self.rng.randint(1, 4)}"
        )

    def _around(self, n: int) -> str:
        knotter, other = self.rng.sample(range(1, n + 1), 2)
        knot = self.rng.choice(("lark's head", "half hitch", "clove hitch", "reverse lark's head"))
        return f"knot: {knot}, knotter: {knotter}, around: {other}, times: {self.rng.randint(1, 2)}"

    def _kept(self, _: int) -> str:
        return self.rng.choice(KEPT)

    def _bundle(self, n: int) -> str:
        first, last = self._span(n)
        knot = self.rng.choice(("overhand knot", "double overhand knot"))
        return f"knot: {knot}, strands: {first}-{last}"

    def _picot(self, n: int) -> str:
        return f"picot: 15 mm, strands: [{self.rng.randint(1, n)}]"

    def _bead(self, n: int) -> str:
        return f"bead: {self.rng.randint(1, n)}, size: 8 mm"

    def _turn(self, n: int) -> str:
        at = self.rng.randint(1, n - 1)
        return f"turn: {at + 1}, around: {self.rng.choice(('pin', at))}"

    def _row(self, n: int) -> str:
        rng = self.rng
        mover, far = rng.sample(range(1, n + 1), 2)
        knot, role = rng.choice(ROWS)
        lie = rng.choice(("", ", lie: level", ", times: 2"))
        lie += ", first: under" if knot == "reverse clove hitch" and rng.random() < 0.3 else ""
        return (
            f"row: {knot}, {role}: {mover}, across: {mover + (1 if far > mover else -1)}-{far}{lie}"
        )

    def _weave(self, n: int) -> str:
        one = self.rng.randint(0, n - 1)
        runs = [f"{many} {knot}" for many, knot in
                ((one, "clove hitch"), (n - 1 - one, "reverse clove hitch")) if many]  # fmt: skip
        mover, across = self.rng.choice(((1, f"2-{n}"), (n, f"{n - 1}-1")))
        return f"weave: {mover}, across: {across}, knots: [{', '.join(runs)}]"

    def _gather(self, n: int) -> str:
        first, last = self._span(n, 2)
        return f"knot: gathering knot, wrap: wick, around: {first}-{last}, length: 1 cm"

    def _barrel(self, n: int) -> str:
        knotter, other = self.rng.sample(range(1, n + 1), 2)
        return f"knot: barrel knot, knotter: {knotter}, around: {other}, turns: 3"

    def _itself(self, n: int) -> str:
        return f"knot: barrel knot, strands: {self.rng.randint(1, n)}, turns: 3"

    def _clasp(self, n: int) -> str:
        first, last = self._span(n, 2)
        return f"knot: square knot, strands: {first}-{last}, with: wick, times: 2"

    def _rigid(self, n: int) -> str:
        first, last = self._span(n)
        return f"row: clove hitch, holder: dowel, diameter: 9 mm, across: {first}-{last}"

    def _braid(self, n: int) -> str:
        first = self.rng.randint(1, n - 2)
        how = self.rng.choice(("length: 6 cm", f"crossings: {self.rng.randint(1, 8)}"))
        return f"braid: {first}-{first + 2}, {how}"

    def _bundles(self, n: int) -> str:
        one, two = sorted(self.rng.sample(range(1, n), 2))
        spans = [
            f"{a}-{b}" if b > a else f"{a}" for a, b in ((1, one), (one + 1, two), (two + 1, n))
        ]
        return f"braid: [{', '.join(spans)}], crossings: {self.rng.randint(1, 8)}"

    def _berry(self, n: int) -> str:
        first, last = self._span(n, 3)
        return f"knot: berry knot, strands: {first}-{min(last, first + 3)}, of: 3"

    def _longest(self, n: int) -> str:
        first, last = self._span(n, 2)
        return f"knot: lark's head, knotter: longest, strands: {first}-{last}"

    def _josephine(self, n: int) -> str:
        first = self.rng.randint(1, n - 3)
        return f"knot: josephine knot, strands: {first}-{first + 3}"

    def _own(self, n: int) -> str:
        first = self.rng.randint(1, n - 1)
        return f"knot: pearl, strands: {first}-{first + 1}"

    def _swap(self, n: int) -> str:
        first = self.rng.randint(1, n - 2)
        return f"knot: swap, strands: {first}-{first + 2}"

    def _roll(self, n: int) -> str:
        first = self.rng.randint(1, n - 3)
        return f"knot: roll, strands: {first}-{first + 3}"
