"""The page of one command: how it is called, what is written of it, and all its options."""

from coach.cli.arguments import Argument, Call, Option


def command_page(call: Call, written: str) -> str:
    """Return the Markdown of a command's page; `written` is its title and the words about it."""
    title, _, words = written.partition("\n")
    parts = [title, f"```text\n{usage(call)}\n```", words.strip(), _table(call)]
    return "\n\n".join(part for part in parts if part) + "\n"


def usage(call: Call) -> str:
    """Return how it is called in one line: `coach plan [options] FILE`."""
    behind = [_written(argument) for argument in call.arguments]
    return " ".join(["coach", call.name, *(["[options]"] if call.own_options else []), *behind])


def option_words(option: Option) -> str:
    """Return an option as it is typed, with what it takes: `-o, --output PAGE`."""
    flags = ", ".join(option.flags)
    return f"{flags} {value_words(option.value)}" if option.value else flags


def value_words(value: Argument) -> str:
    """Return what stands there: its choices, or its name."""
    return "|".join(value.choices) if value.choices else value.name


def _written(argument: Argument) -> str:
    words = argument.name + (" …" if argument.repeated else "")
    return words if argument.needed else f"[{words}]"


def _table(call: Call) -> str:
    rows = [(value_words(a), a.help) for a in call.arguments if a.help]
    rows += [(option_words(option), option.help) for option in call.own_options]
    if not rows:
        return ""
    cells = "".join(f"| `{_cell(words)}` | {_cell(said)} |\n" for words, said in rows)
    return f"## What it can be called with\n\n| you type | it does |\n|---|---|\n{cells}".rstrip()


def _cell(text: str) -> str:
    return text.replace("|", "\\|")
