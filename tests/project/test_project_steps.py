"""Each kind of step is read as it is written, under all of its names."""

import pytest
from project_texts import sound, step_of, with_work

from coach.project import model
from coach.project.model import Positions


def items(positions: Positions | None) -> tuple[int, ...]:
    assert positions is not None
    return positions.items


def members(groups: model.Groups | None) -> list[tuple[int, ...]]:
    assert groups is not None
    return [member.items for member in groups.members]


@pytest.mark.parametrize(
    "written",
    ["{row: clove hitch, holder: 2, across: 3-5}",
     "{row: Double Half-Hitch, holding cord: 2, across: '3-5'}",
     "{Row: double half hitch, Knot-Bearer: '2', across: [3, 4-5]}"],
)  # fmt: skip
def test_row_of_clove_hitches(written: str) -> None:
    """A row is the same under each of its names."""
    row = step_of(written)
    assert isinstance(row, model.Row)
    assert (row.knots, row.mover_holds, row.weave) == (("clove hitch",), True, False)
    assert (items(row.mover), items(row.across)) == ((2,), (3, 4, 5))
    assert (row.lie, row.slope_deg, row.times) == ("", None, 1)


@pytest.mark.parametrize(
    "written",
    ["{row: reverse clove hitch, knotter: 8, across: 7-1}",
     "{row: vertical clove hitch, working cord: 8, across: 7-1}",
     "{row: vertical double half hitch, knotting cord: 8, across: 7-1}"],
)  # fmt: skip
def test_row_of_reverse_clove_hitches(written: str) -> None:
    """The travelling strand knots, and a range may run down."""
    row = step_of(written)
    assert isinstance(row, model.Row)
    assert (row.knots, row.mover_holds) == (("reverse clove hitch",), False)
    assert items(row.across) == (7, 6, 5, 4, 3, 2, 1)


def test_row_with_everything() -> None:
    """Lie, slope and times are taken; a half hitch row takes either role."""
    row = step_of("{row: half hitch, knotter: 8, across: 7, lie: slant, slope: 30°, times: 2}")
    assert isinstance(row, model.Row)
    assert (row.mover_holds, row.lie, row.slope_deg, row.times) == (False, "slant", 30, 2)


def test_vertical_larks_head_in_a_row() -> None:
    """In a row the name is clear, whatever the apostrophe."""
    row = step_of("{row: vertical lark\u2019s head, knotter: 1, across: 2-3}")
    assert isinstance(row, model.Row)
    assert row.knots == ("reverse lark's head",)
    cow = step_of("{row: cow hitch, holder: 1, across: 2-3}")
    assert isinstance(cow, model.Row)
    assert (cow.knots, cow.mover_holds) == (("lark's head",), True)


def test_weave_names_a_knot_for_each_strand() -> None:
    """Counts in the list of knots are spread out; no count is one."""
    weave = step_of(
        "{weave: 1, across: 2-5, knots: [2 clove hitch, vertical clove hitch, 1 clove hitch]}"
    )
    assert isinstance(weave, model.Row)
    assert weave.weave
    assert weave.knots == ("clove hitch", "clove hitch", "reverse clove hitch", "clove hitch")


@pytest.mark.parametrize(
    ("written", "knot"),
    [("square knot", "square knot"), ("flat knot", "square knot"), ("half knot", "half knot"),
     ("half square knot", "half knot"), ("Reverse Half-Knot", "reverse half knot"),
     ("reverse square knot", "reverse square knot"), ("josephine knot", "josephine knot"),
     ("double coin knot", "josephine knot"), ("overhand knot", "overhand knot"),
     ("double overhand knot", "double overhand knot")],
)  # fmt: skip
def test_knots_in_groups(written: str, knot: str) -> None:
    """Knots tied within groups take groups by number or as lists."""
    tied = step_of(f"{{knot: {written}, groups: 1-8 by 4, times: 6}}")
    assert isinstance(tied, model.GroupKnot)
    assert (tied.knot, tied.times) == (knot, 6)
    assert members(tied.groups) == [(1, 2, 3, 4), (5, 6, 7, 8)]


def test_groups_as_lists() -> None:
    """A list of position lists is taken as it stands."""
    tied = step_of("{knot: square knot, groups: [[1, 3], 5-8]}")
    assert isinstance(tied, model.GroupKnot)
    assert members(tied.groups) == [(1, 3), (5, 6, 7, 8)]


