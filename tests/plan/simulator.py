"""A second simulator, written from the page on the format alone: who ties onto whom, and where.

It knows nothing of the coach's own. A mirrored part is worked on the board seen from behind: its
strands in reverse order, the knots under the names of their mirror images, and back again.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, Final

import yaml

Tie = tuple[str, frozenset[str], frozenset[str]]
MIRRORED: Final = {"half knot": "reverse half knot", "square knot": "reverse square knot"}
MIRRORED.update({other: one for one, other in MIRRORED.items()})
EXCHANGING: Final = ("half knot", "reverse half knot")
RIGID: Final = ("ring", "dowel", "bar", "buckle", "cord")
NO_TIES: Final = (
    "do", "wait", "measure", "trim", "space", "picot", "bead", "turn", "attach", "make",
    "fold back",
)  # fmt: skip


@dataclass
class Simulated:
    """What a file ties, in its order, and how the strands hang at the end."""

    ties: list[Tie] = field(default_factory=list)
    order: list[str] = field(default_factory=list)


def simulated(text: str) -> Simulated:
    """Work a project file from top to bottom."""
    return _Worker(yaml.load(text, yaml.BaseLoader)).work()  # noqa: S506 - reads words alone


class _Worker:
    def __init__(self, file: dict[str, Any]) -> None:
        self.file = file
        self.order: list[str] = []
        self.above: list[str] = []  # the other ends of work that is begun in the middle
        self.pieces: dict[str, int] = {}
        self.ties: list[Tie] = []
        self.closed = False
        self.seen_from_behind = False

    def work(self) -> Simulated:
        start = self.file.get("start") or {}
        self.hang(start)
        self.closed = "round" in start
        for name, part in (self.file.get("apart") or {}).items():
            if any("attach" in step for step in self.file["work"]):
                self.apart(name, part)
        self.steps(self.file["work"])
        return Simulated(self.ties, self.order)

    # how cords hang

    def folds(self, cord: str) -> bool:
        return (self.file["cords"][cord] or {}).get("fold", "middle") != "none"

    def piece(self, cord: str, number: int | None = None) -> tuple[str, ...]:
        if number is None:
            number = self.pieces.get(cord, 0) + 1
        self.pieces[cord] = max(number, self.pieces.get(cord, 0))
        ends = "ab" if self.folds(cord) else "a"
        return tuple(f"{cord}.{number}{end}" for end in ends)

    def listed(self, what: Any) -> list[tuple[str, int | None]]:
        found: list[tuple[str, int | None]] = []
        for word in what if isinstance(what, list) else [what]:
            many = re.fullmatch(r"(\d+) (\w+)", word)
            named = re.fullmatch(r"(\w+)\.(\d+)", word)
            if many:
                found += [(many[2], None)] * int(many[1])
            elif named:
                found.append((named[1], int(named[2])))
            else:
                found.append((word, None))
        return found

    def hang(self, start: dict[str, Any]) -> None:
        if "nest" in start:
            pieces = [self.piece(*one) for one in self.listed(start["nest"])]
            self.order = [p[0] for p in pieces] + [p[1] for p in reversed(pieces)]
        elif start.get("from") == "middle":
            pieces = [self.piece(*one) for one in self.listed(start["hang"])]
            self.order, self.above = [p[0] for p in pieces], [p[1] for p in pieces]
        else:
            listed = self.listed(start.get("hang") or start["strands"])
            self.order = [end for one in listed for end in self.piece(*one)]

    def apart(self, name: str, part: dict[str, Any]) -> None:
        del name
        kept, closed = self.order, self.closed
        self.closed = False
        for turn in range(int(part.get("make", 1))):
            self.hang(part["start"])
            self.window(part["work"], part.get("mirror", "none"), turn)
        self.order, self.closed = kept, closed

    # lists of steps

    def steps(self, steps: Sequence[dict[str, Any]]) -> None:
        for step in steps:
            self.step(step)

    def window(self, steps: Sequence[dict[str, Any]], mirror: str, turn: int) -> None:
        """Work a repeat or a group, from behind where it is mirrored."""
        behind = mirror == "all" or (mirror == "every second" and turn % 2 == 1)
        if behind:
            self.order.reverse()
            self.seen_from_behind = not self.seen_from_behind
        self.steps(steps)
        if behind:
            self.order.reverse()
            self.seen_from_behind = not self.seen_from_behind

    def step(self, step: dict[str, Any]) -> None:
        for kind in ("row", "weave", "knot", "net", "braid", "cross", "add", "each", "use", "flip",
                     "seam"):  # fmt: skip
            if kind in step:
                getattr(self, f"do_{kind}")(step)
                return
        if "lay aside" in step:
            gone = set(self.at(step["lay aside"]))
            self.order = [strand for strand in self.order if strand not in gone]
        elif "take up" in step:
            self.order.insert(int(step["at"]) - 1, step["take up"])
        elif "bring down" in step:
            named = [self.lead(word) for word in step["bring down"]]
            place = int(step["at"]) - 1
            self.order[place:place] = named
        else:
            assert any(kind in step for kind in NO_TIES), step

    @staticmethod
    def lead(word: str) -> str:
        cord, number = word.split(".")
        return f"{cord}.{number}b"

    def do_use(self, step: dict[str, Any]) -> None:
        for turn in range(int(step.get("times", 1))):
            self.window(self.file["parts"][step["use"]], step.get("mirror", "none"), turn)

    def do_each(self, step: dict[str, Any]) -> None:
        groups = self.groups(step["each"])
        for turn, group in enumerate(groups):
            whole, places = self.order, [(at - 1) % len(self.order) for at in group]
            self.order = [whole[place] for place in places]
            self.window(step["steps"], step.get("mirror", "none"), turn)
            for place, strand in zip(places, self.order, strict=True):
                whole[place] = strand
            self.order = whole

    # places

    def positions(self, said: Any) -> list[int]:
        if isinstance(said, list):
            return [at for part in said for at in self.positions(part)]
        if said == "all":
            return list(range(1, len(self.order) + 1))
        first, dash, last = str(said).partition("-")
        if not dash:
            return [int(first)]
        way = 1 if int(last) >= int(first) else -1
        return list(range(int(first), int(last) + way, way))

    def groups(self, said: Any) -> list[list[int]]:
        if isinstance(said, list):
            return [self.positions(part) for part in said]
        span, by, size = str(said).partition(" by ")
        places = self.positions(span)
        step = int(size) if by else len(places)
        return [places[at : at + step] for at in range(0, len(places), step)]

    def at(self, said: Any) -> list[str]:
        return [self.order[(place - 1) % len(self.order)] for place in self.positions(said)]

    def put(self, places: Sequence[int], strands: Sequence[str]) -> None:
        for place, strand in zip(places, strands, strict=True):
            self.order[(place - 1) % len(self.order)] = strand

    def tie(self, knot: str, knotters: Sequence[str], fillers: Sequence[str] = ()) -> None:
        name = MIRRORED.get(knot, knot) if self.seen_from_behind else knot
        self.ties.append((name, frozenset(knotters), frozenset(fillers)))

    # what moves

    def travel(self, mover: int, across: Sequence[int], knots: Sequence[str], holds: bool) -> None:
        strand = self.order[mover - 1]
        for place, knot in zip(across, knots, strict=True):
            other = self.order[(place - 1) % len(self.order)]
            mover_holds = holds if holds is not None else knot == "clove hitch"
            one, two = (other, strand) if mover_holds else (strand, other)
            self.tie(knot, [one], [two])
        self.order.remove(strand)
        self.order.insert((across[-1] - 1) % (len(self.order) + 1), strand)

    def do_row(self, step: dict[str, Any]) -> None:
        times = int(step.get("times", 1))
        if step.get("holder") in RIGID:
            for strand in self.at(step["across"]):
                for _ in range(times):
                    self.tie(step["row"], [strand])
            return
        holds = "holder" in step
        mover = int(step["holder" if holds else "knotter"])
        across = [at for at in self.positions(step["across"]) for _ in range(times)]
        self.travel(mover, across, [step["row"]] * len(across), holds)

    def do_weave(self, step: dict[str, Any]) -> None:
        knots = [
            knot
            for number, knot in (run.split(" ", 1) for run in step["knots"])
            for _ in range(int(number))
        ]
        across, mover = self.positions(step["across"]), int(step["weave"])
        strand = self.order[mover - 1]
        for place, knot in zip(across, knots, strict=True):
            other = self.order[place - 1]
            pair = (other, strand) if knot == "clove hitch" else (strand, other)
            self.tie(knot, pair[:1], pair[1:])
        self.order.remove(strand)
        self.order.insert(across[-1] - 1, strand)

    def do_cross(self, step: dict[str, Any]) -> None:
        new = [int(at) for at in step["cross"]]
        self.put(sorted(new), self.at(step["cross"]))

    def do_flip(self, step: dict[str, Any]) -> None:
        if step["flip"] == "end for end":
            self.order, self.above = self.above[::-1], self.order[::-1]
        else:
            self.order.reverse()

    def do_seam(self, step: dict[str, Any]) -> None:
        cut = int(step["seam"]) - 1
        self.order = self.order[cut:] + self.order[:cut]

    def do_add(self, step: dict[str, Any]) -> None:
        pieces = [self.piece(*one) for one in self.listed(step["add"])]
        place = int(step["at"]) - 1
        if self.seen_from_behind:  # end a is the one further left on the board
            pieces = [piece[::-1] for piece in reversed(pieces)][::-1]
        self.order[place:place] = [end for piece in pieces for end in piece]

    # knots

    def do_net(self, step: dict[str, Any]) -> None:
        groups, rows = self.groups(step["net"]), int(step["rows"])
        low, high, size = groups[0][0], groups[-1][-1], len(groups[0])
        half, sides = size // 2, step.get("sides", "even")
        room = low - half * (rows - 1) >= 1 and high + half * (rows - 1) <= len(self.order)
        whole = self.closed and high - low + 1 == len(self.order)
        for row in range(rows):
            if sides == "narrow":
                inset = [half * row] * 2
            elif sides == "widen":
                inset = [half * (-row if room else rows - 1 - row)] * 2
            else:
                off = half * (row % 2)
                inset = [off, -off if whole else off]
            first, last = low + inset[0], high - inset[1]
            for left in range(first, last, size):
                self.flat(step["of"], list(range(left, left + size)))

    def flat(self, knot: str, places: Sequence[int]) -> None:
        strands = [self.order[(place - 1) % len(self.order)] for place in places]
        self.tie(knot, [strands[0], strands[-1]], strands[1:-1])
        if knot in EXCHANGING:
            self.put((places[0], places[-1]), (strands[-1], strands[0]))

    def do_braid(self, step: dict[str, Any]) -> None:
        if "crossings" not in step:
            return
        said = step["braid"]
        bundles = (
            [self.at(part) for part in said] if isinstance(said, list)
            else [[strand] for strand in self.at(said)]
        )  # fmt: skip
        places = [p for part in (said if isinstance(said, list) else [said])
                  for p in self.positions(part)]  # fmt: skip
        for crossing in range(int(step["crossings"])):
            left, middle, right = bundles
            bundles = [middle, left, right] if crossing % 2 else [left, right, middle]
        self.put(places, [strand for bundle in bundles for strand in bundle])

    def do_knot(self, step: dict[str, Any]) -> None:
        knot, times = step["knot"], int(step.get("times", 1))
        own = (self.file.get("knots") or {}).get(knot)
        if "wrap" in step:
            self.tie(knot, (), self.at(step["around"]))
        elif own:
            for group in self.groups(step.get("groups") or step["strands"]):
                self.own(knot, own, group)
        elif step.get("knotter") == "longest":
            self.tie(knot, ("?",), self.at(step["strands"]))
        elif "knotter" in step:
            for _ in range(times):
                self.tie(knot, self.at(step["knotter"]), self.at(step["around"]))
        else:
            for group in self.groups(step.get("groups") or step["strands"]):
                self.in_group(knot, group, times, clasp="with" in step)

    def in_group(self, knot: str, group: list[int], times: int, *, clasp: bool) -> None:
        strands = [self.order[(place - 1) % len(self.order)] for place in group]
        for time in range(times):
            if clasp:
                self.tie(knot, (), strands)
            elif knot == "half hitch chain":
                self.tie(knot, [strands[time % 2]], [strands[1 - time % 2]])
            elif knot in (*MIRRORED, "berry knot"):
                self.flat(knot, group)
            else:
                self.tie(knot, strands)

    def own(self, knot: str, said: dict[str, Any], group: list[int]) -> None:
        strands = [self.order[place - 1] for place in group]
        self.tie(knot, strands)
        order = said.get("order", "keeps")
        if order == "reverses":
            self.put(group, strands[::-1])
        elif isinstance(order, list):
            self.put(group, [strands[int(old) - 1] for old in order])
