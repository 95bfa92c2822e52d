"""A second reader: follows printed instructions on a board of its own and tells every tie.

It knows nothing of the project file or the plan, only the sentences, so it fails when they say
something else than what the plan ties.
"""

import re
from dataclasses import dataclass, field

MIRROR = {"square knot": "reverse square knot", "half knot": "reverse half knot"}
MIRROR |= {other: one for one, other in MIRROR.items()}
WORDS = {
    "one": 1, "two": 2, "once": 1, "twice": 2, "three": 3, "four": 4, "five": 5, "six": 6,
    "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
}  # fmt: skip
KNOTS = (
    "reverse clove hitch", "clove hitch", "reverse lark's head", "lark's head",
    "reverse square knot", "square knot", "reverse half knot", "half knot", "half hitch",
    "josephine knot", "double overhand knot", "overhand knot", "barrel knot", "berry knot",
)  # fmt: skip
NUMBER = "one|two|three|four|five|six|seven|eight|nine|ten|\\d[\\d,]*"
MADE = r"(?: of \w+ square knots?| [\d.]+ [cm]?m high, left open,)"
KNOT = rf"(?:an? |({NUMBER}) )({'|'.join(KNOTS)})(?:e?s)?(?: \([^)]*\))?"

LONGEST = -1  # whichever strand has most left
APART = 10_000  # strands of what is made apart count from here for the first piece, and so on

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

    def insert(self, place: int, new: list[int]) -> None:
        """Put strands before the one at a place, from 0; a view on a part of another takes none."""
        if self.parent is None:
            self.strands[place:place] = new
            self.slots = list(range(len(self.strands)))
            return
        turned = self._turned()
        self.parent.insert(
            len(self.slots) - place if turned else place, new[:: -1 if turned else 1]
        )
        self.slots = list(range(len(self.slots) + len(new)))[:: -1 if turned else 1]

    def remove(self, gone: list[int]) -> None:
        """Take strands away; the others close up."""
        if self.parent is None:
            self.put([strand for strand in self.strands if strand not in gone])
            return
        turned = self._turned()
        self.parent.remove(gone)
        self.slots = list(range(len(self.slots) - len(gone)))[:: -1 if turned else 1]

    def _turned(self) -> bool:
        """Whether it is its parent from behind; strands come and go only in the whole of it."""
        assert self.parent is not None
        whole = list(range(len(self.parent.get())))
        assert self.slots in (whole, whole[::-1])
        return self.slots != whole

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

    def __init__(
        self, lines: list[Line], strands: int, closed: bool,
        own: dict[str, list[int]] | None = None,
    ) -> None:  # fmt: skip
        self.own = own or {}  # knots of the maker's own, and where their strands stand below them
        self.come = 1_000  # the number of the next strand that is hung on the way
        self.aside: list[tuple[int, int]] = []  # where strands hung that were laid aside
        self.board = View(list(range(strands)), None, list(range(strands)), closed=closed)
        self.parts: dict[str, list[Line]] = {}
        self.ties: list[Tie] = []
        self.closed = closed
        self.row: re.Match[str] | None = None  # the row that `Do the same` means
        self.made = 0  # pieces made apart
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
        if match := re.match(
            r"Work (steps? [\w ]+?) on ((?:strands|each \w+) .*?(?: turn| any order|\d)), counting",
            line.text,
        ):
            self.spans(match[1], inner, line.text)
            self.each(match[2], line.text, inner, view)
        elif match := re.match(r"Work (.*?) again \((steps? .*?)\)(.*)", line.text):
            self.spans(match[2], self.parts[match[1].lower()], line.text)
            self.repeat(self.parts[match[1].lower()], match[3], view)
        elif match := re.match(r"Make (?:the|(\w+)) .* separately\.", line.text):
            self.apart(number(match[1]) if match[1] else 1, line.text, inner)
        elif not line.number:
            match = re.fullmatch(
                r"(.*?):(?: work (steps? \d+(?: (?:to|and) \d+)?)(.*))?", line.text
            )
            assert match, line.text
            if match[2]:
                self.spans(match[2], inner, line.text)
            self.parts[match[1].lower()] = inner
            self.repeat(inner, match[3] or "", view)
        else:
            self.step(line.text, view)

    def apart(self, pieces: int, text: str, inner: list[Line]) -> None:
        """Make pieces on boards of their own; their strands count from `APART` for each."""
        self.spans(re.search(r" Work (steps? [\w ]+)\.", text)[1], inner, text)  # type: ignore[index]
        for turn in range(pieces):
            self.made += 1
            first = APART * self.made
            strands = list(range(first, first + len(from_left(text))))
            board = View(list(range(len(strands))), None, strands)
            mirrored = "Mirror every second" in text and turn % 2 == 1
            self.block(inner, board.inside(list(range(len(strands))), mirrored))

    @staticmethod
    def spans(words: str, inner: list[Line], text: str) -> None:
        """Hold `steps 4 to 10` against the numbers of the lines that are meant."""
        numbers = [int(n) for n in re.findall(r"\d+", words)]
        own = [one.number for one in inner if one.number]
        assert [own[0], own[-1]] == [numbers[0], numbers[-1]], text

    def repeat(self, lines: list[Line], words: str, view: View) -> None:
        match = re.match(r", (?:([\w,]+) times|(twice))\.", words)
        times = number(match[1] or match[2]) if match else 1
        for turn in range(times):
            every = "Mirror" in words
            mirrored = every and ("every second" not in words or turn % 2 == 1)
            self.block(lines, view.inside(list(range(len(view.get()))), mirrored))

    def each(self, on: str, text: str, inner: list[Line], view: View) -> None:
        for turn, group in enumerate(groups(re.sub(" in (turn|any order)$", "", on))):
            slots = [(at - 1) % len(view.get()) for at in group]
            mirrored = "Mirror" in text and ("every second" not in text or turn % 2 == 1)
            self.block(inner, view.inside(slots, mirrored))

    def step(self, text: str, view: View) -> None:
        text, _, again = text.partition(" Do this ")
        times = number(again.split()[0]) if again else 1
        for _ in range(times):
            for pattern, act in ACTS:
                match = re.match(pattern, text)
                if match:
                    act(self, match, view)
                    self.row = match if act is _row else self.row
                    break
            else:
                assert re.match(STILL, text), f"not understood: {text}"

    def tie(self, view: View, knot: str, knotters: list[int], fillers: list[int]) -> None:
        name = MIRROR.get(knot, knot) if view.mirrored else knot
        self.ties.append((name, frozenset(knotters), frozenset(fillers)))


