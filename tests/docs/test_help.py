"""Each verb says what it is for with an example that can be called."""

import shlex

import processes
import pytest

from coach.cli.arguments import verbs_of
from coach.cli.calls import CALLS, parser

VERBS = {verb.name: verb for verb in verbs_of(parser())}


def coach(*arguments: str) -> str:
    return str(processes.coach(*arguments, check=True).stdout)


@pytest.mark.parametrize("verb", VERBS)
def test_each_verbs_help_says_what_it_is_for_with_an_example_that_can_be_called(verb: str) -> None:
    assert VERBS[verb].help.endswith(".")
    example = CALLS[verb][1]
    assert shlex.split(example)[1] == verb
    parser().parse_args(shlex.split(example)[1:])


def test_the_help_of_a_verb_shows_its_example() -> None:
    told = coach("words", "--help")
    assert "numbered written instructions" in told
    assert "Example: coach words tide-band" in told


def test_manual_lists_and_prints_its_pages() -> None:
    assert "coach manual questions" in coach("manual")
    assert coach("manual", "writing").startswith("# Writing a project file\n")
