"""The messages from screens to the app, which need not load the screens to know them."""

from collections.abc import Callable

from textual.message import Message

from coach.session.ports import OnBench, Shelf


class ChosenPiece(Message):
    """A piece is to come to the bench: chosen on the list, or the next one of an order.

    `opening` opens it, from the shelf where there is one; it may raise CannotOpen or PieceError.
    """

    def __init__(self, opening: Callable[[Shelf | None], OnBench | None]) -> None:
        super().__init__()
        self.opening = opening


class ChosenProject(Message):
    """A project was chosen on the list; `key` is what the shelf knows it by."""

    def __init__(self, key: str) -> None:
        super().__init__()
        self.key = key
