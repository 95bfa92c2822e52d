"""The check that what is folded back has enough finished work to lie along."""

from collections.abc import Iterator

from coach.plan.lengths import centimetres
from coach.plan.plan_model import Plan
from coach.project.model import FoldBack
from coach.yaml_reader.diagnostics import Problem


def folded_too_far(plan: Plan) -> Iterator[Problem]:
    """Yield a problem for each loop that is longer than the work that it is folded back along."""
    for step in plan.steps:
        source = step.source
        if not isinstance(source, FoldBack):
            continue
        made_mm = plan.height_mm[step.first]
        if source.loop_mm > made_mm:
            message = (
                f"A loop of {centimetres(source.loop_mm)} is folded back along "
                f"{centimetres(round(made_mm))} of work."
            )
            hint = f"Fold back after more work, or write at most ‘loop: {int(made_mm)} mm’."
            yield Problem("FOLD-BACK", source.about.span, message, hint)
