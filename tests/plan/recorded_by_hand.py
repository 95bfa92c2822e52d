"""What recording writes, compiled again, is what was knotted: two thousand random pieces."""

from hypothesis import HealthCheck, given, settings
from recorded import assert_written_as_knotted, works

from coach.recording.record import Record

seen = {True: 0, False: 0}


@settings(max_examples=2000, deadline=None, suppress_health_check=list(HealthCheck))
@given(works())
def _hold(record: Record) -> None:
    seen[assert_written_as_knotted(record)] += 1


def test_what_is_written_ties_what_was_knotted_at_length() -> None:
    _hold()
    assert seen[True] >= 1000
