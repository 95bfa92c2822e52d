"""Details about the marked entry of the list."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from rich.text import Text
from textual.message import Message

from coach.piece import PieceError, Summary
from coach.plan.plan_model import Plan
from coach.report.plan_report import PlanReport, report_of
from coach.session.ports import Aids, CannotOpen, Shelf, Standing
from coach.session.quick_settings import in_chosen_colourway
from coach.session.view_model import OrderLine
from coach.tui.layout.styled_text import paragraph
from coach.tui.messages import ChosenPiece, ChosenProject
from coach.tui.pages.list_lines import order_detail, piece_detail, project_detail
from coach.tui.screens.listed.list_pictures import ListPictures


class ListDetail:
    """Describes entries of the list.

    `pieces` are those that are listed, `orders` the orders under way by the piece to go on with,
    `days` on which each of them is ready.
    """

    def __init__(self, shelf: Shelf, aids: Aids, pictures: ListPictures) -> None:
        """Set the shelf, the helpers, and what draws pictures."""
        self.pieces: Sequence[Summary] = ()
        self.orders: Mapping[int, OrderLine] = {}
        self.days: dict[OrderLine, str] = {}
        self.pictures = pictures
        self._shelf = shelf
        self._kept, self._colourways = aids.kept, aids.colourways
        self._reports: dict[str, tuple[Plan, PlanReport]] = {}

    def forget(self) -> None:
        """Drop all caches: what was learnt since changes the times."""
        self._reports.clear()
        self.pictures.forget()

    def described(self, marked: Message, room: tuple[int, int]) -> Sequence[Text]:
        """Return the description of an entry, with its picture below.

        Args:
            marked: The message that opens the entry.
            room: How many columns and lines there are.
        """
        try:
            lines = self._told_of(marked, room[0])
        except (CannotOpen, PieceError) as error:
            return paragraph(str(error), room[0], 6, self.pictures.inks.style("warning", bold=True))
        entry = getattr(marked, "piece_id", 0) or getattr(marked, "key", "")
        return self.pictures.below(lines, entry, lambda: self.standing(marked), room)

    def _told_of(self, marked: Message, width: int) -> Sequence[Text]:
        inks = self.pictures.inks
        if isinstance(marked, ChosenProject):
            return project_detail(self._planned(marked.key)[1], inks, width)
        if not isinstance(marked, ChosenPiece):
            return ()
        order = self.orders.get(marked.piece_id)
        if order:
            return order_detail(order, self.days.get(order, ""), inks, width)
        piece = next((one for one in self.pieces if one.id == marked.piece_id), None)
        return piece_detail(piece, inks, width) if piece else ()

    def standing(self, marked: Message) -> Standing | None:
        """Return a project or piece with its progress, in its colours; else None.

        Raises:
            CannotOpen, PieceError: It cannot be read.
        """
        if isinstance(marked, ChosenProject):
            plan = self._planned(marked.key)[0]
            return Standing(plan, plan.total, marked.key)
        if not isinstance(marked, ChosenPiece):
            return None
        found = self._shelf.standing(marked.piece_id)
        return replace(
            found, plan=in_chosen_colourway(found.plan, self._colourways.of(marked.piece_id))
        )

    def _planned(self, key: str) -> tuple[Plan, PlanReport]:
        """Return a project's plan and report, cached because they take longer than a key may."""
        if key not in self._reports:
            wishing, units = self._shelf.fitting(key), self._kept.now.units
            report = report_of(wishing.plan, unit=units, time=wishing.time)
            self._reports[key] = wishing.plan, report
        return self._reports[key]
