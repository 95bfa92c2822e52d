"""Each fault of a step is told once, in its place."""

import pytest
from project_texts import told


@pytest.mark.parametrize(
    ("step", "expected"),
    [
        ("{row: clov hitch, holder: 1, across: 2}", [("KNOT", "clov hitch")]),
        ("{row: square knot, holder: 1, across: 2}", [("KNOT", "square knot")]),
        ("{row: clove hitch, knotter: 1, across: 2}", [("ROLE", "knotter")]),
        ("{row: reverse clove hitch, holder: 1, across: 2}", [("ROLE", "holder")]),
        ("{row: half hitch, holder: 1, knotter: 3, across: 2}", [("EXCLUSIVE", "knotter")]),
        ("{row: half hitch, holder: 1, knot bearer: 3, across: 2}", [("DUPLICATE", "knot bearer")]),
        ("{row: clove hitch, across: 2}", [("MISSING-KEY", "row")]),
        ("{row: clove hitch, holder: 1, acros: 2}", [("UNKNOWN-KEY", "acros")]),
        ("{row: clove hitch, holder: 1-2, across: 3}", [("POSITION", "1-2")]),
        ("{row: clove hitch, holder: 1, across: 0-5}", [("POSITION", "0-5")]),
        ("{row: clove hitch, holder: 1, across: 2-5001}", [("POSITION", "2-5001")]),
        ("{row: clove hitch, holder: 1, across: [2, 2]}", [("POSITION", "[2, 2]")]),
        ("{row: clove hitch, holder: 1, across: []}", [("POSITION", "[]")]),
        ("{row: clove hitch, holder: 1, across: 2, times: 0}", [("NUMBER", "0")]),
        ("{row: clove hitch, holder: 1, across: 2, lie: flat}", [("CHOICE", "flat")]),
        ("{row: cow hitch, holder: 1, across: 2, lie: level, slope: 9°}", [("EXCLUSIVE", "slope")]),
        ("{weave: 1, across: 2-4, knots: [2 clove hitch]}", [("COUNT", "[2 clove hitch]")]),
        ("{weave: 1, across: 2, knots: half hitch}", [("KNOT", "half hitch")]),
        ("{weave: 1, across: 2, knots: 99999 clove hitch}", [("COUNT", "99999 clove hitch")]),
        ("{knot: vertical lark's head, knotter: 1, around: 2}", [("KNOT", "vertical lark's head")]),
        ("{knot: half hitch chain, strands: 1-3}", [("GROUPS", "1-3")]),
        ("{knot: square knot, groups: 1-4 by 1}", [("GROUPS", "1-4 by 1")]),
        ("{knot: josephine knot, strands: 1-3}", [("GROUPS", "1-3")]),
        ("{knot: square knot, groups: [1-4, 4-8]}", [("GROUPS", "[1-4, 4-8]")]),
        ("{knot: square knot, groups: [all, 4-8]}", [("GROUPS", "[all, 4-8]")]),
        ("{knot: square knot, groups: 1-7 by 4}", [("GROUPS", "1-7 by 4")]),
        ("{knot: square knot, groups: 1-8}", [("GROUPS", "1-8")]),
        ("{knot: square knot, groups: 1-8 by 4, strands: 1}", [("EXCLUSIVE", "groups")]),
        ("{knot: square knot, strands: 1-4, with: cley}", [("CORD", "cley")]),
        ("{knot: barrel knot, strands: 1, around: 2, turns: 3}", [("EXCLUSIVE", "around")]),
        ("{net: 1-9 by 3, of: square knot, rows: 2}", [("GROUPS", "1-9 by 3")]),
        ("{net: [1-4, 7-10], of: square knot, rows: 2}", [("GROUPS", "[1-4, 7-10]")]),
        ("{net: 1-8 by 4, of: berry knot, rows: 2}", [("KNOT", "berry knot")]),
        ("{braid: 1-4, length: 1 cm}", [("GROUPS", "1-4")]),
        ("{braid: all, length: 1 cm}", [("GROUPS", "all")]),
        ("{braid: 1-3, length: 1 cm, crossings: 6}", [("EXCLUSIVE", "crossings")]),
        ("{braid: 1-3}", [("MISSING-KEY", "braid")]),
        ("{add: [clay.1], at: 1}", [("NAME", "clay.1")]),
        ("{add: [0 clay], at: 1}", [("NUMBER", "0 clay")]),
        ("{add: [99999999 clay], at: 1}", [("NUMBER", "99999999 clay")]),
        ("{add: [], at: 1}", [("EMPTY", "[]")]),
        ("{take up: reed, at: 1}", [("NAME", "reed")]),
        ("{take up: reed.5a, at: 1}", [("PIECES", "reed.5a")]),
        ("{each: 1-4 by 2, steps: [flip: piece]}", [("FLIP", "flip")]),
        ("{each: 1-4 by 2, steps: []}", [("SHAPE", "[]")]),
        ("{use: motiv}", [("PART", "motiv")]),
        ("{use: motif, returns: soon}", [("NUMBER", "soon")]),
        ("{use: motif, mirror: sometimes}", [("CHOICE", "sometimes")]),
        ("{do: ''}", [("EMPTY", "''")]),
        ("{do: [a]}", [("SHAPE", "[a]")]),
        ("{wait: 3 cm}", [("QUANTITY", "3 cm")]),
        ("{wait: 2,5 min}", [("QUANTITY", "2,5 min")]),
        ("{bead: 1, size: 0 mm}", [("QUANTITY", "0 mm")]),
        ("{roww: clove hitch, holder: 1}", [("KIND", "roww")]),
        ("{holder: 1}", [("KIND", "holder")]),
        ("{strands: 1-4, knots: square knot}", [("KIND", "knots")]),
        ("{do: x, wait: 1 min}", [("KIND", "wait")]),
        ("pin it down", [("KIND", "pin it down")]),
    ],
)  # fmt: skip
def test_each_fault_of_a_step_is_told_once_in_its_place(
    step: str, expected: list[tuple[str, str]]
) -> None:
    """One fault gives one problem, which points at the words that are wrong."""
    assert told(step) == expected
