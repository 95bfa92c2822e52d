"""The messages from screens to the app, which need not load the screens to know them."""

from textual.message import Message


class ChosenPiece(Message):
    """A piece was chosen on the list."""

    def __init__(self, piece_id: int) -> None:
        super().__init__()
        self.piece_id = piece_id


class AskedOfPiece(Message):
    """It was asked what can be done to a piece on the list, by its number; 0 for none."""

    def __init__(self, piece_id: int) -> None:
        super().__init__()
        self.piece_id = piece_id


class AskedOfPicture(Message):
    """The whole of what an entry of the list opens is to be seen, in its colours or others."""

    def __init__(self, entry: Message) -> None:
        super().__init__()
        self.entry = entry


class MouseSwitched(Message):
    """The mouse is to be taken, or given back to the terminal."""


class WantsAnother(Message):
    """Another piece of the project of the one that is finished is to be begun."""


class AskedOfOrder(Message):
    """Something is asked of the order at hand, or of all of them.

    `what` is `next` for its next piece, `turn` to work it the other way (step by step over all, or
    piece by piece), `step` once a step is made, `back` for the piece from which the bench went over
    to this one, `desk` for the order desk, which quotes `project` first.
    """

    def __init__(self, what: str, project: str = "") -> None:
        super().__init__()
        self.what, self.project = what, project


class PutAway(Message):
    """The piece that is finished is to be put away."""


class StartsFreehand(Message):
    """A piece is to be begun without a pattern."""


class LeavesPattern(Message):
    """The piece on the bench is to go on without its pattern from where it stands."""


class ThemeChanged(Message):
    """Another theme was chosen; the settings in use say which."""


class ChosenProject(Message):
    """A project was chosen on the list; `key` is what the shelf knows it by."""

    def __init__(self, key: str) -> None:
        super().__init__()
        self.key = key


class ImagesKnown(Message):
    """The terminal has answered whether it shows images."""
