"""A piece knotted without a pattern: its record, and the text of its project, from the state."""

from coach.piece.piece_errors import Damaged
from coach.piece.state import State
from coach.recording.joined import is_open
from coach.recording.record import Recording, change_from_data, changed


def is_freehand(state: State) -> bool:
    """Return whether a piece goes on by sentences instead of a pattern."""
    return is_open(state.project_text)


def record_of(state: State) -> Recording:
    """Return the record of a piece knotted without a pattern. Raises Damaged."""
    record = Recording(state.project_text)
    for said in state.said:
        try:
            record = changed(record, change_from_data(said.said, said.work))
        except ValueError as error:
            raise Damaged(f"‘{said.said}’ cannot have been knotted: {error}") from error
    return record


def followed_text(state: State) -> str:
    """Return the text of the project that a piece follows. Raises Damaged."""
    return record_of(state).live_text() if is_freehand(state) else state.project_text
