"""Head, cords, start, parts, size and measured figures, and how they hold together."""

import pytest
from project_texts import HEAD, PARTS, problems_of, sound, with_work

from coach.project import model
from coach.project.read import read_project

KEYRING = """\
coach: 1                        # the format
title: Reed keyring
about: A small pull for a key, for the stall by the marsh.
kind: Keyring                   # a comment with a space is one
skill: beginner
surface: board and pins
tools: [scissors, tape measure, board, pins]
findings: [30 mm key ring]
takes: 20-30 min
cautions: [Keep loose ends away from a candle.]
cords:
  reed: {colour: "#5b7f3a", fibre: cotton, diameter: 2 mm, pieces: 1}
  clay: {colour: sienna, fibre: cotton, diameter: 2 mm, pieces: 2, tail: 12 cm}
start:
  nest: [reed, 2 clay]
  on: ring
  diameter: 30 mm
  by: lark's head
  round: yes
  before_fold: [{braid: 1-3, length: 4 cm}]
margin: 15 %
parts:
  motif:
    - {row: clove hitch, holder: 1, across: 2-3}
work:
  - {use: motif, times: 8}
  - {knot: square knot, strands: 1-4, times: 6, name: stem}
size:
  length: 18 cm
  wish: 20 cm
  state: relaxed
  vary: motif
  least: 3
  step: 2
measured:
  - {part: motif, length: 16 mm, uses: {reed: 9 cm, clay: 6 cm}}
  - {knot: clove hitch, cord: reed, times: 20, uses: 26 cm, length: 44 mm}
"""


def test_a_whole_file_is_read() -> None:
    """Everything that a file says stands in the model, in mm and seconds."""
    project = sound(KEYRING)
    assert (project.title, project.kind, project.skill) == ("Reed keyring", "keyring", "beginner")
    assert project.tools == ("scissors", "tape measure", "board", "pins")
    assert (project.takes_s, project.margin) == ((1200, 1800), 0.15)
    assert project.cautions == ("Keep loose ends away from a candle.",)
    reed, clay = project.cords["reed"], project.cords["clay"]
    assert (reed.colour, reed.fibre, reed.diameter_mm, reed.pieces) == ("#5b7f3a", "cotton", 2, 1)
    assert (clay.colour, clay.colour_name, clay.tail_mm) == ("#a0522d", "sienna", 120)
    start = project.start
    assert [piece.cord for piece in start.pieces] == ["reed", "clay", "clay"]
    assert (start.layout, start.on, start.diameter_mm) == ("nest", "ring", 30)
    assert (start.by, start.closed) == ("lark's head", True)
    assert isinstance(start.before_fold[0], model.Braid)
    size = project.size
    assert size is not None
    assert (size.length_mm, size.state, size.vary, size.least, size.step) == (
        180, "relaxed", "motif", 3, 2,
    )  # fmt: skip
    assert size.wish_mm == 200
    part, swatch = project.measured
    assert isinstance(part, model.MeasuredPart)
    assert isinstance(swatch, model.Swatch)
    assert (part.length_mm, dict(part.uses_mm)) == (16, {"reed": 90, "clay": 60})
    assert (swatch.knot, swatch.times, swatch.uses_mm, swatch.length_mm) == (
        "clove hitch", 20, 260, 44,
    )  # fmt: skip


def test_what_is_left_out_has_its_default() -> None:
    """A short file is a whole one."""
    project = sound(with_work("do: Begin."))
    assert (project.kind, project.margin, project.takes_s) == ("other", None, None)
    assert (project.start.on, project.start.by, project.start.closed) == ("board", "", False)
    reed, mud = project.cords["reed"], project.cords["mud"]
    assert (reed.fold, reed.tail_mm, project.cords["clay"].pieces) == ("middle", 100, None)
    assert (mud.fold, mud.lead_mm) == ("none", 120)
    assert project.size is None


