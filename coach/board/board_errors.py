"""The errors of the board: one class for each thing that cannot be done on it."""


class BoardError(Exception):
    """A step that cannot be done; `code` and `hint` go into the problem that reports it."""

    code = "BOARD"
    hint = ""


class OffBoard(BoardError):
    """A position where no strand stands."""

    code = "OFF-BOARD"

    def __init__(self, position: int, count: int) -> None:
        super().__init__(f"There is no position {position}: {count} strands hang here.")
        self.hint = f"Name a position from 1 to {count}."


class Twice(BoardError):
    """A position that a step names twice."""

    code = "TWICE"

    def __init__(self, position: int) -> None:
        super().__init__(f"The strand at {position} is named twice in one step.")
        self.hint = "Name each strand once."


class NotBeside(BoardError):
    """A row that does not start beside its mover, or jumps over a strand."""

    code = "ACROSS"

    def __init__(self, wanted: int, between: str, at: int, right: str) -> None:
        """Describe the strand that the row cannot reach.

        Args:
            wanted: The position that the row names next.
            between: The strand that it would jump over.
            at: That strand's position.
            right: How the row could go on, for the hint.
        """
        super().__init__(f"To reach {wanted} the row would jump over {between} at {at}.")
        self.hint = right


class NotNeighbours(BoardError):
    """Strands that should stand side by side and do not."""

    code = "NEIGHBOURS"

    def __init__(self, left: int, right: int, between: str = "") -> None:
        """Describe which positions are named and what stands between them.

        Args:
            left: The position of the strand on the left.
            right: The position of the other one.
            between: The strand beside the left one, if it is known.
        """
        there = f": {between} stands at {left + 1}" if between else ""
        super().__init__(f"The strands at {left} and {right} do not stand side by side{there}.")
        self.hint = "Name neighbours, from the left."


class WrongTurn(BoardError):
    """A row that turns back, or crosses its own mover."""

    code = "ACROSS"

    def __init__(self, position: int, strand: str) -> None:
        super().__init__(f"The row does not go one way: {strand} at {position} lies behind it.")
        self.hint = "Go one way without a gap, such as 3-6 or 6-3."


class TooFew(BoardError):
    """A knot with fewer strands than it needs."""

    code = "STRANDS"

    def __init__(self, knot: str, needs: str, has: int) -> None:
        """Describe what the knot needs and has.

        Args:
            knot: The knot's first name.
            needs: What it needs, in words: `two strands or more`.
            has: How many strands it is given.
        """
        super().__init__(f"A {knot} needs {needs}; here it has {has}.")


class NotHere(BoardError):
    """Something that cannot be done inside a window, or only in another kind of work."""

    code = "PLACE"

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.hint = hint
