"""A second reader: follows printed instructions on a board of its own and tells every tie.

It knows nothing of the project file or the plan, only the sentences, so it fails when they say
something else than what the plan ties.
"""

import re
from dataclasses import dataclass, field

MIRROR = {"square knot": "reverse square knot", "half knot": "reverse half knot"}
MIRROR |= {other: one for one, other in MIRROR.items()}
WORDS = {
    "once": 1, "twice": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
}  # fmt: skip
KNOTS = (
    "reverse clove hitch", "clove hitch", "reverse lark's head", "lark's head",
    "reverse square knot", "square knot", "reverse half knot", "half knot", "half hitch",
    "josephine knot", "double overhand knot", "overhand knot", "barrel knot", "berry knot",
)  # fmt: skip
MADE = r"(?: of \w+ square knots| [\d.]+ [cm]?m high, left open,)"
KNOT = rf"(?:an? |(\d+) )({'|'.join(KNOTS)})(?:e?s)?(?: \([^)]*\))?"

Tie = tuple[str, frozenset[int], frozenset[int]]


@dataclass
class View:
    """Some slots of a board, in the order in which their reader counts them."""

    slots: list[int]
    parent: "View | None" = None
    strands: list[int] = field(default_factory=list)  # of the outermost view
    mirrored: bool = False
    closed: bool = False

    def get(self) -> list[int]:
        held = self.parent.get() if self.parent else self.strands
        return [held[slot] for slot in self.slots]

    def put(self, order: list[int]) -> None:
        if self.parent is None:
            self.strands = order
            self.slots = list(range(len(order)))
            return
        held = self.parent.get()
        for slot, strand in zip(self.slots, order, strict=True):
            held[slot] = strand
        self.parent.put(held)

    def inside(self, slots: list[int], mirrored: bool) -> "View":
        local = slots[::-1] if mirrored else slots
        return View(local, self, mirrored=self.mirrored != mirrored)


@dataclass
class Line:
    number: int
    depth: int
    text: str


