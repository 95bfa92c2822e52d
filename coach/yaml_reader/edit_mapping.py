"""Editing one entry of a YAML mapping in place; the rest of the text stays as written."""

from typing import Final

import yaml

_LOADER: Final = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class NoPlaceError(Exception):
    """The text has no place for the entry without changing something else."""


def with_entry(text: str, section: str, name: str, value: str, after: str) -> str:
    """Return a text in which a top-level section has an entry `name: value`.

    Args:
        text: A YAML mapping.
        section: The key of the section; added below the section `after` if it is missing.
        name: The entry's key as it is to be written; an entry of that name is replaced.
        value: The entry's value, on one line.
        after: An existing top-level key.

    Raises:
        NoPlaceError: The section is written in a way that has no line to put an entry on.
    """
    try:
        root = yaml.compose(text, Loader=_LOADER)
    except yaml.YAMLError as error:
        raise NoPlaceError("The file cannot be read.") from error
    if not isinstance(root, yaml.MappingNode) or root.flow_style:
        raise NoPlaceError("The file is not written as keys on lines of their own.")
    sections = {key.value: (key, node) for key, node in root.value}
    if section not in sections:
        return _with_section(text, f"{section}:", f"  {name}: {value}", sections[after][1])
    _, node = sections[section]
    if not isinstance(node, yaml.MappingNode):
        raise NoPlaceError(f"{section}: has no list of names.")
    unquoted = name.strip("\"'")
    for entry, old in node.value:
        if entry.value in (name, unquoted):
            return text[: old.start_mark.index] + value + _rest(text, old)
    if node.flow_style:
        end = node.end_mark.index - 1
        comma = ", " if node.value else ""
        return f"{text[:end].rstrip()}{comma}{name}: {value}{text[end:]}"
    indent = " " * node.value[0][0].start_mark.column
    return _below(text, node.value[-1][1], f"{indent}{name}: {value}")


def _with_section(text: str, head: str, entry: str, after: yaml.Node) -> str:
    return _below(text, after, f"{head}{_line_end(text)}{entry}")


def _rest(text: str, old: yaml.Node) -> str:
    """Return what follows a value in the text; a value on its own lines ends with its last word."""
    end = old.end_mark.index
    kept = len(text[:end].rstrip()) if not getattr(old, "flow_style", True) else end
    return text[kept:]


def _below(text: str, node: yaml.Node, lines: str) -> str:
    """Return a text with lines added below the last line of a node and its comment."""
    end = len(text[: node.end_mark.index].rstrip())
    while _is_comment(text, end):  # a block's end lies beyond the comments that follow it
        end = len(text[: text.rfind("\n", 0, end)].rstrip())
    line_end = text.find("\n", end)
    if line_end < 0:
        return f"{text}{_line_end(text)}{lines}{_line_end(text)}"
    return f"{text[: line_end + 1]}{lines}{_line_end(text)}{text[line_end + 1 :]}"


def _is_comment(text: str, end: int) -> bool:
    start = text.rfind("\n", 0, end) + 1
    return text[start:end].lstrip().startswith("#")


def _line_end(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"
