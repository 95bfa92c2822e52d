"""What there is to tell of a plan: gathered once, for the page and for other programs."""

from dataclasses import dataclass

from coach.cli.hanks import CordStock
from coach.pace.estimate import Range
from coach.piece.learning.swatches import Offer
from coach.plan.cord.cut_list import SURE, CordCut
from coach.plan.cord.outlook import FoldSaving, Outlook, outlook
from coach.plan.plan_model import Plan


@dataclass(frozen=True, slots=True)
class Sheet:
    """A plan, its cut list, its time, what was wished and is in hand.

    `called` is what the project is called on the command line, `sure` the share of pieces that are
    to reach, `offer` the swatch to tie before cutting, `folds` what another fold would save.
    """

    plan: Plan
    cuts: tuple[CordCut, ...]
    time: Range
    unit: str = "cm"
    copies: int = 1
    changes: tuple[str, ...] = ()
    stock: tuple[CordStock, ...] = ()
    called: str = ""
    sure: float = SURE
    offer: Offer | None = None
    folds: tuple[FoldSaving, ...] = ()

    @property
    def outlook(self) -> Outlook:
        """What the cut list promises."""
        return outlook(self.plan, self.cuts)
