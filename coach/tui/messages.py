"""The messages from screens to the app; importing them loads no screens."""

from textual.message import Message


class ChosenPiece(Message):
    """A piece was chosen on the list."""

    def __init__(self, piece_id: int) -> None:
        super().__init__()
        self.piece_id = piece_id


class AskedOfPiece(Message):
    """The actions on a piece of the list are asked for, by its number; 0 for none."""

    def __init__(self, piece_id: int) -> None:
        super().__init__()
        self.piece_id = piece_id


class AskedOfPicture(Message):
    """The picture of an entry of the list is asked for."""

    def __init__(self, entry: Message) -> None:
        super().__init__()
        self.entry = entry


class MouseSwitched(Message):
    """The mouse is to be captured, or released to the terminal."""


class WantsAnother(Message):
    """Another piece of the finished one's project is to be begun."""


class AskedOfOrder(Message):
    """An action on the current order, or on all of them, is asked for.

    `what` is `next` for its next piece, `turn` to change the way of working (step by step over
    all, or piece by piece), `step` once a step is made, `back` for the piece before an automatic
    change, `desk` for the order desk, which quotes `project` first.
    """

    def __init__(self, what: str, project: str = "") -> None:
        super().__init__()
        self.what, self.project = what, project


class PutAway(Message):
    """The finished piece is to be put away."""


class StartsFreehand(Message):
    """A piece without a pattern is to be begun."""


class LeavesPattern(Message):
    """The current piece is to go on without its pattern."""


class ThemeChanged(Message):
    """Another theme was chosen; it is in the settings in use."""


class ChosenProject(Message):
    """A project was chosen on the list; `key` is its key on the shelf."""

    def __init__(self, key: str) -> None:
        super().__init__()
        self.key = key


class ImagesKnown(Message):
    """It is known whether the terminal shows images."""