def own_knots(markdown: list[str]) -> dict[str, list[int]]:
    """Return how strands stand below the maker's own knots, none for those that keep places."""
    found = {}
    for line in markdown:
        if match := re.search(r"\d+ (\w+?)s?\.\*\* Your own knot of \d+ strands?\.(.*)", line):
            order = re.search(r"Below it the strands are, from the left: ([\d, ]+)\.", match[2])
            found[match[1]] = [int(n) for n in order[1].split(", ")] if order else []
    return found


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
    middle = [_run(_bare(w))[0] for name in names for w in re.split(r", | and ", name)]
    return {*middle, *off}, set(single)


def _bare(names: str) -> str:
    return re.sub(r"^(each of )?(the )?| cords?$", "", names)


def number(word: str) -> int:
    return WORDS[word] if word in WORDS else int(word.replace(",", ""))


def places(text: str) -> list[int]:
    """Read `strands 3 to 5`, `5 down to 3`, `1, 3 and 4`, `strand 4`."""
    text = re.sub(r"^strands? ", "", text)
    match = re.fullmatch(r"(\d+) (down )?to (\d+)", text)
    if match:
        first, last = int(match[1]), int(match[3])
        way = 1 if last >= first else -1
        assert (way == -1) == bool(match[2]), text
        return list(range(first, last + way, way))
    return [int(n) for n in re.findall(r"\d+", text)]


