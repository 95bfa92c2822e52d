"""The messages from screens to the app, which need not load the screens to know them."""

from textual.message import Message

from coach.session.ports import OnBench


class ChosenPiece(Message):
    """A piece was chosen on the list."""

    def __init__(self, piece_id: int) -> None:
        super().__init__()
        self.piece_id = piece_id


class ChosenOrder(Message):
    """An order was chosen on the list."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self.name = name


class NextPiece(Message):
    """The piece at hand was left for the next one of its order, which is opened."""

    def __init__(self, opened: OnBench) -> None:
        super().__init__()
        self.opened = opened


class ChosenProject(Message):
    """A project was chosen on the list; `key` is what the shelf knows it by."""

    def __init__(self, key: str) -> None:
        super().__init__()
        self.key = key
