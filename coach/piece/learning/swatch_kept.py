"""A measured swatch kept as a small piece of its own, so that the next piece learns from it."""

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
    """Keep a swatch as a finished piece that begins with what it taught.

    Args:
        store: Where it is kept.
        clock: Tells when.
        swatch: The swatch.
        beliefs: What it taught.
        measured: Its measures, as a project file has them.

    Raises:
        PieceError: It cannot be kept.
    """
    plan = swatch.plan
    piece = start(
        store, clock, title=plan.project.title, project_text=swatch.text + measured,
        source=_SOURCE + swatch.cord, total=plan.total, beliefs=beliefs,
    )  # fmt: skip
    sitting = Sitting(store, clock, piece, [count.knot for count in plan.counts])
    sitting.count(plan.total)
    sitting.leave()
