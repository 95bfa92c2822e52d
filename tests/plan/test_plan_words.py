"""Every kind of step in words, worked plainly and mirrored."""

import pytest
from planned import said


@pytest.mark.parametrize(
    ("step", "plain", "mirrored"),
    [
        (
            "row: clove hitch, holder: 1, across: 2-4",
            ("Hold strand 1 (reed) to the right. Strands 2 to 4 each tie a clove hitch onto it; "
             "now strand 2 (clay)."),
            ("Hold strand 4 (reed) to the left. Strands 3 down to 1 each tie a clove hitch onto "
             "it; now strand 3 (clay)."),
        ),
        (
            "row: clove hitch, holder: 3, across: 2",
            "Hold strand 3 (clay) to the left. Strand 2 (clay) ties a clove hitch onto it.",
            "Hold strand 2 (clay) to the right. Strand 3 (clay) ties a clove hitch onto it.",
        ),
        (
            "row: reverse clove hitch, knotter: 4, across: 3-2",
            ("Take strand 4 (reed) to the left, tying a reverse clove hitch (vertical clove "
             "hitch) round each of strands 3 and 2; now round strand 3 (clay)."),
            ("Take strand 1 (reed) to the right, tying a reverse clove hitch (vertical clove "
             "hitch) round each of strands 2 and 3; now round strand 2 (clay)."),
        ),
        (
            "knot: square knot, strands: 1-4",
            ("Square knot round strands 2 and 3: strand 1 (reed) goes over first, then strand 4 "
             "(reed)."),
            ("Reverse square knot round strands 2 and 3: strand 4 (reed) goes over first, then "
             "strand 1 (reed)."),
        ),
        (
            "knot: half knot, strands: 1-3",
            "Half knot round strand 2 (clay): strand 1 (reed) goes over, strand 3 (clay) under.",
            ("Reverse half knot round strand 3 (clay): strand 4 (reed) goes over, strand 2 "
             "(clay) under."),
        ),
        (
            "knot: half hitch chain, strands: 1-2",
            "Half hitch chain: strand 1 (reed) hitches round strand 2 (clay).",
            "Half hitch chain: strand 4 (reed) hitches round strand 3 (clay).",
        ),
        (
            "knot: lark's head, knotter: 1, around: 2-3",
            "Strand 1 (reed) ties a lark's head round strands 2 and 3.",
            "Strand 4 (reed) ties a lark's head round strands 2 and 3.",
        ),
        (
            "knot: barrel knot, knotter: 1, around: 2, turns: 4",
            "Strand 1 (reed) ties a barrel knot of four turns round strand 2 (clay).",
            "Strand 4 (reed) ties a barrel knot of four turns round strand 3 (clay).",
        ),
        (
            "knot: barrel knot, strands: 1, turns: 4",
            "Tie a barrel knot of four turns in strand 1 (reed).",
            "Tie a barrel knot of four turns in strand 4 (reed).",
        ),
        (
            "knot: josephine knot, strands: 1-2",
            "Tie a josephine knot: strand 1 (reed) interlaces with strand 2 (clay).",
            "Tie a josephine knot: strand 3 (clay) interlaces with strand 4 (reed).",
        ),
        (
            "knot: josephine knot, strands: 1-2, size: 3 cm",
            ("Tie an open josephine knot 3 cm high: strand 1 (reed) interlaces with strand 2 "
             "(clay)."),
            ("Tie an open josephine knot 3 cm high: strand 3 (clay) interlaces with strand 4 "
             "(reed)."),
        ),
        (
            "knot: overhand knot, strands: 1-3",
            "Tie an overhand knot with strands 1 to 3 together.",
            "Tie an overhand knot with strands 2 to 4 together.",
        ),
        (
            "knot: overhand knot, strands: 1",
            "Tie an overhand knot in strand 1 (reed).",
            "Tie an overhand knot in strand 4 (reed).",
        ),
        (
            "knot: gathering knot, wrap: clay, around: 1-2, length: 3 cm",
            ("Tie a 3 cm gathering knot round strands 1 and 2 with a length of clay. Put the "
             "strands back in order below it."),
            ("Tie a 3 cm gathering knot round strands 3 and 4 with a length of clay. Put the "
             "strands back in order below it."),
        ),
        (
            "knot: berry knot, strands: 1-4, of: 3",
            ("Berry knot round strands 2 and 3: tie three square knots with strand 1 (reed) and "
             "strand 4 (reed), roll them up and lock them with one more."),
            ("Berry knot round strands 2 and 3: tie three square knots with strand 1 (reed) and "
             "strand 4 (reed), roll them up and lock them with one more."),
        ),
        (
            "braid: 1-3, length: 12 cm",
            ("Plait strands 1, 2 and 3 for 12 cm, right-hand strand first over the middle; "
             "finish after a multiple of six crossings."),
            ("Plait strands 2, 3 and 4 for 12 cm, left-hand strand first over the middle; finish "
             "after a multiple of six crossings."),
        ),
        (
            "braid: [1-2, 3, 4], length: 12 cm",
            ("Plait strands 1-2, 3 and 4 for 12 cm, right-hand bundle first over the middle; "
             "finish after a multiple of six crossings."),
            ("Plait strands 1, 2 and 3-4 for 12 cm, left-hand bundle first over the middle; "
             "finish after a multiple of six crossings."),
        ),
        (
            "turn: 2, around: 1",
            "Turn strand 2 (clay) over strand 1 (reed) and back under it.",
            "Turn strand 3 (clay) over strand 4 (reed) and back under it.",
        ),
        (
            "turn: 2, around: pin",
            "Turn strand 2 (clay) back round a pin.",
            "Turn strand 3 (clay) back round a pin.",
        ),
        (
            "cross: [2, 3, 1]",
            "Cross strands 1 to 3 without a knot; from the left they are now 2, 3, 1.",
            "Cross strands 2 to 4 without a knot; from the left they are now 4, 2, 3.",
        ),
        (
            "cross: [1, 2]",
            "Leave the strands in order.",
            "Leave the strands in order.",
        ),
        (
            "space: 3 cm, strands: 1-2",
            "Leave a 3 cm gap on strands 1 and 2.",
            "Leave a 3 cm gap on strands 3 and 4.",
        ),
        (
            "picot: 15 mm, strands: 1",
            "Leave a loop of 15 mm of cord on strand 1 (reed).",
            "Leave a loop of 15 mm of cord on strand 4 (reed).",
        ),
        (
            "bead: 1-2, size: 8 mm",
            "Thread strands 1 and 2 through an 8 mm bead.",
            "Thread strands 3 and 4 through an 8 mm bead.",
        ),
        (
            "add: [2 clay], at: 1, onto: 1",
            "Hang two clay cords on strand 1 (reed), each with a lark's head, as strands 1 to 4.",
            "Hang two clay cords on strand 4 (reed), each with a lark's head, as strands 5 to 8.",
        ),
        (
            "add: [clay], at: 2",
            "Add one clay cord as strands 2 and 3.",
            "Add one clay cord as strands 4 and 5.",
        ),
        (
            "add: [clay], at: 2, onto: 1, by: looped through",
            "Loop one clay cord over strand 1 (reed), as strands 2 and 3.",
            "Loop one clay cord over strand 4 (reed), as strands 4 and 5.",
        ),
        (
            "lay aside: 1",
            "Lay strand 1 (reed) aside for now.",
            "Lay strand 4 (reed) aside for now.",
        ),
        (
            "flip: piece",
            "Turn the whole work over from side to side; right becomes left.",
            "Turn the whole work over from side to side; right becomes left.",
        ),
        (
            "measure: length, expect: 7 cm",
            "Measure the length; it should be about 7 cm.",
            "Measure the length; it should be about 7 cm.",
        ),
        (
            "measure: width",
            "Measure the width.",
            "Measure the width.",
        ),
        (
            "wait: 10 min",
            "Wait 10 min.",
            "Wait 10 min.",
        ),
        (
            "do: Pin the fold.",
            "Pin the fold.",
            "Pin the fold.",
        ),
        (
            "trim: 1-3, leave: 1 cm",
            "Trim strands 1 to 3, leaving 10 mm.",
            "Trim strands 2 to 4, leaving 10 mm.",
        ),
        (
            "trim: all, leave: 2 cm, middle: 4 cm",
            "Trim all ends in straight lines, from 2 cm at the sides to 4 cm in the middle.",
            "Trim all ends in straight lines, from 2 cm at the sides to 4 cm in the middle.",
        ),
    ],
)  # fmt: skip
def test_step_is_told_as_it_is_worked_plain_and_mirrored(
    step: str, plain: str, mirrored: str
) -> None:
    assert said(step)[0] == plain
    assert said(step, mirror=True)[0] == mirrored