def groups(text: str) -> list[list[int]]:
    """Read `strands 1 to 4, 5 to 8 and 9 to 12`, `each pair in turn: 1 and 2, 3 and 4`."""
    if match := re.match(r"each (pair|group)(?: in turn| in any order)?: ", text):
        spans = re.findall(r"\d+ (?:down )?to \d+|\d+(?:, \d+)* and \d+|\d+", text[match.end() :])
        assert match[1] == "group" or all(" and " in span for span in spans), text
        return [places(span) for span in spans]
    text = re.sub(r"^strands? ", "", text)
    match = re.fullmatch(r"(\d+) to (\d+) in groups of (\w+)", text)
    if match:
        first, last, size = map(number, match.groups())
        return [list(range(at, at + size)) for at in range(first, last + 1, size)]
    return [places(part) for part in re.split(r", | and ", text)]


def at(view: View, positions: list[int]) -> list[int]:
    held = view.get()
    return [held[(position - 1) % len(held)] for position in positions]


def _go(follower: Follower, view: View, match: re.Match[str], row: re.Match[str]) -> None:
    """Take the mover of `match` across others, by the knot and the way that `row` tells."""
    mover, over = int(match["mover"]), match["over"]
    way, tied, holds = row["way"], row["tied"], row[0].startswith("With")
    held = view.get()
    others = over == "each of the other strands"
    crossed = places(over.removeprefix("each of ")) if not others else list(range(2, len(held) + 1))
    if others and mover != 1:
        crossed = list(range(len(held) - 1, 0, -1))
    knot = re.fullmatch(KNOT, tied)
    assert knot, tied
    strand = held[mover - 1]
    assert abs(crossed[0] - mover) == 1, over
    assert (way == "right") == (crossed[0] > mover), over
    for other in at(view, crossed):
        pair = ([other], [strand]) if holds else ([strand], [other])
        for _ in range(number(knot[1] or "one")):
            follower.tie(view, knot[2], *pair)
    held.remove(strand)
    held.insert(crossed[-1] - 1, strand)
    view.put(held)


def _row(follower: Follower, match: re.Match[str], view: View) -> None:
    _go(follower, view, match, match)


def _same(follower: Follower, match: re.Match[str], view: View) -> None:
    before = follower.row
    assert before, match[0]
    assert before[0].startswith("With") == (match["as"] == "as holder and"), match[0]
    _go(follower, view, match, before)


