"""Every kind of step in words, worked plainly and mirrored."""

import pytest
from planned import said


@pytest.mark.parametrize(
    ("step", "plain", "mirrored"),
    [
        (
            "row: clove hitch, holder: 1, across: 2-4",
            ("Hold strand 1 (reed) to the right. 2 to 4 each tie a clove hitch onto it; "
            "now strand 2 (clay)."),
            ("Hold strand 4 (reed) to the left. 3 to 1 each tie a clove hitch onto it; "
            "now strand 3 (clay)."),
        ),
        (
            "row: clove hitch, holder: 3, across: 2",
            "Hold strand 3 (clay) to the left. 2 ties a clove hitch onto it; now strand 2 (clay).",
            "Hold strand 2 (clay) to the right. 3 ties a clove hitch onto it; now strand 3 (clay).",
        ),
        (
            "row: reverse clove hitch, knotter: 4, across: 3-2",
            ("Take strand 4 (reed) to the left. It ties a reverse clove hitch (vertical "
            "clove hitch) round 3 and 2; now strand 3 (clay)."),
            ("Take strand 1 (reed) to the right. It ties a reverse clove hitch (vertical "
            "clove hitch) round 2 and 3; now strand 2 (clay)."),
        ),
        (
            "knot: square knot, strands: 1-4",
            "Square knot round 2 and 3: strand 1 (reed) first over, then strand 4 (reed).",
            "Reverse square knot round 2 and 3: strand 4 (reed) first over, then strand 1 (reed).",
        ),
        (
            "knot: half knot, strands: 1-3",
            "Half knot round 2: strand 1 (reed) goes over, strand 3 (clay) under.",
            "Reverse half knot round 3: strand 4 (reed) goes over, strand 2 (clay) under.",
        ),
        (
            "knot: half hitch chain, strands: 1-2",
            "Hitch in turn: now strand 1 (reed) ties a half hitch round strand 2 (clay).",
            "Hitch in turn: now strand 4 (reed) ties a half hitch round strand 3 (clay).",
        ),
        (
            "knot: lark's head, knotter: 1, around: 2-3",
            "Strand 1 (reed) ties a lark's head round 2 and 3.",
            "Strand 4 (reed) ties a lark's head round 2 and 3.",
        ),
        (
            "knot: barrel knot, knotter: 1, around: 2, turns: 4",
            "Strand 1 (reed) ties a barrel knot of 4 turns round 2.",
            "Strand 4 (reed) ties a barrel knot of 4 turns round 3.",
        ),
        (
            "knot: barrel knot, strands: 1, turns: 4",
            "Strand 1 (reed) ties a barrel knot of 4 turns on itself.",
            "Strand 4 (reed) ties a barrel knot of 4 turns on itself.",
        ),
        (
            "knot: josephine knot, strands: 1-2",
            "Tie a josephine knot: 1 interlaces with 2.",
            "Tie a josephine knot: 3 interlaces with 4.",
        ),
        (
            "knot: josephine knot, strands: 1-2, size: 3 cm",
            "Tie a josephine knot, open, 3 cm high: 1 interlaces with 2.",
            "Tie a josephine knot, open, 3 cm high: 3 interlaces with 4.",
        ),
        (
            "knot: overhand knot, strands: 1-3",
            "Tie an overhand knot with 1 to 3 as one.",
            "Tie an overhand knot with 2 to 4 as one.",
        ),
        ("knot: overhand knot, strands: 1", "Tie an overhand knot in 1.",
         "Tie an overhand knot in 4."),
        (
            "knot: gathering knot, wrap: clay, around: 1-2, length: 3 cm",
            ("Wrap a new piece of clay round 1 and 2 over 3 cm: a gathering knot. "
            "Sort the strands out again below it."),
            ("Wrap a new piece of clay round 3 and 4 over 3 cm: a gathering knot. "
            "Sort the strands out again below it."),
        ),
        (
            "knot: berry knot, strands: 1-4, of: 3",
            ("Berry knot round 2 and 3: 3 square knots with strand 1 (reed) and strand 4 (reed), "
            "brought up and locked with one more."),
            ("Berry knot round 2 and 3: 3 square knots with strand 1 (reed) and strand 4 (reed), "
            "brought up and locked with one more."),
        ),
        (
            "braid: 1-3, length: 12 cm",
            ("Plait 1, 2 and 3 for 12 cm, the outer right one first into the middle, "
            "in whole turns of six crossings."),
            ("Plait 2, 3 and 4 for 12 cm, the outer left one first into the middle, "
            "in whole turns of six crossings."),
        ),
        (
            "braid: [1-2, 3, 4], length: 12 cm",
            ("Plait 1-2, 3 and 4 for 12 cm, the outer right one first into the middle, "
            "in whole turns of six crossings."),
            ("Plait 1, 2 and 3-4 for 12 cm, the outer left one first into the middle, "
            "in whole turns of six crossings."),
        ),
        (
            "turn: 2, around: 1",
            "Turn strand 2 (clay) over strand 1 (reed) and back under it.",
            "Turn strand 3 (clay) over strand 4 (reed) and back under it.",
        ),
        (
            "turn: 2, around: pin",
            "Turn strand 2 (clay) round a pin, to go back the other way.",
            "Turn strand 3 (clay) round a pin, to go back the other way.",
        ),
        (
            "cross: [2, 3, 1]",
            "Let 1 to 3 change places, with no knot: from the left now 2, 3, 1.",
            "Let 2 to 4 change places, with no knot: from the left now 4, 2, 3.",
        ),
        ("cross: [1, 2]", "Leave the strands in their order.", "Leave the strands in their order."),
        ("space: 3 cm, strands: 1-2", "Leave 3 cm unknotted on 1 and 2.",
         "Leave 3 cm unknotted on 3 and 4."),
        ("picot: 15 mm, strands: 1", "Leave a loop of 15 mm of cord standing out on 1.",
         "Leave a loop of 15 mm of cord standing out on 4."),
        ("bead: 1-2, size: 8 mm", "Thread 1 and 2 through a bead of 8 mm.",
         "Thread 3 and 4 through a bead of 8 mm."),
        (
            "add: [2 clay], at: 1, onto: 1",
            "Hang clay.2 and clay.3 onto strand 1 (reed), by a lark's head, to stand at 1 to 4.",
            "Hang clay.2 and clay.3 onto strand 4 (reed), by a lark's head, to stand at 5 to 8.",
        ),
        ("add: [clay], at: 2", "Lay in clay.2, to stand at 2 and 3.",
         "Lay in clay.2, to stand at 4 and 5."),
        (
            "add: [clay], at: 2, onto: 1, by: looped through",
            "Hang clay.2 onto strand 1 (reed), looped through, to stand at 2 and 3.",
            "Hang clay.2 onto strand 4 (reed), looped through, to stand at 4 and 5.",
        ),
        ("lay aside: 1", "Lay aside 1: done for now.", "Lay aside 4: done for now."),
        ("flip: piece", "Turn the whole work over; what was right is left now.",
         "Turn the whole work over; what was right is left now."),
        ("measure: length, expect: 7 cm", "Measure the length; it should be about 7 cm.",
         "Measure the length; it should be about 7 cm."),
        ("measure: width", "Measure the width.", "Measure the width."),
        ("wait: 10 min", "Wait 10 min.", "Wait 10 min."),
        ("do: Pin the fold.", "Pin the fold.", "Pin the fold."),
        ("trim: 1-3, leave: 1 cm", "Cut 1 to 3 off 10 mm below the last knot.",
         "Cut 2 to 4 off 10 mm below the last knot."),
        (
            "trim: all, leave: 2 cm, middle: 4 cm",
            "Cut 1 to 4 in a straight line from 2 cm at the sides to 4 cm in the middle.",
            "Cut 1 to 4 in a straight line from 2 cm at the sides to 4 cm in the middle.",
        ),
    ],
)  # fmt: skip
def test_step_is_told_as_it_is_worked_plain_and_mirrored(
    step: str, plain: str, mirrored: str
) -> None:
    assert said(step)[0] == plain
    assert said(step, mirror=True)[0] == mirrored
