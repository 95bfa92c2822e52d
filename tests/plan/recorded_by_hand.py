"""What recording writes, compiled again, is what was knotted: two thousand random pieces."""

from collections import Counter

from hypothesis import HealthCheck, given, settings
from recorded import KINDS, assert_written_as_knotted, works

from coach.recording.record import Recording
from coach.recording.repeat_folding import Repeat

seen: Counter[str] = Counter()


@settings(max_examples=2000, deadline=None, suppress_health_check=list(HealthCheck))
@given(works())
def _hold(work: tuple[Recording, tuple[str, ...]]) -> None:
    record, kinds = work
    assert_written_as_knotted(record)
    seen["pieces"] += 1
    seen["with a repeat"] += any(isinstance(entry, Repeat) for entry in record.folded)
    seen.update(kinds)


def test_what_is_written_ties_what_was_knotted_at_length() -> None:
    _hold()
    print(dict(seen))  # noqa: T201 - the counts are what it is run for
    assert seen["pieces"] >= 1000
    assert seen["with a repeat"] >= 100
    assert not [kind for kind in KINDS if not seen[kind]]
