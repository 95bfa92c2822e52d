"""What helps along beside the screen: settings, voice, the display kept awake."""

from dataclasses import dataclass, field

from coach.audio.keep_awake import Awake
from coach.audio.speech import Voice
from coach.session.pass_store import Passes
from coach.settings.overrides import Kept


@dataclass(frozen=True, slots=True)
class Aids:
    """The helpers of one run of the bench; `told` is what was wrong with the settings."""

    kept: Kept = field(default_factory=Kept)
    passes: Passes = field(default_factory=Passes)
    voice: Voice | None = None
    awake: Awake | None = None
    told: str = ""
