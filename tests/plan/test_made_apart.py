"""Parts made by themselves: their boards, cord, length, pictures, and what cannot be attached."""

from collections import Counter

import pytest
from planned import fault, names, planned, project, ties

from coach.picture.compose import scene_of
from coach.plan.board_at_count import order_at
from coach.plan.cord.cut_list import cut_list
from coach.plan.plan_model import Plan
from coach.plan.sections import current_section
from coach.plan.wording.sentences import step_sentence

HANDLE = """apart:
  handle:
    make: 2
    start: {hang: [clay, reed]}
    mirror: every second
    work:
      - {row: clove hitch, holder: 1, across: 2-4}
      - {knot: half knot, strands: 1-4, times: 3}
"""
WORK = ["knot: square knot, strands: all, times: 4", "attach: handle, at: [1, 4]"]


def bag(*work: str, apart: str = HANDLE) -> Plan:
    return planned(project(work or WORK, rest=apart))


def test_what_is_made_apart_comes_before_the_work_or_where_a_step_says() -> None:
    plan = bag()
    assert [plan.sections[step.section].name for step in plan.steps] == ["handle"] * 4 + [""] * 2
    later = bag(WORK[0], "make: handle", WORK[1])
    assert [later.sections[s.section].name for s in later.steps] == ["", *["handle"] * 4, ""]
    trail = later.steps[3].trail[-1]
    assert (trail.name, trail.turn, trail.turns, trail.mirrored) == ("handle", 2, 2, True)


def test_each_has_a_board_of_its_own_and_the_same_numbering_as_a_piece() -> None:
    plan = bag()
    order = order_at(plan, 0)
    assert names(plan, order) == ["clay.1a", "clay.1b", "reed.3a", "reed.3b"]
    own, done = current_section(plan, 2)
    assert (own.start, done, own.total) == (order, 2, 6)
    assert names(plan, order_at(plan, plan.total)) == ["reed.1a", "reed.2a", "reed.2b", "reed.1b"]
    assert "strand 1 (clay)" in step_sentence(plan, 0)


def test_a_mirrored_second_one_is_the_reflection_of_the_first() -> None:
    """Reflection: place p goes to n + 1 - p, cord by cord, and half knots are reversed."""
    plan = bag()
    first, second = (own.plan for own in plan.by_section[1:])
    other = {"half knot": "reverse half knot"}
    cords = [plan.strands[s].cord for s in first.start]
    assert [plan.strands[s].cord for s in second.start] == cords[::-1]
    flipped = [
        (other.get(knot, knot), [5 - p for p in knotters], [5 - p for p in fillers])
        for knot, knotters, fillers in ties(first)
    ]
    told = [(knot, k[::-1] if len(k) > 1 else k, f[::-1]) for knot, k, f in ties(second)]
    assert told == flipped
    one, two = scene_of(first), scene_of(second)
    for here, there in zip(one.ties, two.ties, strict=True):
        assert (here.x_mm, here.y_mm) == pytest.approx((-there.x_mm, there.y_mm), abs=1e-6)


def test_its_cord_is_cut_for_itself_and_is_what_the_part_would_need_as_a_piece() -> None:
    plan = bag()
    pieces: Counter[tuple[str, str]] = Counter()
    for cut in (cut for cord in cut_list(plan) for cut in cord.cuts):
        pieces[cut.cord, cut.apart] += cut.pieces
    assert pieces == {("reed", ""): 2, ("clay", "handle"): 2, ("reed", "handle"): 2}
    alone = planned(
        project(
            [
                "row: clove hitch, holder: 1, across: 2-4",
                "knot: half knot, strands: 1-4, times: 3",
            ],
            "{hang: [clay, reed]}",
        )
    )
    used = [plan.ledgers[s].total_mm for s in plan.sections[1].order]
    assert used == pytest.approx([alone.ledgers[s].total_mm for s in alone.start])
    assert plan.by_section[1].plan.length_mm == pytest.approx(alone.length_mm)


def test_what_is_attached_adds_no_length_unless_it_says_so() -> None:
    bare = planned(project(WORK[:1]))
    assert bag().length_mm == pytest.approx(bare.length_mm)
    grown = bag(WORK[0], "attach: handle, at: 1, adds: length")
    assert grown.length_mm == pytest.approx(bare.length_mm + grown.by_section[1].plan.length_mm)


def test_the_bench_follows_each_board_and_the_picture_has_all() -> None:
    plan = bag()
    whole = scene_of(plan)
    assert {tie.count >= 0 for tie in whole.ties} == {True}
    pieces = [scene_of(own.plan) for own in plan.by_section]
    assert len(whole.ties) == sum(len(scene.ties) for scene in pieces)
    widths = sum(scene.box[2] - scene.box[0] for scene in pieces)
    assert whole.box[2] - whole.box[0] > widths
    assert len(scene_of(plan, 3).ties) == 3


def test_work_that_only_makes_needs_no_start_of_its_own() -> None:
    text = project(["make: handle"], rest=HANDLE)
    plan = planned(text.replace("start: {nest: [2 reed]}\n", ""))
    assert plan.start == ()
    assert plan.length_mm == pytest.approx(plan.by_section[1].plan.length_mm)
    assert len(scene_of(plan).ties) == 12


@pytest.mark.parametrize(
    ("work", "code", "says"),
    [
        (["attach: handle, at: 9"], "OFF-BOARD", "4 strands hang here"),
        (["attach: handle, at: 1"] * 3, "APART", "made twice"),
        (["attach: handle, at: 1", "make: handle"], "APART", "not made yet"),
        (["make: handle", "make: handle"], "APART", "made already"),
        (["attach: strap, at: 1"], "APART", "no part made apart"),
    ],
)
def test_what_cannot_be_attached_is_told(work: list[str], code: str, says: str) -> None:
    text = project(work, rest=HANDLE)
    found = fault(text)
    assert found.code == code
    assert says in found.message
    assert found.hint
    line = text.splitlines()[found.span.line - 1]
    assert work[-1].split(":")[0] in line or work[0].split(":")[0] in line


def test_a_part_that_makes_itself_is_refused() -> None:
    loop = HANDLE + "      - {make: handle}\n"
    assert fault(project(WORK, rest=loop)).code == "APART"


def test_too_many_pieces_made_apart_are_refused_before_any_is_made() -> None:
    many = HANDLE.replace("make: 2", "make: 200").replace("[clay, reed]", "[40 clay, reed]")
    assert fault(project(WORK, rest=many)).code == "TOO-MUCH"


LAYERED = [
    "knot: square knot, strands: all, times: 4",
    "attach: handle, at: [1, 2], layer: behind",
    "knot: square knot, strands: all, times: 4",
    "attach: handle, at: [3, 4], layer: front",
]


def test_a_layer_is_drawn_behind_the_work_or_before_it() -> None:
    """From the back it is the other way round; each hangs from where it was attached."""
    plan = bag(*LAYERED)
    handles = [{c for s in plan.steps if s.section == n for c in range(s.first, s.end)}
               for n in (1, 2)]  # fmt: skip
    for back in (False, True):
        scene, order = scene_of(plan, back=back), []
        while scene:
            order.append({tie.count for tie in scene.ties if tie.count >= 0})
            tops = min(tie.box[1] for tie in scene.ties)
            order[-1] = (order[-1], tops)
            scene = scene.behind
        counts = [found for found, _ in order]
        if back:
            counts.reverse()
            order.reverse()
        assert counts[0] == handles[1]
        assert counts[2] == handles[0]
        assert order[0][1] > order[2][1] > order[1][1]
