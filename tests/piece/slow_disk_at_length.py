"""Many more ways in which a slow disk and two benches may fall together."""

from hypothesis import given, settings
from hypothesis import strategies as st
from test_slow_disk import DEEDS, go_through_in_a_folder


@settings(max_examples=150)
@given(st.lists(DEEDS, max_size=60))
def test_whatever_the_disk_does_what_was_pressed_is_there_in_the_end(deeds: list[str]) -> None:
    go_through_in_a_folder(deeds)