def test_strands_are_one_group() -> None:
    """`strands` is one group, `all` among them; a clasp names its cord."""
    tied = step_of("{knot: square knot, strands: all, with: clay}")
    assert isinstance(tied, model.GroupKnot)
    assert tied.groups.members[0].everything
    assert tied.clasp == "clay"


def test_chain_and_berry() -> None:
    """A chain takes two strands, a berry says of how many square knots."""
    chain = step_of("{knot: half hitch chain, strands: 1-2, times: 20}")
    berry = step_of("{knot: bobble, strands: 1-4, of: 3}")
    assert isinstance(chain, model.GroupKnot)
    assert isinstance(berry, model.GroupKnot)
    assert (chain.times, berry.squares, berry.knot) == (20, 3, "berry knot")


def test_a_josephine_knot_may_be_laid_open() -> None:
    tight = step_of("{knot: josephine knot, strands: 1-4}")
    laid = step_of("{knot: double coin knot, strands: 1-4, size: 3 cm}")
    assert isinstance(tight, model.GroupKnot)
    assert isinstance(laid, model.GroupKnot)
    assert (tight.size_mm, laid.size_mm) == (0, 30)


@pytest.mark.parametrize(
    ("written", "knot"),
    [("lark's head", "lark's head"), ("cow hitch", "lark's head"), ("half hitch", "half hitch"),
     ("clove hitch", "clove hitch"), ("reverse lark`s head", "reverse lark's head")],
)  # fmt: skip
def test_knots_round_other_strands(written: str, knot: str) -> None:
    """One strand ties round the others."""
    tied = step_of(f'{{knot: "{written}", knotter: 1, around: 2-3, times: 6}}')
    assert isinstance(tied, model.AroundKnot)
    assert (tied.knot, items(tied.knotter), items(tied.around), tied.times) == (
        knot,
        (1,),
        (2, 3),
        6,
    )


def test_barrel_knots() -> None:
    """A barrel knot goes round others or round itself."""
    others = step_of("{knot: barrel knot, knotter: 3, around: 1-2, turns: 4}")
    alone = step_of("{knot: barrel knot, strands: 1, turns: 3}")
    assert isinstance(others, model.AroundKnot)
    assert isinstance(alone, model.AroundKnot)
    assert (items(others.around), others.turns) == ((1, 2), 4)
    assert (items(alone.knotter), alone.around, alone.turns) == ((1,), None, 3)


@pytest.mark.parametrize("name", ["gathering knot", "wrapping knot"])
def test_gathering_knot(name: str) -> None:
    """A separate piece is wrapped over a length."""
    tied = step_of(f"{{knot: {name}, wrap: CLAY, around: all, length: 3 cm}}")
    assert isinstance(tied, model.Gathering)
    assert (tied.wrap, tied.around.everything, tied.length_mm) == ("clay", True, 30)


def test_net() -> None:
    """A net says its knot, rows, sides and gap."""
    net = step_of("{net: 1-8 by 4, of: flat knot, rows: 9, sides: narrow, gap: 1 cm}")
    assert isinstance(net, model.Net)
    assert (net.of, net.rows, net.sides, net.gap_mm) == ("square knot", 9, "narrow", 10)
    assert members(net.groups) == [(1, 2, 3, 4), (5, 6, 7, 8)]


@pytest.mark.parametrize(
    ("written", "bundles"),
    [("1-3", [(1,), (2,), (3,)]), ("[1, 2, 3]", [(1,), (2,), (3,)]),
     ("[1-3, 4-5, 6-8]", [(1, 2, 3), (4, 5), (6, 7, 8)]), ("1-6 by 2", [(1, 2), (3, 4), (5, 6)])],
)  # fmt: skip
@pytest.mark.parametrize("kind", ["braid", "plait"])
def test_braid(kind: str, written: str, bundles: list[tuple[int, ...]]) -> None:
    """A braid has three strands or bundles and either a length or crossings."""
    braid = step_of(f"{{{kind}: {written}, length: 12 cm}}")
    assert isinstance(braid, model.Braid)
    assert (members(braid.bundles), braid.length_mm, braid.crossings) == (bundles, 120, None)
    counted = step_of(f"{{{kind}: {written}, crossings: 30}}")
    assert isinstance(counted, model.Braid)
    assert (counted.length_mm, counted.crossings) == (None, 30)


