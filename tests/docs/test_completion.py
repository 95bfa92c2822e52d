"""Shells complete what the parser knows, and the names that the coach knows: tried in the shells.

A machine need not have all three. Those it has are tried in a terminal, as a maker would; the
script of each is read for all that it must offer on every machine.

Needs POSIX: pseudo-terminals, rights of files and a POSIX shell.
"""

import os
import shlex
import shutil
import sys
from pathlib import Path

import pytest
from command_line import coach
from processes import run
from real_terminal import RealTerminal

from coach.cli.arguments import KINDS, all_calls, words_of
from coach.cli.commands.completion import SCRIPTS
from coach.knots.names import KNOTS, SYNONYMS
from coach.piece import Store, SystemClock, folders, start_piece

CALLS = {call.name: call for call in all_calls()}
HERE = [shell for shell in SCRIPTS if shutil.which(shell)]
STARTED = {"bash": ("--norc", "--noprofile", "-i"), "zsh": ("-f", "-i"), "fish": ("--no-config",)}
SET_UP = {
    "bash": "source coach.bash",
    "zsh": "fpath=($PWD $fpath); autoload -Uz compinit; compinit -u -d $PWD/kept",
    "fish": "source coach.fish",
}
KEPT_AS = {"bash": "coach.bash", "zsh": "_coach", "fish": "coach.fish"}
PIECES = ("Łódź ribbon", "$(touch owned) `touch owned`")
TABS = {
    "wor": "words ",
    "how jos": r"how josephine\ knot ",
    "how lar": r"how lark\'s\ head ",
    "plan tide": "plan tide-band ",
    "words my": r"words my\ belt.yaml ",
    "card -o my": r"card -o my\ belt.yaml ",
    "pieces Ł": r"pieces Łódź\ ribbon ",
    "export Ł": r"export Łódź\ ribbon ",
    "manual wri": "manual writing ",
    "plan --cop": "plan --copies ",
}


def script_of(shell: str) -> str:
    return str(coach("completion", shell, check=True).stdout)


@pytest.mark.parametrize("shell", SCRIPTS)
def test_the_script_of_each_shell_offers_every_verb_option_and_name(shell: str) -> None:
    script = script_of(shell)
    for call in CALLS.values():
        assert call.name in script
        for flag in (flag for option in call.options for flag in option.flags):
            assert (flag.lstrip("-") if shell == "fish" else flag) in script
    for word in (*words_of("project"), *KNOTS, *SYNONYMS):
        assert word.split("'")[0] in script
    assert script.count("coach pieces --names") == {"bash": 3, "zsh": 1, "fish": 3}[shell]


@pytest.mark.parametrize("shell", HERE)
def test_the_script_of_each_shell_is_read_without_a_fault(shell: str) -> None:
    assert run([shell, "-n"], script_of(shell)).stderr == ""


def test_it_is_known_of_every_argument_what_it_names() -> None:
    """One that is new has choices or a kind, or this test asks what it names."""
    for call in CALLS.values():
        for argument in call.arguments:
            assert argument.choices or argument.kind, (call.name, argument.name)
    kinds = {a.kind for call in CALLS.values() for a in call.arguments} | {""}
    assert kinds == {*KINDS.values(), ""}


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a folder with the coach on the path, its scripts, a file, and two pieces under way."""
    program = tmp_path / "bin" / "coach"
    program.parent.mkdir()
    program.write_text(f'#!/bin/sh\nexec {shlex.quote(sys.executable)} -m coach "$@"\n')
    program.chmod(0o700)
    monkeypatch.setenv("PATH", f"{program.parent}{os.pathsep}{os.environ['PATH']}")
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.chdir(tmp_path)
    (tmp_path / "my belt.yaml").touch()
    with Store(folders(os.environ).database) as store:
        for name in PIECES:
            start_piece(store, SystemClock(), title=name, project_text="", source="", total=9)
    return tmp_path


@pytest.mark.parametrize("shell", HERE)
def test_each_shell_completes_from_the_first_tab_on(shell: str, desk: Path) -> None:
    """As its header says; then words, names of two words, pieces, files and choices."""
    (desk / KEPT_AS[shell]).write_text(script_of(shell), encoding="utf-8")
    with RealTerminal(*STARTED[shell], program=(shell,), home=os.environ["COACH_HOME"]) as terminal:
        terminal.press(f"{SET_UP[shell]}; echo set''up\r")
        terminal.until("setup")
        for typed, completed in TABS.items():
            terminal.press(f"coach {typed}\t+")  # the sign shows where the shell left the cursor
            terminal.until(f"coach {completed}+")
            terminal.press("\x15")
        terminal.press("exit\r")
        terminal.end()
    assert "bad option" not in terminal.written
    assert not (desk / "owned").exists(), "what a name says was carried out"


def offered_by_bash(line: str) -> set[str]:
    """Return all that bash offers at the end of a line."""
    words = [*shlex.split(line), *([""] if line.endswith(" ") else [])]
    place = f"COMP_WORDS=({shlex.join(words)}); COMP_CWORD={len(words) - 1}; _coach"
    shown = 'printf "%s\\n" "${COMPREPLY[@]}"'
    asked = f"{SCRIPTS['bash'](list(CALLS.values()))}\n{place}\n{shown}"
    return set(run(["bash", "-c", asked], check=True).stdout.splitlines())


@pytest.mark.usefixtures("desk")
def test_bash_offers_all_that_fits_and_nothing_else() -> None:
    assert offered_by_bash("coach ") == {*CALLS, "--help", "--version"}
    assert offered_by_bash("coach card --sv") == {"--svg"}
    assert offered_by_bash("coach plan --units ") == {"cm", "in"}
    assert offered_by_bash("coach plan --length ") == {""}
    assert offered_by_bash("coach completion ") == {"bash", "zsh", "fish"}
    assert offered_by_bash("coach plan tide") == {"tide-band"}
    assert offered_by_bash("coach how half") == {
        "half hitch", "half hitch chain", "half knot", "half square knot"
    }  # fmt: skip
    assert offered_by_bash("coach pieces ") == set(PIECES)
