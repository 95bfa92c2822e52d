"""Each command says what it is for with an example that can be called; slips are answered."""

import shlex

import command_line
import pytest

from coach.cli.registry import COMMANDS, parse_call


def coach(*arguments: str) -> str:
    return str(command_line.coach(*arguments, check=True).stdout)


@pytest.mark.parametrize("name", COMMANDS)
def test_each_command_says_what_it_is_for_with_an_example_that_can_be_called(name: str) -> None:
    first, *example = shlex.split(COMMANDS[name].example)
    assert (first, example[0]) == ("coach", name)
    assert parse_call(example)[0] is COMMANDS[name]


def test_the_help_of_a_command_shows_what_it_is_for_its_arguments_and_its_example() -> None:
    told = coach("words", "--help")
    assert told.startswith("usage: coach words [-h] ")
    assert "numbered written instructions." in told
    assert "Example: coach words tide-band" in told


def test_the_help_of_the_whole_lists_every_command() -> None:
    told = coach("--help")
    for command in COMMANDS.values():
        assert f"    {command.name}" in told
        assert command.help in " ".join(told.split())


def test_manual_lists_and_prints_its_pages() -> None:
    assert "coach manual questions" in coach("manual")
    assert coach("manual", "writing", "--markdown").startswith("# Writing a project file\n")


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (
            "plan tide-band --lenght '20 cm'",
            "Not understood: --lenght 20 cm. Did you mean ‘--length’?",
        ),
        ("plan tide-band --lenght=20cm", "Not understood: --lenght=20cm. Did you mean ‘--length’?"),
        ("check tide-band --wacth", "Not understood: --wacth. Did you mean ‘--watch’?"),
        ("card tide-band --zzz", "Not understood: --zzz."),
        ("plna tide-band", "Unknown command ‘plna’. Did you mean ‘plan’?"),
        ("xylophone", "Unknown command ‘xylophone’. The commands are check, plan, "),
        ("--json check tide-band", "The command comes first, before its options."),
        ("--josn", "Not understood: --josn."),
        ("--vesrion", "Did you mean ‘--version’?"),
        ("plan tide-band \x1b[31m", "Not understood: [31m."),
        ("plan", "Missing: FILE."),
        ("plan tide-band --length", "--length needs a value."),
        ("plan tide-band --units mm", "--units: ‘mm’ is not cm or in."),
        ("stock ad", "doing: ‘ad’ is not add, count or take."),
        ("words tide-band --speak --markdown", " do not go together."),
        ("plan tide-band --json=yes", "--json takes no value."),
        (
            "plan tide-band --co 3",
            "--co could mean --cord, --copies or --colourway. Write all of it.",
        ),
        ("completion tcsh", "SHELL: ‘tcsh’ is not bash, zsh or fish."),
    ],
)
def test_a_slip_is_told_with_what_was_perhaps_meant(
    call: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        parse_call(shlex.split(call))
    told = capsys.readouterr().err
    assert ended.value.code == 2
    assert said in told
    assert ("Did you mean" in told) == ("Did you mean" in said)
    assert told.startswith("usage: coach")
    assert "\x1b" not in told
