"""`coach completion SHELL`: what a shell needs to complete verbs and options, from the parser."""

import argparse
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

from coach.cli.calls import parser
from coach.cli.shelf import shelf


@dataclass(frozen=True, slots=True)
class Option:
    """One option of a verb: how it is written, what it is for, and what it takes."""

    flags: tuple[str, ...]
    help: str
    choices: tuple[str, ...]
    takes_value: bool


@dataclass(frozen=True, slots=True)
class Verb:
    """One verb: its options, and what can stand behind it."""

    name: str
    help: str
    options: tuple[Option, ...]
    choices: tuple[str, ...]
    takes_file: bool


def run(options: argparse.Namespace) -> int:
    """Print the script for one shell."""
    print(SCRIPTS[options.shell](verbs_of(parser())), end="")
    return 0


def verbs_of(whole: argparse.ArgumentParser) -> list[Verb]:
    """Return every verb of a parser with its options."""
    groups = [a for a in whole._actions if isinstance(a, argparse._SubParsersAction)]  # noqa: SLF001 - argparse tells its arguments nowhere else
    return [
        _verb(name, sub, sub.description or "")
        for group in groups
        for name, sub in group.choices.items()
    ]


def _verb(name: str, sub: argparse.ArgumentParser, said: str) -> Verb:
    options: list[Option] = []
    choices: list[str] = []
    takes_file = False
    for action in sub._actions:  # noqa: SLF001 - as above
        given = tuple(str(choice) for choice in action.choices or ())
        if action.option_strings:
            flags = tuple(action.option_strings)
            options.append(Option(flags, action.help or "", given, action.nargs != 0))
        else:
            choices += given
            takes_file = takes_file or action.metavar == "FILE"
    return Verb(name, said, tuple(options), tuple(choices), takes_file)


def _behind(verb: Verb) -> str:
    """Return the words that can stand behind a verb: projects from the shelf, or its choices."""
    names = [path.stem for path in shelf()] if verb.takes_file else []
    return " ".join([*names, *verb.choices])


def _bash(verbs: list[Verb]) -> str:
    cases = "".join(
        f"    {verb.name}) flags={_one(_flags(verb))} words={_one(_behind(verb))} "
        f"files={'yes' if verb.takes_file else ''} ;;\n"
        for verb in verbs
    )
    values = "".join(
        f"    '{verb.name} {flag}') words={_one(' '.join(option.choices))} flags= files= ;;\n"
        for verb in verbs
        for option in verb.options
        if option.choices
        for flag in option.flags
    )
    names = " ".join(verb.name for verb in verbs)
    return f"""\
# bash completion for coach: put `source <(coach completion bash)` into ~/.bashrc
_coach() {{
  local now=${{COMP_WORDS[COMP_CWORD]}} before=${{COMP_WORDS[COMP_CWORD-1]}}
  local verb=${{COMP_WORDS[1]}} flags= words= files=
  if [ "$COMP_CWORD" -le 1 ]; then
    COMPREPLY=($(compgen -W {_one(names + " --help --version")} -- "$now"))
    return
  fi
  case $verb in
{cases}  esac
  case "$verb $before" in
{values}  esac
  if [ "${{now:0:1}}" = - ]; then words=$flags files=; fi
  COMPREPLY=($(compgen -W "$words" -- "$now"))
  if [ -n "$files" ]; then COMPREPLY+=($(compgen -f -- "$now")); fi
}}
complete -o filenames -F _coach coach
"""


def _flags(verb: Verb) -> str:
    return " ".join(flag for option in verb.options for flag in option.flags)


def _one(text: str) -> str:
    """Return text as one word of a shell."""
    return "'" + text.replace("'", "'\\''") + "'"


def _zsh(verbs: list[Verb]) -> str:
    listed = "".join(f"    {_one(f'{verb.name}:{verb.help}')}\n" for verb in verbs)
    cases = "".join(
        f"    {verb.name}) _arguments {' '.join(_zsh_words(verb))} ;;\n" for verb in verbs
    )
    return f"""\
#compdef coach
# zsh completion for coach: coach completion zsh > a folder of your fpath/_coach
_coach() {{
  local -a verbs
  verbs=(
{listed}  )
  if (( CURRENT == 2 )); then
    _describe 'verb' verbs
    return
  fi
  local verb=$words[2]
  shift words
  (( CURRENT-- ))
  case $verb in
{cases}  esac
}}
compdef _coach coach
"""


def _zsh_words(verb: Verb) -> Iterator[str]:
    for option in verb.options:
        said = option.help.replace("[", "(").replace("]", ")").replace(":", ",")
        value = f":value:({' '.join(option.choices)})" if option.choices else ":value:"
        for flag in option.flags:
            yield _one(f"{flag}[{said}]{value if option.takes_value else ''}")
    if verb.takes_file:
        yield _one(f"*:project:_alternative 'files:file:_files' 'shelf:shelf:({_behind(verb)})'")
    elif verb.choices:
        yield _one(f"*:word:({' '.join(verb.choices)})")


def _fish(verbs: list[Verb]) -> str:
    kept = "~/.config/fish/completions/coach.fish"
    lines = [f"# fish completion for coach: coach completion fish > {kept}"]
    for verb in verbs:
        first = f"-n __fish_use_subcommand -f -a {verb.name} -d {_one_fish(verb.help)}"
        lines.append(f"complete -c coach {first}")
        here = f"complete -c coach -n '__fish_seen_subcommand_from {verb.name}'"
        behind = _behind(verb)
        if behind:
            lines.append(f"{here}{'' if verb.takes_file else ' -f'} -a {_one_fish(behind)}")
        lines += [f"{here} {_fish_option(option)}" for option in verb.options]
    return "\n".join(lines) + "\n"


def _fish_option(option: Option) -> str:
    names = [f"-l {f[2:]}" if f.startswith("--") else f"-s {f[1:]}" for f in option.flags]
    value = f" -x -a {_one_fish(' '.join(option.choices))}" if option.choices else ""
    needs = " -r" if option.takes_value and not value else ""
    return f"{' '.join(names)}{needs}{value} -d {_one_fish(option.help)}"


def _one_fish(text: str) -> str:
    return "'" + text.replace("\\", "\\\\").replace("'", "\\'") + "'"


SCRIPTS: Final[dict[str, Callable[[list[Verb]], str]]] = {
    "bash": _bash, "zsh": _zsh, "fish": _fish
}  # fmt: skip
