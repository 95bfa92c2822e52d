"""Ten pieces as a maker would write them: planned, drawn, and walked in part in plain lines."""

from pathlib import Path

import pytest
from plain_bench import Bench

from coach.picture.compose import scene_of
from coach.plan.from_text import read_plan
from coach.plan.wording.advice import with_advice
from coach.words.instructions import instructions

PIECES = sorted((Path(__file__).parent / "real_pieces").glob("*.yaml"), key=lambda path: path.stem)
SOME = 12


@pytest.mark.parametrize("path", PIECES, ids=lambda path: path.stem)
def test_a_real_piece_is_planned_drawn_and_walked(path: Path, tmp_path: Path) -> None:
    """Without a word from a colleague; every tie is drawn once, on its board or a layer of it."""
    text = path.read_text(encoding="utf-8")
    reading = with_advice(read_plan(text))
    plan = reading.plan
    assert plan
    assert not reading.problems
    scene, drawn = scene_of(plan), set()
    while scene:
        drawn |= {tie.count for tie in scene.ties}
        scene = scene.behind  # type: ignore[assignment]  # until there is none
    assert {n for n, count in enumerate(plan.counts) if count.knot} <= drawn
    assert len(instructions(plan)) > 1
    bench = Bench(tmp_path, text)
    told = [bench.type("") for _ in range(min(SOME, plan.total))]
    assert all("no word" not in line for line in told)
    assert bench.type("choose")
    assert bench.type("-").startswith(("Took one back.", "Took the choice back."))
    bench.open()
    assert bench.work.done == min(SOME, plan.total) - 1


def test_there_are_ten_and_they_use_the_kinds_of_real_work() -> None:
    every = "".join(path.read_text(encoding="utf-8") for path in PIECES)
    assert len(PIECES) == 10
    for key in (
        "apart:", "attach:", "layer: behind", "from: middle", "end for end", "fold back:",
        "bring down:", "round: flat", "order: any", "knots:", "knotter: longest", "or more",
        "about ", "holder: ring", "first: over", "note once:", "mirror: every second", "make: 2",
    ):  # fmt: skip
        assert key in every, key
