"""What the list asks about an order, and what becomes of it."""

from collections.abc import Callable

from coach.piece import PieceError
from coach.session.ports import CannotOpen
from coach.session.view_model import OrderDesk, OrderLine
from coach.tui import screens


def order_choices(
    desk: OrderDesk, order: OrderLine, open_desk: Callable[[], str]
) -> "list[screens.Choice]":
    """Return what can be done to an order under way, each with the line to write for it.

    Args:
        desk: Carries it out.
        order: The order.
        open_desk: Opens the order desk; returns what is told, "" for nothing.
    """
    name = order.name

    def spoilt(piece: str) -> str:
        if not piece:
            return "Nothing is changed: write which piece is spoilt, such as: dusk 2."
        whole = piece if piece.casefold().startswith(name.casefold()) else f"{name} {piece}"
        return _tried(lambda: desk.spoil(name, whole))

    def ended(earned: str) -> str:
        return _tried(lambda: desk.end(name, earned))

    def turned(_: str) -> str:
        return _tried(lambda: desk.turn(name))

    return [
        screens.Choice("order desk", "press enter", lambda _: open_desk()),
        screens.Choice("work it the other way", "press enter", turned),
        screens.Choice("a piece is spoilt", "which one: dusk 2", spoilt),
        screens.Choice("split off what is finished", "a name, such as: saturday",
               lambda into: _tried(lambda: desk.split(name, into))),
        screens.Choice("it is done", "what it earned, such as: 60", ended),
    ]  # fmt: skip


def _tried(deed: Callable[[], str]) -> str:
    try:
        return deed()
    except (CannotOpen, PieceError) as error:
        return f"Nothing is changed: {error}"