def test_words_stay_words() -> None:
    """No title or note turns into a truth value, a number or a time of day."""
    assert sound(with_work("do: yes").replace("Tide pull", "012")).title == "012"
    step = sound(with_work("do: 1:30")).work[0]
    assert isinstance(step, model.Do)
    assert step.text == "1:30"


@pytest.mark.parametrize(
    ("before", "after", "code", "where"),
    [
        ("coach: 1", "coach: 2", "VERSION", "2"),
        ("kind: Keyring ", "kind: keyrin", "CHOICE", "keyrin"),
        ("title: Reed", "titel: Reed", "UNKNOWN-KEY", "titel"),
        ("margin: 15 %", "margin: 300 %", "QUANTITY", "300 %"),
        ('"#5b7f3a"', '"#5b7f3"', "COLOUR", '"#5b7f3"'),
        ("sienna", "siena", "COLOUR", "siena"),
        ("  clay: {", "  2clay: {", "NAME", "2clay"),
        ("2 mm, pieces: 1}", "0 mm, pieces: 1}", "QUANTITY", "0 mm"),
        ("2 mm, pieces: 1}", "2 mm, pieces: one}", "NUMBER", "one"),
        ("2 mm, pieces: 1}", "2 mm, lead: 1 cm}", "PIECES", "lead"),
        ("[reed, 2 clay]", "[reed, 2 cley]", "CORD", "2 cley"),
        ("on: ring", "on: rung", "CHOICE", "rung"),
        ("round: yes", "round: maybe", "CHOICE", "maybe"),
        ("use: motif", "use: motiv", "PART", "motiv"),
        ("vary: motif", "vary: motiv", "PART", "motiv"),
        ("state: relaxed", "state: relaxing", "CHOICE", "relaxing"),
        ("part: motif", "part: motiv", "PART", "motiv"),
        ("clay: 6 cm}", "cley: 6 cm}", "CORD", "cley"),
        ("cord: reed", "cord: read", "CORD", "read"),
    ],
)
def test_a_slip_anywhere_is_told_in_its_place(
    before: str, after: str, code: str, where: str
) -> None:
    """One slip, one problem, which points at it; near misses are suggested."""
    assert before in KEYRING
    text = KEYRING.replace(before, after, 1)
    problems = [p for p in problems_of(text) if not (code == "NAME" and p.code == "CORD")]
    assert [problem.code for problem in problems] == [code]
    span = problems[0].span
    assert text.split("\n")[span.line - 1][span.column - 1 :].startswith(where)


@pytest.mark.parametrize(
    ("right", "wrong", "suggested"),
    [
        ("title:", "titel:", "title"),
        ("Keyring", "keyrin", "keyring"),
        ("sienna", "siena", "sienna"),
        ("use: motif", "use: motiv", "motif"),
        ("clove hitch, holder", "clof hitch, holder", "clove hitch"),
    ],
)
def test_near_misses_are_suggested(right: str, wrong: str, suggested: str) -> None:
    """The hint names what was probably meant."""
    (problem,) = problems_of(KEYRING.replace(right, wrong, 1))
    assert f"‘{suggested}’" in problem.hint


def test_another_format_is_read_no_further() -> None:
    """A file of another format has one problem, whatever else it says."""
    reading = read_project("coach: 2\nstrands: 7\n")
    assert [problem.code for problem in reading.problems] == ["VERSION"]
    assert reading.project is None


def test_missing_keys_are_named_together() -> None:
    """One problem names all that is missing in one place."""
    (problem,) = problems_of("about: x\n")
    assert problem.code == "MISSING-KEY"
    for key in ("coach", "title", "cords", "start", "work"):
        assert f"‘{key}’" in problem.message


@pytest.mark.parametrize("text", ["", "\n\n", "# only words\n", "~", "- a\n- b\n", "reed"])
def test_what_is_no_project_file_is_one_problem(text: str) -> None:
    """An empty file, a list and a word are told apart from a project by one problem."""
    reading = read_project(text)
    assert len(reading.problems) == 1
    assert reading.problems[0].code in ("EMPTY", "SHAPE")


