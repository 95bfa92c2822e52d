"""Changing to the next piece of an order automatically, once a step is made over all of them.

This is safe: it is announced, one key goes back, and a key pressed while the hands still hold the
piece before counts nothing.
"""

from dataclasses import dataclass
from typing import Final

from coach.piece import Sitting
from coach.plan.board_at_count import stretch_end
from coach.plan.plan_model import Plan
from coach.text import capital, one_line

COUNTED: Final = ("count", "rest", "give_back")
"""The actions after which a step may be made, so that the next piece is gone over to."""
SOON_MS: Final = 600
"""A hand that takes up another piece and ties on it needs longer; a key pressed twice does not."""
TOO_SOON: Final = "Too soon on another piece: not counted. Press again once it is tied."
NOT_STORED: Final = "Counts are not stored yet, so this piece stays on the bench."


@dataclass(frozen=True, slots=True)
class CameOver:
    """An automatic change of the bench to another piece, or back.

    Attributes:
        piece_id: The number of the piece before.
        name: Its name.
        finished: Whether it is finished.
        done: How many counts the new piece had then.
        tick_ms: When that was, by the monotonic clock.
        back: Whether the bench went back.
    """

    piece_id: int
    name: str
    finished: bool
    done: int
    tick_ms: int
    back: bool = False

    def leads_back(self, done: int) -> bool:
        """Return whether taking back goes to the piece before: nothing is counted since."""
        return not self.back and done == self.done

    def too_soon(self, tick_ms: int) -> bool:
        """Return whether a key read at that time was meant for the piece before."""
        return tick_ms - self.tick_ms < SOON_MS

    def told(self, name: str, key: str) -> str:
        """Return which piece is on the bench, and what the key that takes back does."""
        if self.back:
            takes = f" {_first(key)} takes one back." if key else ""
            return f"Back at {one_line(name)}.{takes}"
        made = "finished" if self.finished else "step made"
        back = f" {_first(key)} goes back." if key else ""
        return f"{one_line(self.name)}: {made}. On to {one_line(name)}.{back}"


def switch_message(
    before: Sitting, after: Sitting, tick_ms: int, *, back: bool = False
) -> CameOver:
    """Return the change of the bench from one piece to another.

    Args:
        before: The piece that it left.
        after: The piece that it went to.
        tick_ms: When, by the monotonic clock.
        back: Whether it went back.
    """
    finished, done = before.state.finished, after.state.done
    return CameOver(before.piece_id, before.name, finished, done, tick_ms, back)


def step_made(plan: Plan, before: int, done: int) -> bool:
    """Return whether counting has ended a step.

    Args:
        plan: The plan of the piece.
        before: How many counts were made before.
        done: How many are made by now.
    """
    return done > before and done == stretch_end(plan, plan.step_of(done - 1))


def next_piece_hint(key: str) -> str:
    """Return how to go on from a finished piece of an order; "" where no key is set for it."""
    return f"The next piece of the order: {key}." if key else ""


def _first(key: str) -> str:
    """Return a key's name at the start of a sentence; a letter keeps its case, j and J differ."""
    return capital(key) if len(key) > 1 else key
