"""The `--colourway` option: finding the colourway, and a plan in its colours."""

from dataclasses import replace

from coach.plan.plan_model import Plan
from coach.plan.resize.refit import CannotRefit, with_colours
from coach.project.model import Project
from coach.text import join_words, normalized_name, one_line


def in_colourway(plan: Plan, colourway: str) -> Plan:
    """Return a plan in one of its file's colourways; "" leaves the file's own colours.

    Raises:
        CannotRefit: There is no such colourway; the text names those that there are.
    """
    if not colourway:
        return plan
    project = plan.project
    colours = project.colourways[colourway_of(project, colourway)]
    return replace(plan, project=with_colours(project, colours))


def colourway_of(project: Project, asked: str) -> str:
    """Return a colourway's name as its file has it. Raises CannotRefit."""
    found = next(
        (way for way in project.colourways if normalized_name(way) == normalized_name(asked)), None
    )
    if found is not None:
        return found
    has = join_words([f"‘{way}’" for way in project.colourways])
    hint = f"It has {has}." if has else "It has none; write them under colourways:."
    said = f"This project has no colourway ‘{one_line(asked)}’. {hint}"
    raise CannotRefit(f"--colourway: {said}")
