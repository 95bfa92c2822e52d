"""The keys of the bench as the manual lists them: all of them, as they are without settings."""

from coach.session.keymap import ACTIONS, GROUPS
from coach.settings.key_names import shown


def key_tables() -> str:
    """Return a table of keys for each thing that a maker wants to do, in Markdown."""
    parts = ["## Every key of the bench"]
    for group, title in GROUPS:
        rows = [
            f"| {', '.join(f'`{_cell(shown(key))}`' for key in action.keys)} | {action.help} |"
            for action in ACTIONS
            if action.group == group
        ]
        parts.append("\n".join((f"### {title}", "", "| key | what it does |", "|---|---|", *rows)))
    return "\n\n".join(parts)


def _cell(text: str) -> str:
    return text.replace("|", "\\|")