def lines_of(markdown: list[str], heading: str = "Work") -> list[Line]:
    """Return the lines under a heading, that of the work if left out, with numbers and depths."""
    found = []
    begun = False
    for line in markdown:
        if line.startswith("## "):
            begun = line == f"## {heading}"
        match = re.fullmatch(r"( *)- (?:\*\*(\d+)\.\*\* (.*)|\*(.*)\*(?: \(.*\))?)", line)
        if begun and match:
            text = re.sub(r"\\(.)", r"\1", match[3] or match[4])
            found.append(Line(int(match[2] or 0), len(match[1]) // 4, text))
    return found


class Follower:
    """Does what the lines say."""

    def __init__(self, lines: list[Line], strands: int, closed: bool) -> None:
        self.board = View(list(range(strands)), None, list(range(strands)), closed=closed)
        self.parts: dict[str, list[Line]] = {}
        self.ties: list[Tie] = []
        self.closed = closed
        self.block(lines, self.board)

    def block(self, lines: list[Line], view: View) -> None:
        at = 0
        while at < len(lines):
            line = lines[at]
            inner = at + 1
            while inner < len(lines) and lines[inner].depth > line.depth:
                inner += 1
            self.line(line, lines[at + 1 : inner], view)
            at = inner

    def line(self, line: Line, inner: list[Line], view: View) -> None:
        if line.text.startswith("Repeat from step"):
            return
        if line.text.startswith("On each of "):
            self.each(line.text, inner, view)
        elif match := re.match(r"Work steps? [\d to]+ again \((.*?)\)(.*)", line.text):
            self.repeat(self.parts[match[1].lower()], match[2], view)
        elif not line.number:
            name, _, rest = line.text.partition(": work ")
            numbers = [int(n) for n in re.findall(r"\d+", rest.split(",")[0])]
            own = [one.number for one in inner if one.number]
            assert [own[0], own[-1]] == [numbers[0], numbers[-1]], line.text
            self.parts[name.lower()] = inner
            self.repeat(inner, rest, view)
        else:
            self.step(line.text, view)

    def repeat(self, lines: list[Line], words: str, view: View) -> None:
        match = re.search(r", (?:(\w+) times|(once|twice))? ?in all", words)
        times = number(match[1] or match[2]) if match else 1
        for turn in range(times):
            every = "mirrored" in words
            mirrored = every and ("every second" not in words or turn % 2 == 1)
            self.block(lines, view.inside(list(range(len(view.get()))), mirrored))

    def each(self, text: str, inner: list[Line], view: View) -> None:
        for turn, group in enumerate(groups(text[len("On each of ") : text.index(", one after")])):
            slots = [(at - 1) % len(view.get()) for at in group]
            mirrored = "mirrored" in text and ("every second" not in text or turn % 2 == 1)
            self.block(inner, view.inside(slots, mirrored))

    def step(self, text: str, view: View) -> None:
        text, _, again = text.partition(" Do this ")
        times = number(again.split()[0]) if again else 1
        for _ in range(times):
            for pattern, act in ACTS:
                match = re.match(pattern, text)
                if match:
                    act(self, match, view)
                    break
            else:
                assert re.match(STILL, text), f"not understood: {text}"

    def tie(self, view: View, knot: str, knotters: list[int], fillers: list[int]) -> None:
        name = MIRROR.get(knot, knot) if view.mirrored else knot
        self.ties.append((name, frozenset(knotters), frozenset(fillers)))


def from_left(text: str, what: str = "strand") -> list[str]:
    """Return the cord at each place told by `From the left: strand 1 reed; strands 2-3 clay.`"""
    told = re.search(r"From the left: (.*?)\.(?: |$)", text)
    assert told, text
    cords: list[str] = []
    for part in told[1].split("; "):
        match = re.fullmatch(rf"{what}s? (\d+)(?:-(\d+))? (in turn )?(.*)", part)
        assert match, part
        first, last = int(match[1]), int(match[2] or match[1])
        assert first == len(cords) + 1, f"{part} does not follow on"
        runs = re.split(r", | and ", match[4]) if match[3] else [f"{last - first + 1} {match[4]}"]
        turn = [cord for run in runs for cord in _run(run)]
        cords += turn * ((last - first + 1) // len(turn))
        assert len(cords) == last, part
    return cords


def _run(text: str) -> list[str]:
    many = re.fullmatch(r"(\d+) (.*)", text)
    return [many[2]] * int(many[1]) if many else [text]


def folded(text: str) -> tuple[set[str], set[str]]:
    """Return the cords that the words fold, in the middle or off it, and those they don't.

    A nest is folded together, all of it.
    """
    single = re.findall(r"Do not fold (?:the \d+ )?(.*?)(?: cords)?: ", text)
    off = re.findall(r"Fold (\w+) off the middle", text)
    names = re.findall(r"(?:Lay|[Ff]old) (?!them)(.*?)(?: together| in the middle)", text)
    middle = [_run(w)[0] for name in names for w in re.split(r", | and ", _bare(name))]
    return {*middle, *off}, set(single)


def _bare(names: str) -> str:
    return re.sub(r"^(each of )?(the )?| cords$", "", names)


def number(word: str) -> int:
    return WORDS[word] if word in WORDS else int(word)


def places(text: str) -> list[int]:
    """Read `3 to 5`, `5 to 3`, `1, 3 and 4`, `4`."""
    match = re.fullmatch(r"(\d+) to (\d+)", text)
    if match:
        first, last = int(match[1]), int(match[2])
        way = 1 if last >= first else -1
        return list(range(first, last + way, way))
    return [int(n) for n in re.findall(r"\d+", text)]


def groups(text: str) -> list[list[int]]:
    """Read `1 to 4, 5 to 8 and 9 to 12`, `1 to 40 in groups of 4`."""
    match = re.fullmatch(r"(\d+) to (\d+) in groups of (\d+)", text)
    if match:
        first, last, size = map(int, match.groups())
        return [list(range(at, at + size)) for at in range(first, last + 1, size)]
    return [places(part) for part in re.split(r", | and ", text)]


def at(view: View, positions: list[int]) -> list[int]:
    held = view.get()
    return [held[(position - 1) % len(held)] for position in positions]


def _go(follower: Follower, view: View, match: re.Match[str], over: str, knot: str) -> None:
    holds, mover = match[1] == "Hold", int(match[2])
    held = view.get()
    others = "all the others"
    crossed = places(over) if over != others else list(range(2, len(held) + 1))
    if over == others and mover != 1:
        crossed = list(range(len(held) - 1, 0, -1))
    times = number(match[6].split()[0]) if match[6] else 1
    strand = held[mover - 1]
    assert abs(crossed[0] - mover) == 1, match[0]
    assert (match[3] == "right") == (crossed[0] > mover), match[0]
    for other in at(view, crossed):
        pair = ([other], [strand]) if holds else ([strand], [other])
        for _ in range(times):
            follower.tie(view, knot, *pair)
    held.remove(strand)
    held.insert(crossed[-1] - 1, strand)
    view.put(held)


def _row(follower: Follower, match: re.Match[str], view: View) -> None:
    _go(follower, view, match, match[4], match[5])


def _take(follower: Follower, match: re.Match[str], view: View) -> None:
    _go(follower, view, match, match[5], match[4])


def _weave(follower: Follower, match: re.Match[str], view: View) -> None:
    held = view.get()
    mover, crossed = int(match[1]), places(match[3])
    strand = held[mover - 1]
    knots = [
        knot
        for count, knot in re.findall(r"(\d+) (reverse clove hitch|clove hitch)", match[4])
        for _ in range(int(count))
    ]
    for other, knot in zip(at(view, crossed), knots, strict=True):
        pair = ([other], [strand]) if knot == "clove hitch" else ([strand], [other])
        follower.tie(view, knot, *pair)
    held.remove(strand)
    held.insert(crossed[-1] - 1, strand)
    view.put(held)


def _flat_on(follower: Follower, view: View, group: list[int], knot: str, times: int) -> None:
    strands = at(view, group)
    for _ in range(times):
        follower.tie(view, knot, [strands[0], strands[-1]], strands[1:-1])
    if "half knot" in knot and times % 2:
        held = view.get()
        one, other = ((group[k] - 1) % len(held) for k in (0, -1))
        held[one], held[other] = held[other], held[one]
        view.put(held)


def _on(follower: Follower, match: re.Match[str], view: View) -> None:
    times, knot, on = int(match[1] or 1), match[2], match[4]
    everything = list(range(1, len(view.get()) + 1))
    listed = groups(on) if match[3] else [everything if on == "all" else places(on)]
    for group in listed:
        if "square" in knot or "half knot" in knot or "berry" in knot:
            _flat_on(follower, view, group, knot, times)
        else:
            for _ in range(times):
                follower.tie(view, knot, at(view, group), [])


def _net(follower: Follower, match: re.Match[str], view: View) -> None:
    first, last, rows, size, half = (int(match[k]) for k in (1, 2, 3, 5, 6))
    whole = follower.closed and last - first + 1 == len(view.get())
    for row in range(rows):
        if "narrower" in match[0]:
            low, high = first + half * row, last - half * row
        elif row % 2 and not whole:
            low, high = first + half, last - half
        else:
            low, high = first + half * (row % 2), last + half * (row % 2)
        for left in range(low, high, size):
            _flat_on(follower, view, list(range(left, left + size)), match[4], 1)


def _around(follower: Follower, match: re.Match[str], view: View) -> None:
    fillers = [] if match[4] == "on itself" else at(view, places(match[4][6:]))
    for _ in range(int(match[2] or 1)):
        follower.tie(view, match[3], at(view, [int(match[1])]), fillers)


def _chain(follower: Follower, match: re.Match[str], view: View) -> None:
    pair = at(view, places(match[2]))
    for made in range(int(match[1])):
        follower.tie(view, "half hitch chain", [pair[made % 2]], [pair[1 - made % 2]])


def _gather(follower: Follower, match: re.Match[str], view: View) -> None:
    bundle = view.get() if match[1] == "all" else at(view, places(match[1]))
    follower.tie(view, "gathering knot", [], bundle)


def _clasp(follower: Follower, match: re.Match[str], view: View) -> None:
    bundle = view.get() if match[3] == "all" else at(view, places(match[3]))
    for _ in range(int(match[1] or 1)):
        follower.tie(view, match[2], [], bundle)


def _plait(follower: Follower, match: re.Match[str], view: View) -> None:
    del follower
    if match[2] is None:
        return
    bundles = [
        at(view, places(part.replace("-", " to "))) for part in re.split(r", | and ", match[1])
    ]
    first = min(places(match[1].replace("-", " to ")))
    size = sum(len(bundle) for bundle in bundles)
    for crossing in range(int(match[2])):
        left, middle, right = bundles
        bundles = [left, right, middle] if crossing % 2 == 0 else [middle, left, right]
    held = view.get()
    held[first - 1 : first - 1 + size] = [strand for bundle in bundles for strand in bundle]
    view.put(held)


def _cross(follower: Follower, match: re.Match[str], view: View) -> None:
    del follower
    order = places(match[1])
    held = view.get()
    view.put([held[k - 1] for k in order] + held[len(order) :])


def _add(follower: Follower, match: re.Match[str], view: View) -> None:
    assert view.parent is None, "new strands inside a part are not followed here"
    pieces = sum(int(n) if n else 1 for n in re.findall(r"(?:(\d+)|a) \w+", match[1]))
    begin = 1_000 + len(follower.ties)
    held = view.get()
    place = int(match[2]) - 1
    held[place:place] = list(range(begin, begin + 2 * pieces))
    view.put(held)


def _aside(follower: Follower, match: re.Match[str], view: View) -> None:
    del follower
    gone = set(at(view, places(match[1])))
    view.put([strand for strand in view.get() if strand not in gone])


def _flip(follower: Follower, match: re.Match[str], view: View) -> None:
    del follower, match
    view.put(view.get()[::-1])


def _seam(follower: Follower, match: re.Match[str], view: View) -> None:
    del follower
    cut = int(match[1]) - 1
    held = view.get()
    view.put(held[cut:] + held[:cut])


LIE = r"(?:, lying \w+)?(?: at [\d.]+°)?"
NAMED = rf"an? ({'|'.join(KNOTS)})(?: \([^)]*\))?"
MOVER = rf"(\d+)(?: \([^)]*\))? to the (right|left){LIE}"
ACTS = (
    (rf"(Hold) {MOVER}: (.*?)(?: each)? ties? {NAMED} onto it(?:, (.*) each)?\.", _row),
    (rf"(Take) {MOVER}: it ties {NAMED} round (?:each of )?(.*?)(?:, (.*) each)?\.", _take),
    (r"Weave with (\d+)(?: \([^)]*\))? to the (right|left) over ([\d to]+): (.*);", _weave),
    (rf"Tie {KNOT}{MADE}? (?:on|with) (each of )?(.*?)\.", _on),
    (r"Tie a half hitch chain of (\d+) hitches with (.*?), the left", _chain),
    (
        r"Net (\d+) to (\d+): (\d+) ro\w+ of (.*?)s in groups of (\d+).*?set off by (\d+)",
        _net,
    ),
    (rf"(\d+) ties {KNOT}(?: of \d+ turns)? (round .*?|on itself)\.", _around),
    (r"Wrap a piece of .*? round (.*?) over", _gather),
    (rf"With a new piece of .*?, tie {KNOT} round (.*?)\.", _clasp),
    (r"Plait (.*?) (?:for .*|with (\d+) crossings), the outer right", _plait),
    (r"Let the strands change places with no knot: from the left now (.*)\.", _cross),
    (r"(?:Hang|Lay in) (.*?)(?: onto .*)?, to stand from (\d+) on", _add),
    (r"Lay aside (.*?);", _aside),
    (r"Turn the whole work over", _flip),
    (r"From here on count from the strand at (\d+)", _seam),
)
STILL = r"(?!Tie |Hold |Take |Net |Plait |Weave |Let |Wrap |With )\D"
