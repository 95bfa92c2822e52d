"""The roster of strands, in the order in which their pieces are hung, added or wrapped."""

from collections import Counter
from collections.abc import Callable, Mapping

from coach.board.board import Order
from coach.plan.steps import Count, Origin, Strand
from coach.project.model import Cord, Fold, ListedPiece, Start


class Meetings(dict[int, Count]):
    """The ties of one mover by the strand that it crosses, each made once.

    Even broad work has few pairs of strands that meet, and each pair meets in many rows.
    """

    def __init__(self, knot: str, mover: int, holds: bool, passes: int) -> None:
        """Keep what all ties of one mover have in common.

        Args:
            knot: The knot's first name.
            mover: The strand that crosses the others.
            holds: Whether the others tie onto it; otherwise it ties onto them.
            passes: The turns of the hand of one tie.
        """
        self._knot, self._mover, self._holds, self._passes = knot, (mover,), holds, passes

    def __missing__(self, crossed: int) -> Count:
        knotter, filler = (crossed,), self._mover
        if not self._holds:
            knotter, filler = filler, knotter
        self[crossed] = Count(self._knot, knotter, filler, self._passes)
        return self[crossed]


class Grouped(dict[Order, tuple[Count, Count]]):
    """The first two ties of each group in which a knot is tied, made when first asked for.

    Work that repeats comes back to the same groups, each time on another board.
    """

    def __init__(self, two_ties: Callable[[Order], tuple[Count, Count]]) -> None:
        """Set the function from a group's strands to its first two ties."""
        self._two_ties = two_ties

    def __missing__(self, group: Order) -> tuple[Count, Count]:
        self[group] = self._two_ties(group)
        return self[group]


class Roster:
    """Hands out strands: the pieces of a cord are numbered on, the ends of each are a and b."""

    def __init__(self, cords: Mapping[str, Cord]) -> None:
        self.cords = cords
        self.strands: list[Strand] = []
        self.colours: list[str] = []  # one per strand
        self._pieces: Counter[str] = Counter()
        self._names: dict[str, int] | None = None  # made when first asked for
        self.apart = ""  # what is being made apart
        self._meetings: dict[tuple[str, int, bool], Meetings] = {}
        self._grouped: dict[tuple[str, int], Grouped] = {}

    def hang(self, cord: str, origin: Origin, fold: Fold | None = None) -> tuple[int, ...]:
        """Add one more piece of a cord and return its strands, end a first.

        Args:
            cord: The cord's name.
            origin: How it comes into the work; a piece that is wrapped has a single strand.
            fold: Where it is folded; None for as its cord says. One that is not folded has a single
                strand.
        """
        self._pieces[cord] += 1
        self._names = None
        single = origin == "wrap" or (fold or self.cords[cord].fold) == "none"
        piece = self._pieces[cord]
        first = len(self.strands)
        for end in ("a",) if single else ("a", "b"):
            self.colours.append(self.cords[cord].colour)
            self.strands.append(
                Strand(f"{cord}.{piece}{end}", cord, piece, end, origin, single, self.apart)  # type: ignore[arg-type]  # the loop holds only a and b
            )
        return tuple(range(first, len(self.strands)))

    def lead(self, strand: int) -> int | None:
        """Make the free end of a strand's piece a strand of its own, and return it.

        Returns:
            None where the piece's other end is a strand already.
        """
        own = self.strands[strand]
        name = f"{own.id[:-1]}b"
        if any(other.id == name for other in self.strands):
            return None
        self._names = None
        self.colours.append(self.cords[own.cord].colour)
        lead = Strand(name, own.cord, own.piece, "b", "lead", single=True, apart=own.apart)
        self.strands.append(lead)
        return len(self.strands) - 1

    def meetings(self, knot: str, mover: int, holds: bool, passes: int) -> Meetings:
        """Return the ties of a row by what its mover crosses; the mover `holds` or knots.

        Args:
            knot: The knot's first name.
            mover: The strand that travels.
            holds: Whether the others tie onto it; else it ties onto them.
            passes: How many turns of the hand one tie has.
        """
        key = (knot, mover, holds)
        if key not in self._meetings:
            self._meetings[key] = Meetings(knot, mover, holds, passes)
        return self._meetings[key]

    def grouped(
        self, knot: str, squares: int, two_ties: Callable[[Order], tuple[Count, Count]]
    ) -> Grouped:
        """Return the first two ties of a knot by the group that it is tied in.

        Args:
            knot: The knot's first name.
            squares: How many square knots a berry knot is rolled up of, 0 for no berry knot.
            two_ties: What gives them for a group that it was not tied in before.
        """
        return self._grouped.setdefault((knot, squares), Grouped(two_ties))

    def find(self, name: str) -> int | None:
        """Return the strand named `reed.1a`, or `reed.a` where there is one piece, or None."""
        return self._by_name().get(name.strip().lower())

    def _by_name(self) -> dict[str, int]:
        """Return the strand of every name; of two the same, the first."""
        if self._names is None:
            self._names = {}
            for number, strand in enumerate(self.strands):
                self._names.setdefault(strand.id.lower(), number)
                if self._pieces[strand.cord] == 1:
                    for rest in (strand.end, "1" if strand.single else strand.end):
                        self._names.setdefault(f"{strand.cord.lower()}.{rest}", number)
        return self._names

    def name(self, strand: int) -> str:
        """Return a strand's name."""
        return self.strands[strand].id


def hang_start(start: Start, roster: Roster) -> tuple[int, ...]:
    """Hang the start's pieces and return the strands from the left."""
    if start.from_middle:
        return _pinned(start, roster)
    if start.layout == "strands":
        return _named(start.pieces, roster)
    pieces = [roster.hang(piece.cord, "hung") for piece in start.pieces]
    if start.layout == "hang":
        return tuple(strand for piece in pieces for strand in piece)
    # Folded together, the outermost first: the ends mirror each other about the middle.
    right = [piece[1] for piece in reversed(pieces) if len(piece) > 1]
    return (*(piece[0] for piece in pieces), *right)


def _pinned(start: Start, roster: Roster) -> tuple[int, ...]:
    """Pin pieces at their middles: the strands a hang, the other ends wait above."""
    places = list(range(len(start.pieces)))
    if start.layout == "strands":
        pieces = start.pieces
        places = sorted(places, key=lambda at: (pieces[at].cord, pieces[at].number or 1))
    hung = {at: roster.hang(start.pieces[at].cord, "hung", "middle")[0] for at in places}
    return tuple(hung[at] for at in range(len(start.pieces)))


def middles(start: Start, order: tuple[int, ...], roster: Roster) -> tuple[int, ...]:
    """Return strand a of each piece, pieces in the order in which a start names them.

    Args:
        start: How they hang.
        order: The strands that it hung.
        roster: The strands.
    """
    ends = sorted(strand for strand in order if roster.strands[strand].end == "a")
    if start.layout != "strands":
        return tuple(ends)
    named = dict.fromkeys((piece.cord, piece.number or 1) for piece in start.pieces)
    hung = dict(zip(sorted(named), ends, strict=True))  # in which order the roster took them
    return tuple(hung[piece] for piece in named)


def _named(pieces: tuple[ListedPiece, ...], roster: Roster) -> tuple[int, ...]:
    """Hang pieces by number; each strand named is the next free end of its piece."""
    keys = sorted({(piece.cord, piece.number or 1) for piece in pieces})
    ends = {key: list(roster.hang(key[0], "hung")) for key in keys}
    order = []
    for piece in pieces:
        left = ends[piece.cord, piece.number or 1]
        if left:
            order.append(left.pop(0))
    return tuple(order)