def test_unreadable_cords_cause_no_further_problems() -> None:
    """Where there are no cords, no name of a cord is a problem of its own."""
    text = with_work("{add: [clay], at: 1}").replace(HEAD, "coach: 1\ntitle: x\ncords: 7\n")
    assert [problem.code for problem in problems_of(text)] == ["SHAPE"]


def test_unreadable_parts_cause_no_further_problems() -> None:
    """The same for parts: a call of one is no problem of its own."""
    text = with_work("use: motif", rest="parts: 7\nsize: {vary: motif}\n")
    assert [problem.code for problem in problems_of(text)] == ["SHAPE"]
    text = with_work("use: motif", rest="parts: {motif: 7}\n")
    assert [problem.code for problem in problems_of(text)] == ["SHAPE"]


@pytest.mark.parametrize(
    ("step", "changes"),
    [("{add: clay}", True), ("{lay aside: 0}", True), ("{take up: x, at: 1}", True),
     ("{each: 1-3 by 2, steps: [flip: piece]}", True), ("{use: nothing}", True), ("{hop: 1}", True),
     ("{row: clove hitch, holder: 1}", False), ("{wait: 1}", False)],
)  # fmt: skip
def test_a_step_that_cannot_be_read_says_whether_strands_may_have_come(
    step: str,
    changes: bool,
) -> None:
    """The project is there for finding more, with a stand-in for the bad step."""
    project = read_project(with_work(step, "do: x")).project
    assert project is not None
    unreadable = project.work[0]
    assert isinstance(unreadable, model.Unreadable)
    assert unreadable.changes_count is changes
    assert isinstance(project.work[1], model.Do)


def test_a_bad_colour_does_not_hide_the_project() -> None:
    """Only what says how many strands there are is needed to go on."""
    assert read_project(with_work("do: x").replace("sienna", "siennna")).project is not None
    assert read_project(with_work("do: x").replace("fold: none", "fold: nun")).project is None


def test_a_named_step_can_be_varied() -> None:
    """`vary` finds a step by its name as well as a part."""
    size = sound(KEYRING.replace("vary: motif", "vary: Stem")).size
    assert size is not None
    assert size.vary == "stem"


def test_parts_are_read_with_their_names() -> None:
    """A part stands under its name as written."""
    assert list(sound(with_work("use: MOTIF", rest=PARTS)).parts) == ["motif"]


@pytest.mark.parametrize(
    ("entry", "needed"),
    [
        ("{part: motif}", "‘uses’ or ‘length’"),
        ("{knot: clove hitch, cord: reed, times: 3}", "‘uses’ or ‘length’"),
        ("{knot: clove hitch, length: 3 cm}", "‘cord’ and ‘times’"),
        ("{length: 3 cm}", "‘part’ or ‘knot’"),
    ],
)
def test_a_measured_entry_says_what_and_how_much(entry: str, needed: str) -> None:
    """An entry that measures nothing is told as such."""
    (problem,) = problems_of(with_work("do: x", rest=f"{PARTS}measured: [{entry}]\n"))
    assert problem.code == "MISSING-KEY"
    assert needed in problem.message


def test_a_measured_entry_of_nothing_does_not_hide_its_other_faults() -> None:
    text = with_work("do: x", rest=f"{PARTS}measured: [{{length: 3, cord: x, times: twice}}]\n")
    assert sorted(p.code for p in problems_of(text)) == [
        "CORD",
        "MISSING-KEY",
        "NUMBER",
        "QUANTITY",
    ]


def test_positions_beyond_all_sense_are_told_once() -> None:
    """Lists that are each allowed may not fill the memory together."""
    codes = [p.code for p in problems_of(with_work(*["cross: 1-5000"] * 150))]
    assert codes == ["TOO-LARGE"]
