"""The staged drawings: each one's crossings really make the knot that its words tell of."""

import re
from collections.abc import Iterator
from itertools import pairwise

import pytest
import reference

from coach.knots import names
from coach.knots.catalogue import CATALOGUE
from coach.knots.diagram import CordPath, Diagram, Meeting, NoDiagram
from coach.knots.explanation import KnotExplanation, explain_knot
from coach.knots.stages import STAGES


def last(knot: str) -> Diagram:
    return STAGES[knot][-1].diagram


def of(diagram: Diagram, role: str) -> list[int]:
    return [i for i, cord in enumerate(diagram.cords) if cord.role == role]


def with_others(diagram: Diagram, cord: int, others: list[int]) -> list[Meeting]:
    return [meeting for meeting in diagram.meetings()[cord] if meeting.other in others]


def signs(diagram: Diagram, one: str, other: str) -> list[int]:
    """Return the signs of the crossings of two roles, in the first one's order."""
    found = with_others(diagram, of(diagram, one)[0], of(diagram, other))
    return [meeting.sign for meeting in found]


def turns_round(knot: str) -> float:
    """Return how often the knotter goes round its filler or holder, by linking.

    A crossing that only goes past, as a straight cord would, is left out of the sum.
    """
    found = signs(last(knot), "knotter", "filler")
    return sum(found[len(found) % 2 :]) / 2


def determinant(meetings: tuple[tuple[Meeting, ...], ...], joined: list[tuple[int, bool]]) -> int:
    """Return the determinant of the knot that cords make when joined end to end.

    `joined` are the cords in the order they are run through, each with whether it is run backward.
    The number is that of the colouring matrix: at each crossing 2 over - under before - under
    after. 1 is no knot at all, 3 the trefoil, 5 the five-crossing torus knot (ideal-knot tables).
    """
    run = [
        meeting
        for cord, backward in joined
        for meeting in (meetings[cord][::-1] if backward else meetings[cord])
        if meeting.other in {number for number, _ in joined}
    ]
    under = [meeting.at for meeting in run if not meeting.over]
    arcs, arc = {}, 0
    ends = {}
    for meeting in run:
        if meeting.over:
            arcs[meeting.at] = arc
        else:
            ends[meeting.at] = (arc, (arc + 1) % len(under))
            arc = (arc + 1) % len(under)
    rows = []
    for at in under:
        row = [0] * len(under)
        row[arcs[at]] += 2
        for end in ends[at]:
            row[end] -= 1
        rows.append(row[:-1])
    return reference.determinant(rows[:-1]) if len(rows) > 1 else 1


def alternates(met: tuple[Meeting, ...]) -> bool:
    return all(a.over != b.over for a, b in pairwise(met))


def every_diagram() -> Iterator[Diagram]:
    for knot in names.KNOTS:
        for side in ("left", "right"):
            yield from (stage.diagram for stage in explain_knot(knot, side).stages)


def test_every_diagram_is_sound() -> None:
    """Cords only cross straight, level over or under upright, on both sides."""
    for diagram in every_diagram():
        met = diagram.meetings()
        assert sum(m.over for each in met for m in each) * 2 == sum(map(len, met))


def test_a_cord_laid_along_another_is_refused() -> None:
    along = (CordPath("knotter", ((0, 0), (0, 3))), CordPath("filler", ((0, 2), (0, 5))))
    with pytest.raises(NoDiagram, match="lie on each other"):
        Diagram(along).meetings()
    with pytest.raises(NoDiagram, match="nothing crosses"):
        Diagram(along[:1], frozenset({(0, 1)})).meetings()


@pytest.mark.parametrize("knot", names.KNOTS)
def test_the_stages_show_all_the_words_in_their_order(knot: str) -> None:
    told = [step for stage in STAGES[knot] for step in stage.steps]
    assert told == list(range(len(CATALOGUE[knot].steps)))


