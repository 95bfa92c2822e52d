"""Of which strands cord left is told, over more works than the suite draws."""

import test_plan_cord_left as short
from hypothesis import given, settings

many = settings(max_examples=80)

test_those_on_the_board = many(
    given(short.WORK)(
        short.test_cord_left_is_told_of_the_strands_on_the_board_and_no_others.hypothesis.inner_test
    )
)
test_those_at_hand = many(
    given(short.WORK)(short.test_those_at_hand_come_first_and_then_the_worst.hypothesis.inner_test)
)
test_the_short_ones = many(
    given(short.WORK, short.SHARE)(
        short.test_every_strand_that_will_not_reach_is_among_the_short_ones.hypothesis.inner_test
    )
)
