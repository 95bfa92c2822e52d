"""`coach completion SHELL`: the script that completes commands and arguments in a shell."""

import argparse
from collections.abc import Callable, Iterator, Sequence
from typing import Final

from coach.cli.arguments import Argument, Call, Kind, Option, all_calls, words_of

_PIECES: Final = "coach pieces --names 2>/dev/null"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what it can be called with."""
    parser.add_argument("shell", choices=tuple(SCRIPTS), metavar="SHELL",
                        help=", ".join(SCRIPTS))  # fmt: skip


def run(options: argparse.Namespace) -> int:
    """Print the script for one shell."""
    print(SCRIPTS[options.shell](all_calls()), end="")
    return 0


def _bash(calls: list[Call]) -> str:
    places: dict[str, list[str]] = {}
    for call in calls:
        for option in call.options:
            if option.value:
                there = places.setdefault(_bash_offer([option.value]), [])
                there += [f"'{call.name} {flag}'" for flag in option.flags]
    values = "".join(f"    {'|'.join(there)}) {offer} ;;\n" for offer, there in places.items())
    behind = "".join(
        f"    '{call.name} '*) flags={_lines(_flags(call))} {_bash_offer(call.arguments)} ;;\n"
        for call in calls
    )
    return f"""\
# bash completion for coach: put `source <(coach completion bash)` into ~/.bashrc
_coach() {{
  local now=${{COMP_WORDS[COMP_CWORD]}} before=${{COMP_WORDS[COMP_CWORD-1]}}
  local flags= words= files= word
  # As it is meant: without the quote before it, or the backslashes in it.
  now=${{now#[\\"\\']}} now=${{now//\\\\/}}
  case "${{COMP_WORDS[1]}} $before" in
{values}{behind}  esac
  if [ "$COMP_CWORD" -le 1 ]; then
    words={_lines([*(call.name for call in calls), "--help", "--version"])} files=
  elif [ "${{now:0:1}}" = - ]; then
    words=$flags files=
  fi
  COMPREPLY=()
  # Names are compared as they are: compgen -W would carry out what is written in them.
  while IFS= read -r word; do
    if [ -n "$word" ] && [ "${{word:0:${{#now}}}}" = "$now" ]; then COMPREPLY+=("$word"); fi
  done <<< "$words"
  if [ -n "$files" ]; then
    while IFS= read -r word; do COMPREPLY+=("$word"); done < <(compgen -f -- "$now")
  fi
}}
complete -o filenames -F _coach coach
"""


def _bash_offer(arguments: Sequence[Argument]) -> str:
    """Return the shell code that sets the words and files to offer."""
    words = _lines([word for argument in arguments for word in argument.words])
    if any(argument.kind == "piece" for argument in arguments):
        words = f'"$({_PIECES})"'
    return f"words={words} files={'yes' if any(a.takes_file for a in arguments) else ''}"


def _lines(words: Sequence[str]) -> str:
    """Return words as one word of a shell, one a line."""
    return _one("\n".join(words))


def _flags(call: Call) -> list[str]:
    return [flag for option in call.options for flag in option.flags]


def _one(text: str) -> str:
    """Return text as one word of a shell."""
    return "'" + text.replace("'", "'\\''") + "'"


def _zsh(calls: list[Call]) -> str:
    listed = "".join(f"    {_one(f'{call.name}:{call.help}')}\n" for call in calls)
    cases = "".join(
        f"    {call.name}) _arguments {' '.join(_zsh_words(call))} ;;\n" for call in calls
    )
    return f"""\
#compdef coach
# zsh completion for coach: coach completion zsh > a folder of your fpath/_coach
# or, in ~/.zshrc after compinit: source <(coach completion zsh)
_coach_pieces() {{
  local -a names
  names=(${{(f)"$({_PIECES})"}})
  compadd "$@" -a names
}}
_coach_knots() {{
  local -a names
  names=({" ".join(map(_one, words_of("knot")))})
  compadd "$@" -a names
}}
_coach_projects() {{
  _alternative 'projects:project:({" ".join(words_of("project"))})' 'files:file:_files'
}}
_coach() {{
  local -a offered
  offered=(
{listed}  )
  if (( CURRENT == 2 )); then
    _describe 'command' offered
    return
  fi
  local called=$words[2]
  shift words
  (( CURRENT-- ))
  case $called in
{cases}  esac
}}
# Of an fpath this is read at the first TAB, which is to be answered at once.
if [[ ${{funcstack[1]}} == _coach ]]; then _coach "$@"; else compdef _coach coach; fi
"""


_ZSH_OFFERS: Final[dict[Kind, str]] = {
    "project": " _coach_projects", "knot": "_coach_knots", "piece": "_coach_pieces",
    "file": "_files", "label": " ", "order": " ", "": " ",
}  # fmt: skip
"""What offers each kind; one that begins with a space gets no options of the list's."""


def _zsh_words(call: Call) -> Iterator[str]:
    for option in call.options:
        said = option.help.replace("[", "(").replace("]", ")").replace(":", ",")
        value = f":{_zsh_offer(option.value)}" if option.value else ""
        for flag in option.flags:
            yield _one(f"{flag}[{said}]{value}")
    for number, argument in enumerate(call.arguments, 1):
        place = "*" if argument.repeated else number
        yield _one(f"{place}:{_zsh_offer(argument)}")


def _zsh_offer(argument: Argument) -> str:
    choices = f"({' '.join(argument.choices)})" if argument.choices else ""
    return f"{argument.name.lower()}:{choices or _ZSH_OFFERS[argument.kind]}"


_FISH_FILE: Final = "~/.config/fish/completions/coach.fish"


def _fish(calls: list[Call]) -> str:
    lines = [
        f"# fish completion for coach: coach completion fish > {_FISH_FILE}",
        "function __coach_command",
        "    set -l typed (commandline -opc)",
        '    test (count $typed) -gt 1; and test $typed[2] = "$argv"',
        "end",
        "complete -c coach -f",
    ]
    for call in calls:
        first = "-n 'test (count (commandline -opc)) -eq 1'"
        lines.append(f"complete -c coach {first} -a {call.name} -d {_one_fish(call.help)}")
        here = f"complete -c coach -n '__coach_command {call.name}'"
        lines += [f"{here}{_fish_offer(argument)}" for argument in call.arguments]
        lines += [f"{here} {_fish_option(option)}" for option in call.options]
    return "\n".join(lines) + "\n"


def _fish_option(option: Option) -> str:
    names = [f"-l {f[2:]}" if f.startswith("--") else f"-s {f[1:]}" for f in option.flags]
    value = f" -r{_fish_offer(option.value)}" if option.value else ""
    return f"{' '.join(names)}{value} -d {_one_fish(option.help)}"


def _fish_offer(argument: Argument) -> str:
    files = " -F" if argument.takes_file else " -f"
    words = " ".join(_one_fish(word) for word in argument.words)
    words = f"({_PIECES})" if argument.kind == "piece" else words
    return f"{files} -a {_one_fish(words)}" if words else files


def _one_fish(text: str) -> str:
    return "'" + text.replace("\\", "\\\\").replace("'", "\\'") + "'"


SCRIPTS: Final[dict[str, Callable[[list[Call]], str]]] = {
    "bash": _bash, "zsh": _zsh, "fish": _fish
}  # fmt: skip