def test_a_clove_hitch_is_two_half_hitches_of_one_sense() -> None:
    """Each end is looped twice round the cord: T. de Dillmont, p. 348 fig. 519 (read).

    Ashley nos 1176-1180 and, for one half hitch, 1185 (quoted).
    """
    assert abs(turns_round(names.HALF_HITCH)) == 1
    assert abs(turns_round(names.CLOVE)) == abs(turns_round(names.REVERSE_CLOVE)) == 2
    assert len(set(signs(last(names.CLOVE), "knotter", "filler"))) == 1
    first = STAGES[names.CLOVE][1].diagram
    assert len(set(signs(first, "knotter", "filler"))) == 1
    assert abs(sum(signs(first, "knotter", "filler"))) == 3


def test_a_holder_lies_over_the_knotter_that_hangs_behind_it() -> None:
    before = STAGES[names.CLOVE][0].diagram
    assert [meeting.over for meeting in before.meetings()[0]] == [True]


def test_a_larks_head_is_two_half_hitches_that_face_each_other() -> None:
    """Ashley nos 5, 59, 1184 (quoted); that its halves are of opposite sense is common practice."""
    for knot in (names.LARKS_HEAD, names.REVERSE_LARKS_HEAD):
        found = signs(last(knot), "knotter", "filler")
        assert found[0] == found[1] == -found[2] == -found[3]
    for knot, over in ((names.LARKS_HEAD, True), (names.REVERSE_LARKS_HEAD, False)):
        met = with_others(last(knot), of(last(knot), "knotter")[0], of(last(knot), "filler"))
        assert [meeting.over for meeting in met] == [over, not over, not over, over]


def test_each_hitch_locks_on_its_own_lead() -> None:
    """The end comes out over the lead; the second half of a lark's head goes down under it."""
    knotter = of(last(names.LARKS_HEAD), "knotter")[0]
    own = with_others(last(names.LARKS_HEAD), knotter, [knotter])
    assert [meeting.over for meeting in own] == [False, True, True, False]


def test_a_half_knot_is_an_overhand_knot_of_two_ends() -> None:
    """Ashley no. 1183 (quoted): joined above and below, its two ends make a trefoil."""
    diagram = last(names.HALF_KNOT)
    left, right = of(diagram, "knotter")[0], of(diagram, "second knotter")[0]
    assert len(set(signs(diagram, "knotter", "second knotter"))) == 1
    assert determinant(diagram.meetings(), [(left, False), (right, True)]) == 3


def test_a_half_knot_exchanges_sides_and_a_square_knot_puts_them_back() -> None:
    """T. de Dillmont, p. 347 fig. 516 (read): the outer two cross over the inner two and back."""
    for knot, same in ((names.HALF_KNOT, False), (names.SQUARE, True)):
        diagram = last(knot)
        left, right = of(diagram, "knotter")[0], of(diagram, "second knotter")[0]
        below = [diagram.cords[i].corners[-1][0] for i in (left, right)]
        above = [diagram.cords[i].corners[0][0] for i in (left, right)]
        assert (above == sorted(above)) is True
        assert (below == sorted(below)) is same


def test_the_halves_of_a_square_knot_are_mirror_images() -> None:
    """Reef and not granny: Ashley nos 74, 1204, 1402 (quoted)."""
    found = signs(last(names.SQUARE), "knotter", "second knotter")
    assert found[:3] == [found[0]] * 3
    assert found[3:] == [-found[0]] * 3


def test_one_strand_of_a_half_knot_goes_over_all_fillers_and_the_other_under() -> None:
    """T. de Dillmont, pp. 351-352 fig. 531 (read): one half repeated; here what one half is."""
    for knot in (names.HALF_KNOT, names.REVERSE_HALF_KNOT, names.SQUARE):
        diagram = last(knot)
        for role, over in (("knotter", True), ("second knotter", False)):
            met = with_others(diagram, of(diagram, role)[0], of(diagram, "filler"))
            assert met
            assert {meeting.over for meeting in met} == {over}


def test_a_reverse_knot_is_the_mirror_image() -> None:
    for knot, other in names.MIRRORED.items():
        mirrored = [-sign for sign in signs(last(knot), "knotter", "second knotter")]
        assert signs(last(other), "knotter", "second knotter") == mirrored
        assert explain_knot(knot, "left").knot == explain_knot(other, "left").knot