def test_turn_cross_space_picot_bead() -> None:
    """The steps that shape the work."""
    pin, beside = step_of("{turn: 4, around: pin}"), step_of("{turn: 4, around: 3}")
    assert isinstance(pin, model.Turn)
    assert isinstance(beside, model.Turn)
    assert (pin.around, items(beside.around)) == (None, (3,))
    cross = step_of("cross: [3, 4, 1, 2]")
    assert isinstance(cross, model.Cross)
    assert items(cross.order) == (3, 4, 1, 2)
    space = step_of("{space: 3 cm, groups: [1-2, 4]}")
    assert isinstance(space, model.Space)
    assert (space.length_mm, members(space.groups)) == (30, [(1, 2), (4,)])
    everywhere = step_of("space: 1 in")
    assert isinstance(everywhere, model.Space)
    assert (everywhere.length_mm, everywhere.groups) == (25.4, None)
    picot = step_of("{picot: 15 mm, strands: [1, 8]}")
    assert isinstance(picot, model.Picot)
    assert (picot.loop_mm, items(picot.strands)) == (15, (1, 8))
    bead = step_of("{bead: 2-3, size: 8 mm}")
    assert isinstance(bead, model.Bead)
    assert (items(bead.strands), bead.size_mm) == ((2, 3), 8)


def test_strands_that_come_and_go() -> None:
    """Added pieces, strands laid aside and taken up again."""
    add = step_of("{add: [2 clay, mud], at: 5, onto: 4, by: cow hitch, fold: fit}")
    assert isinstance(add, model.Add)
    assert [piece.cord for piece in add.pieces] == ["clay", "clay", "mud"]
    assert (items(add.at), items(add.onto), add.by, add.fold) == ((5,), (4,), "lark's head", "fit")
    aside = step_of("{lay aside: 3-4, leave: 12 cm}")
    assert isinstance(aside, model.LayAside)
    assert (items(aside.strands), aside.leave_mm) == ((3, 4), 120)
    back = step_of("{take up: [Reed.1a, clay.12b], at: 1}")
    assert isinstance(back, model.TakeUp)
    assert (back.strands, items(back.at)) == (("reed.1a", "clay.12b"), (1,))


def test_steps_of_the_whole() -> None:
    """Flip, seam, words, measuring, waiting, trimming."""
    assert isinstance(step_of("flip: piece"), model.Flip)
    seam, do = step_of("seam: 3"), step_of("do: Pin it.")
    assert isinstance(seam, model.Seam)
    assert isinstance(do, model.Do)
    assert (items(seam.at), do.text) == ((3,), "Pin it.")
    measure, wait = step_of("{measure: width, expect: 7 cm}"), step_of("wait: 10 min")
    assert isinstance(measure, model.Measure)
    assert isinstance(wait, model.Wait)
    assert (measure.what, measure.expect_mm, wait.time_s) == ("width", 70, 600)
    trim = step_of("{trim: all, leave: 1 cm, middle: 4 cm}")
    assert isinstance(trim, model.Trim)
    assert (trim.strands.everything, trim.leave_mm, trim.middle_mm) == (True, 10, 40)


def test_each_and_use() -> None:
    """Steps that hold or call others."""
    each = step_of("{each: 1-8 by 4, mirror: Every-Second, steps: [cross: [2, 1], use: motif]}")
    assert isinstance(each, model.Each)
    assert (each.mirror, [type(step) for step in each.steps]) == (
        "every second",
        [model.Cross, model.Use],
    )
    use = step_of("{use: Motif, times: 1000000000, mirror: all, returns: after 4}")
    assert isinstance(use, model.Use)
    assert (use.part, use.times, use.mirror, use.returns_after) == ("motif", 10**9, "all", 4)


def test_what_every_step_may_say_of_itself() -> None:
    """Note, name and time stand beside any kind."""
    about = step_of("{wait: 1 min, note: Look at the tide., name: rest, takes: 1-2 min}").about
    assert (about.note, about.name, about.takes_s) == ("Look at the tide.", "rest", (60, 120))
    assert step_of("{wait: 1 min, takes: 45 s}").about.takes_s == (45, 45)


def test_steps_in_one_file_keep_their_order() -> None:
    """The work is read from top to bottom, with the place of each kind key."""
    work = sound(with_work("do: a", "flip: piece", "{note: x, wait: 1 s}")).work
    assert [type(step) for step in work] == [model.Do, model.Flip, model.Wait]
    assert [step.about.span.column for step in work] == [5, 5, 15]
