"""When the hands have worked so long that a pause would do them good."""

from typing import Final

BREAK_MS: Final = 5 * 60 * 1000
"""A pause of this length is a rest; 5 to 10 minutes (UK HSE; quoted)."""

_MINUTE_S: Final = 60


class Rest:
    """Follows the work of a sitting from one rest to the next."""

    def __init__(self, after_min: int) -> None:
        """Take after how many minutes of counted work a pause is proposed; 0 for never."""
        self._after_min = after_min
        self._since_s = 0.0
        self._seen_ms: int | None = None

    @property
    def begun(self) -> bool:
        """Whether something was counted in this sitting."""
        return self._seen_ms is not None

    def count(self, tick_ms: int, worked_s: float) -> None:
        """Take note of a count, and of the time worked in the sitting so far, this one in it."""
        if self._seen_ms is not None and tick_ms - self._seen_ms >= BREAK_MS:
            self._since_s = worked_s
        self._seen_ms = tick_ms

    def proposal(self, worked_s: float) -> str:
        """Return the line that proposes a pause, or nothing."""
        minutes = int((worked_s - self._since_s) // _MINUTE_S)
        if not self._after_min or minutes < self._after_min:
            return ""
        return f"{minutes} minutes of knotting: five to ten of rest would do your hands good."
