"""Speech for pieces that go on by sentences."""

from coach.session.ports import Aids
from coach.session.quick_settings import Choices

SILENT = "No program that speaks is installed here."


class SentenceSpeech:
    """Speaks the effect of sentences, as far as the maker wants that; never waits."""

    def __init__(self, aids: Aids) -> None:
        """Set the helpers of the run."""
        self._aids = aids

    def say(self, told: str, *, anyway: bool = False) -> None:
        """Speak a text; `anyway` even where steps are not spoken."""
        if self._aids.voice and told and (anyway or self._aids.kept.now.speech):
            self._aids.voice.say(told)

    def switch(self) -> str:
        """Switch speech on or off, and return which; spoken too where it is on."""
        if self._aids.voice is None:
            return SILENT
        told = Choices(self._aids.kept).speech()
        self.say(told)
        return told
