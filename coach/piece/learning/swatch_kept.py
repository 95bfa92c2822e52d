"""Storing a measured swatch as a small piece, so that the next piece learns from it."""

from coach.piece.clock import Clock
from coach.piece.learning.beliefs import Beliefs
from coach.piece.service import start
from coach.piece.sitting.sitting import Sitting
from coach.piece.storage.store import Store
from coach.plan.cord.swatch import TrialSwatch

_SOURCE = "swatch:"


def keep_swatch(
    store: Store, clock: Clock, swatch: TrialSwatch, beliefs: Beliefs, measured: str
) -> None:
    """Store a swatch as a finished piece that begins with what it taught.

    Args:
        store: The store of pieces.
        clock: Tells the time of the events.
        swatch: The swatch.
        beliefs: What it taught.
        measured: Its measurements, in the words of a project file.

    Raises:
        PieceError: It cannot be stored.
    """
    plan = swatch.plan
    piece = start(
        store, clock, title=plan.project.title, project_text=swatch.text + measured,
        source=_SOURCE + swatch.cord, total=plan.total, beliefs=beliefs,
    )  # fmt: skip
    sitting = Sitting(store, clock, piece, [count.knot for count in plan.counts])
    sitting.count(plan.total)
    sitting.leave()
