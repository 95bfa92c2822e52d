"""What helps along beside the screen: settings, voice, the display kept awake."""

from dataclasses import dataclass, field

from coach.bench.awake import Awake
from coach.bench.passes import Passes
from coach.bench.speech import Voice
from coach.settings.kept import Kept


@dataclass(frozen=True, slots=True)
class Aids:
    """The helpers of one run of the bench; `told` is what was wrong with the settings."""

    kept: Kept = field(default_factory=Kept)
    passes: Passes = field(default_factory=Passes)
    voice: Voice | None = None
    awake: Awake | None = None
    told: str = ""