def _weave(follower: Follower, match: re.Match[str], view: View) -> None:
    held = view.get()
    mover, crossed = int(match["mover"]), places(match[3])
    strand = held[mover - 1]
    knots = [
        knot
        for count, knot, way in re.findall(
            rf"({NUMBER}) (reverse clove hitch|clove hitch)(?:es)? (onto|with) it", match[4]
        )
        for _ in range(number(count))
        if (knot == "clove hitch") == (way == "onto")
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
    times, knot, word, on = number(match[1] or "one"), match[2], match[3], match[4]
    listed = each(view, word, on)
    for group in listed:
        if "square" in knot or "half knot" in knot or "berry" in knot:
            _flat_on(follower, view, group, knot, times)
        else:
            for _ in range(times):
                follower.tie(view, knot, at(view, group), [])


def _net(follower: Follower, match: re.Match[str], view: View) -> None:
    first, last, rows, size, half = (number(match[k]) for k in (1, 2, 3, 5, 6))
    whole = follower.closed and last - first + 1 == len(view.get())
    for row in range(rows):
        if "further in" in match.string:
            low, high = first + half * row, last - half * row
        elif "further out" in match.string:
            low, high = first - half * row, last + half * row
        elif row % 2 and not whole:
            low, high = first + half, last - half
        else:
            low, high = first + half * (row % 2), last + half * (row % 2)
        for left in range(low, high, size):
            _flat_on(follower, view, list(range(left, left + size)), match[4], 1)


def _around(follower: Follower, match: re.Match[str], view: View) -> None:
    fillers = at(view, places(match[4]))
    for _ in range(number(match[2] or "one")):
        follower.tie(view, match[3], at(view, [int(match[1])]), fillers)


def _itself(follower: Follower, match: re.Match[str], view: View) -> None:
    for _ in range(number(match[1] or "one")):
        follower.tie(view, match[2], at(view, [int(match[3])]), [])


def _chain(follower: Follower, match: re.Match[str], view: View) -> None:
    for group in each(view, "with", match[2]):
        pair = at(view, group)
        for made in range(number(match[1])):
            follower.tie(view, "half hitch chain", [pair[made % 2]], [pair[1 - made % 2]])


def _gather(follower: Follower, match: re.Match[str], view: View) -> None:
    bundle = view.get() if match[1] == "all strands" else at(view, places(match[1]))
    follower.tie(view, "gathering knot", [], bundle)


def _clasp(follower: Follower, match: re.Match[str], view: View) -> None:
    for group in each(view, "round", match[3]):
        for _ in range(number(match[1] or "one")):
            follower.tie(view, match[2], [], at(view, group))


def _plait(follower: Follower, match: re.Match[str], view: View) -> None:
    del follower
    if match[2] is None:
        return
    bundles = [
        at(view, places(part.replace("-", " to "))) for part in re.split(r", | and ", match[1])
    ]
    first = int(re.split(r"\D", match[1])[0])
    size = sum(len(bundle) for bundle in bundles)
    for crossing in range(number(match[2])):
        left, middle, right = bundles
        bundles = [left, right, middle] if crossing % 2 == 0 else [middle, left, right]
    held = view.get()
    held[first - 1 : first - 1 + size] = [strand for bundle in bundles for strand in bundle]
    view.put(held)


def _cross(follower: Follower, match: re.Match[str], view: View) -> None:
    del follower
    order = [int(place) for place in match[2].split(", ")]
    where, held = places(match[1]), view.get()
    assert sorted(order) == where, match[0]
    for place, strand in zip(where, at(view, order), strict=True):
        held[place - 1] = strand
    view.put(held)


def _add(follower: Follower, match: re.Match[str], view: View) -> None:
    pieces = sum(number(n) for n in re.findall(rf"({NUMBER}) \w+", match[1]))
    where = places(match[2])
    assert len(where) in (pieces, 2 * pieces), match[0]  # by one end, or folded
    _come(follower, view, where)


def _come(follower: Follower, view: View, where: list[int]) -> None:
    """Let strands hang at some places that were on no board before."""
    begin = follower.come
    follower.come += len(where)
    view.insert(where[0] - 1, list(range(begin, follower.come)))


def _aside(follower: Follower, match: re.Match[str], view: View) -> None:
    gone = at(view, places(match[1]))
    follower.aside += zip(places(match[1]), gone, strict=True)
    view.remove(gone)


def _up(follower: Follower, match: re.Match[str], view: View) -> None:
    strand = next(strand for place, strand in follower.aside[::-1] if place == int(match[1]))
    view.insert(int(match[2]) - 1, [strand])


def _down(follower: Follower, match: re.Match[str], view: View) -> None:
    _come(follower, view, places(match[1]))


def _end_for_end(follower: Follower, match: re.Match[str], view: View) -> None:
    del match
    number = len(view.get())
    view.remove(view.get())
    _come(follower, view, list(range(1, number + 1)))


def _own(follower: Follower, match: re.Match[str], view: View) -> None:
    order = follower.own[match[1]]
    for group in each(view, "with", match[2]):
        strands, held = at(view, group), view.get()
        follower.tie(view, match[1], strands, [])
        for place, old in zip(group, order, strict=True) if order else ():
            held[place - 1] = strands[old - 1]
        view.put(held)


def _onto_rigid(follower: Follower, match: re.Match[str], view: View) -> None:
    for strand in at(view, places(match[3].removeprefix("each of "))):
        for _ in range(number(match[1] or "one")):
            follower.tie(view, match[2], [strand], [])


def _one_row(follower: Follower, match: re.Match[str], view: View) -> None:
    first, last, size = (number(match[k]) for k in (2, 3, 4))
    for left in range(first, last, size):
        _flat_on(follower, view, list(range(left, left + size)), match[1], 1)


def _longest(follower: Follower, match: re.Match[str], view: View) -> None:
    """Who is longest is seen at the bench."""
    follower.tie(view, match[3], [LONGEST], at(view, places(match[1])))


def _flip(follower: Follower, match: re.Match[str], view: View) -> None:
    del follower, match
    view.put(view.get()[::-1])


def _seam(follower: Follower, match: re.Match[str], view: View) -> None:
    del follower
    cut = int(match[1]) - 1
    held = view.get()
    view.put(held[cut:] + held[:cut])


def each(view: View, word: str, text: str) -> list[list[int]]:
    """Read the groups that each get something: `strands 1 to 4 and on strands 5 to 8`."""
    if text == "all strands":
        return [list(range(1, len(view.get()) + 1))]
    if "in groups of" in text:
        return groups(text)
    return [places(part) for part in re.split(rf"(?:,| and) {word} (?=strand)", text)]


STRANDS = r"strands? [\d]+(?:(?:, | and | to | down to )\d+)*"
MOVER = r"strand (?P<mover>\d+)(?: \([^)]*\))?"
OVER = r"(?P<over>.*?)"
WAY = r"to the (?P<way>right|left)(?: at [\d.]+°)?"
ACTS = (
    (
        (
            rf"With {MOVER} (?:slanting down|laid level|held out) {WAY} as holder, tie "
            rf"(?P<tied>.*?) with {OVER}\."
        ),
        _row,
    ),
    (
        (
            rf"Take {MOVER} to the (?P<way>right|left)(?:, slanting down|, level)?(?: at [\d.]+°)?"
            rf",? and tie (?P<tied>.*?) with it round {OVER}(?:, first \w+ it)?\."
        ),
        _row,
    ),
    (rf"Tie {KNOT} onto the \w+ with (.*?)\.", _onto_rigid),
    (r"Tie a row of (.*?)s on strands (\d+) to (\d+) in groups of (\w+)\.", _one_row),
    (rf"With the longest of ({STRANDS}), tie {KNOT} round the others", _longest),
    (r"Tie your (\w+) with (strand.*?)\.", _own),
    (r"Pick up the strand laid aside as strand (\d+).*; it becomes strand (\d+)\.", _up),
    (r"Bring the free ends? of \w+ down beside the work as (.*?)\.", _down),
    (r"Turn the work end for end", _end_for_end),
    (rf"Do the same with {MOVER} (?P<as>as holder and|round) {OVER}\.", _same),
    (rf"Weave {MOVER} to the (right|left) across ({STRANDS}): (.*)\.", _weave),
    (rf"Tie {KNOT}{MADE}? (on|with) (.*?)\.", _on),
    (rf"Tie a half hitch chain of ({NUMBER}) hitch(?:es)? with (.*?), left-hand strand", _chain),
    (
        (
            rf"Net strands (\d+) to (\d+) with ({NUMBER}) ro\w+ of (.*?)s in groups of (\w+).*?"
            rf"(?:rows? by|each row|rounds by) ({NUMBER}) strand"
        ),
        _net,
    ),
    (rf"With strand (\d+), tie {KNOT}(?: of \w+ turns)? round (.*?)\.", _around),
    (rf"Tie {KNOT} of \w+ turns in strand (\d+)\.", _itself),
    (r"Tie an? [\d.]+ [cm]?m gathering knot round (.*?) with a length of", _gather),
    (rf"With a new length of \w+(?: each)?, tie {KNOT} round (.*?)\.", _clasp),
    (r"Plait strands (.*?) (?:for .*|with (\w+) crossings?), right-hand", _plait),
    (r"Cross strands (.*?) without a knot; from the left they are now (.*)\.", _cross),
    (rf"(?:Add|Hang|Loop|Pin) (.*?) cords?(?: \w+ strand \d+)?,?.*? as ({STRANDS})\.", _add),
    (r"Lay (.*?) aside; the others", _aside),
    (r"Turn the whole work over", _flip),
    (r"From here, count from strand (\d+) as strand 1", _seam),
)
STILL = (
    r"(?!Tie |Hold |Take |Do the same|Net |Plait |Weave |Cross |Lay strand|Add |Loop |With |From )"
    r"(?!Pick |Bring )\D"
)