def test_overhand_knots_close_to_torus_knots() -> None:
    """Ashley nos 514-515 and 516 (quoted); trefoil and five-crossing knot (ideal-knot tables)."""
    for knot, number, crossings in ((names.OVERHAND, 3, 3), (names.DOUBLE_OVERHAND, 5, 5)):
        met = last(knot).meetings()
        assert len(met[0]) == 2 * crossings
        assert alternates(met[0])
        assert len({meeting.sign for meeting in met[0]}) == 1
        assert determinant(met, [(0, False)]) == number


def test_a_single_hitch_comes_undone_when_its_filler_is_gone() -> None:
    for knot in (names.HALF_HITCH, names.CLOVE, names.LARKS_HEAD):
        diagram = last(knot)
        assert determinant(diagram.meetings(), [(of(diagram, "knotter")[0], False)]) == 1


def test_a_chain_changes_over_which_strand_goes_round() -> None:
    """Each strand makes one half hitch round the other and crosses itself once in it."""
    diagram = last(names.CHAIN)
    for cord, met in enumerate(diagram.meetings()):
        assert sum(meeting.other == cord for meeting in met) == 2
        assert sum(meeting.other != cord for meeting in met) == 4
    first = STAGES[names.CHAIN][0].diagram.meetings()
    assert [sum(m.other == i for m in met) for i, met in enumerate(first)] == [2, 0]


def test_a_josephine_knot_is_woven_over_and_under_throughout() -> None:
    """Eight crossings, alternating along both halves, each half crossing itself once."""
    met = last(names.JOSEPHINE).meetings()
    assert sum(map(len, met)) == 16
    assert all(map(alternates, met))
    for cord, each in enumerate(met):
        assert sum(meeting.other == cord for meeting in each) == 2
    right = [meeting.over for meeting in met[1]]
    rims_end_lead_back = [False, True, False, True, False, True, False, True]
    assert right == rims_end_lead_back


def test_a_barrel_knot_has_its_turns_and_the_end_lies_inside_them() -> None:
    diagram = last(names.BARREL)
    assert abs(turns_round(names.BARREL)) == 3 * len(of(diagram, "filler"))
    knotter = of(diagram, "knotter")[0]
    end = [m for m in diagram.meetings()[knotter] if m.other == knotter and m.at[0] == 2][-7:]
    assert [meeting.over for meeting in end] == [True, False, True, False, True, False, True]


def test_a_gathering_knot_winds_over_its_own_loop_and_ends_through_it() -> None:
    diagram = STAGES[names.GATHERING][2].diagram
    knotter = of(diagram, "knotter")[0]
    bundle = with_others(diagram, knotter, of(diagram, "filler"))
    assert abs(sum(meeting.sign for meeting in bundle)) / 2 == 3 * len(of(diagram, "filler"))
    assert [meeting.over for meeting in diagram.meetings()[knotter][-2:]] == [False, True]


def test_the_fillers_of_a_berry_knot_turn_back_over_themselves_through_the_gap() -> None:
    diagram = STAGES[names.BERRY][1].diagram
    for filler in of(diagram, "filler"):
        own = with_others(diagram, filler, [filler])
        assert [meeting.over for meeting in own] == [False, True]


@pytest.mark.parametrize("knot", names.KNOTS)
def test_words_and_drawing_change_sides_together(knot: str) -> None:
    left, right = explain_knot(knot, "left"), explain_knot(knot, "right")
    if left.knot == right.knot:
        assert all(
            a.diagram.mirrored() == b.diagram
            for a, b in zip(left.stages, right.stages, strict=True)
        )
    exchange = {"left": "right", "right": "left"}
    swapped = [re.sub("left|right", lambda found: exchange[found[0]], word) for word in words(left)]
    assert swapped == words(right)


def words(told: KnotExplanation) -> list[str]:
    return [word.lower() for stage in told.stages for word in stage.words]
