"""Each verb says what it is for with an example, and shells complete what the parser knows."""

import shlex
import shutil
import subprocess
import sys

import pytest

from coach.cli.calls import CALLS, parser
from coach.cli.commands.completion import SCRIPTS, verbs_of

VERBS = {verb.name: verb for verb in verbs_of(parser())}


def coach(*arguments: str) -> str:
    return subprocess.run(
        [sys.executable, "-m", "coach", *arguments], capture_output=True, text=True, check=True
    ).stdout


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


def completed(line: str) -> set[str]:
    """Return what bash offers at the end of a line."""
    words = [*shlex.split(line), *([""] if line.endswith(" ") else [])]
    script = SCRIPTS["bash"](list(VERBS.values()))
    asked = f"{script}\nCOMP_WORDS=({shlex.join(words)}); COMP_CWORD={len(words) - 1}; _coach\n"
    done = subprocess.run(
        ["bash", "-c", asked + 'printf "%s\\n" "${COMPREPLY[@]}"'],
        capture_output=True, text=True, check=True, cwd="/",
    )  # fmt: skip
    return set(done.stdout.split())


def test_bash_completes_verbs_options_projects_and_choices() -> None:
    assert completed("coach ") >= {*VERBS, "--help", "--version"}
    assert completed("coach wo") == {"words"}
    assert completed("coach card --s") == {"--svg"}
    assert "tide-band" in completed("coach plan tide")
    assert completed("coach plan --units ") == {"cm", "in"}
    assert completed("coach completion ") == {"bash", "zsh", "fish"}


@pytest.mark.parametrize("shell", SCRIPTS)
def test_the_script_of_each_shell_is_sound_and_knows_every_option(shell: str) -> None:
    script = coach("completion", shell)
    for verb in VERBS.values():
        assert verb.name in script
        for option in verb.options:
            for flag in option.flags:
                known = flag.lstrip("-") if shell == "fish" else flag
                assert known in script
    installed = shutil.which(shell)
    if installed:
        subprocess.run([installed, "-n"], input=script, text=True, check=True)


def test_manual_lists_and_prints_its_pages() -> None:
    assert "coach manual questions" in coach("manual")
    assert coach("manual", "writing").startswith("# Writing a project file\n")
