"""Random work, said step by step, and what the file that is written of it must tie."""

from hypothesis import strategies as st
from random_steps import parts

from coach.plan.from_text import read_plan
from coach.plan.plan_model import Plan
from coach.recording.fold import Block
from coach.recording.project_text import Hung
from coach.recording.record import Record

HUNG = Hung(
    {
        "reed": "{colour: green, fibre: cotton, diameter: 2 mm}",
        "clay": "{colour: sienna, fibre: cotton, diameter: 2 mm}",
    },
    "{hang: [2 reed, clay]}",
)
STRANDS = 6


@st.composite
def works(draw: st.DrawFn) -> Record:
    """Return a record of random steps of all kinds, repeats and mirrored ones among them."""
    steps = draw(parts(STRANDS, most=4, nested=True))
    blocks = [Block((step,)) for step in steps if not step.startswith("use")]
    still = [b for b in blocks if not b.steps[0].startswith(("add", "lay aside"))]
    for _ in range(draw(st.integers(0, 3))):
        if still:
            many = draw(st.integers(1, len(still)))
            last = tuple(step for block in still[-many:] for step in block.steps)
            times = draw(st.integers(1, 3))
            again = [Block((step,)) for step in last]
            mirrored = draw(st.booleans())
            blocks += [Block(last, mirrored=True)] if mirrored else again * times
            blocks += again if draw(st.booleans()) else []
    return Record(HUNG, "", tuple(blocks))


def tied(plan: Plan) -> tuple[object, ...]:
    """Return all that a plan ties, in its order, and how it hangs at the end."""
    ids = [strand.id for strand in plan.strands]
    counts = [
        (c.knot, [ids[s] for s in c.knotters], [ids[s] for s in c.fillers], c.passes)
        for c in plan.counts
    ]
    return counts, [ids[s] for s in plan.start], [ids[s] for s in plan.finish]


def assert_written_as_knotted(record: Record) -> bool:
    """Hold the written file against what was knotted; tell whether there was anything to hold."""
    knotted = read_plan(record.text(fold=False))
    if knotted.plan is None:
        return False
    written = read_plan(record.text())
    assert written.plan is not None, (record.text(), written.problems)
    assert tied(written.plan) == tied(knotted.plan), record.text()
    return True
