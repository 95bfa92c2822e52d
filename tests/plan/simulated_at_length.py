"""Many more random projects against simulator and words; thousands of them are run by hand."""

from test_plan_words_read_back import told_otherwise
from test_simulated import SEEDS, differences


def test_many_random_projects_tie_what_the_page_says() -> None:
    assert not "".join(differences(seed) for seed in range(SEEDS, SEEDS + 200))


def test_the_words_of_many_random_projects_tie_what_their_plans_tie() -> None:
    assert not "".join(told_otherwise(seed) for seed in range(100, 180))
