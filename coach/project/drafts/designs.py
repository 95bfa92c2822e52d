"""The kinds of piece that a new file can be of: usual sizes, and their steps.

Sizes and habits are common practice, no source. `amount` is how often the motif is made, or for a
hanger how long its shoulder is, in mm.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from coach.project.drafts.answers import Answers
from coach.project.drafts.motifs import motif
from coach.quantities import length_mm

MOTIF: Final = "motif"
_ARM: Final = 4
_FEW: Final = 2


@dataclass(frozen=True, slots=True)
class Design:
    """A kind of piece.

    Attributes:
        kind: What the file calls it.
        title: The default title.
        on: What it usually hangs on, and `places` what else it may.
        strands: The usual number of strands, which goes up in steps of `unit` from `least`.
        length: The usual length.
        thick: The usual thickness of its cord.
        knots: The usual knots.
        hung: "nest" or "hang".
        head: More lines of the file's head.
        start: More lines under `start`.
        work: Writes the steps before and after the motif, or all.
        vary: What changes with the length.
        apart: The parts made apart.
        alike: Whether every four strands have the same cords, two at most.
    """

    kind: str
    title: str
    on: str
    places: tuple[str, ...]
    strands: int
    unit: int
    least: int
    length: str
    thick: str
    knots: tuple[str, ...]
    hung: str
    head: tuple[str, ...]
    work: Callable[[Answers, int], Sequence[str]]
    start: tuple[str, ...] = ()
    vary: str = MOTIF
    apart: Callable[[Answers], Sequence[str]] = lambda _: ()
    alike: bool = False

    def strands_near(self, wanted: float) -> int:
        """Return the possible number of strands nearest to the one wanted."""
        return max(self.least, round(wanted / self.unit) * self.unit)


def _use(times: int) -> str:
    return f"{{use: {MOTIF}, times: {times}}}"


def _strap(answers: Answers, amount: int) -> list[str]:
    del answers
    return [
        "do: Pin the fold to the board so that the strands hang towards you.",
        _use(amount),
        "measure: length",
        "{knot: overhand knot, strands: all}",
    ]


def _keyring(answers: Answers, amount: int) -> list[str]:
    return [*_strap(answers, amount), "{trim: all, leave: 3 cm, note: Comb the ends out.}"]


def _bracelet(answers: Answers, amount: int) -> list[str]:
    del answers
    return [
        "do: Pin the fold; the loop above the first knot takes the ends later.",
        "{space: 1 cm, strands: all}  # the loop",
        _use(amount),
        "measure: length",
        "{knot: overhand knot, strands: all}",
        "{trim: all, leave: 8 cm, note: These ends tie through the loop.}",
    ]


def _level_rows(strands: int) -> list[str]:
    """Return two level rows over all strands, there and back, which keep an edge straight."""
    return [
        f"{{row: clove hitch, holder: 1, across: 2-{strands}, lie: level}}",
        f"{{row: clove hitch, holder: {strands}, across: {strands - 1}-1, lie: level}}",
    ]


def _belt(answers: Answers, amount: int) -> list[str]:
    return [
        "do: Lay the cords over the bar of the buckle and comb the strands out.",
        *_level_rows(answers.strands),
        _use(amount),
        *_level_rows(answers.strands),
        "measure: length",
        "{trim: all, leave: 4 cm, note: Or thread the ends back into the rows.}",
    ]


def _lanyard(answers: Answers, amount: int) -> list[str]:
    return [
        "do: Hang the hook on a nail, or clip it to the board.",
        _use(amount),
        "measure: length",
        f"{{knot: gathering knot, wrap: {answers.cords[0].name}, around: all, length: 15 mm}}",
        "{trim: all, leave: 4 cm}",
    ]


def _arms(answers: Answers) -> int:
    """Return how often an arm repeats its motif, so that arms take about a third of the length."""
    about_mm = 12 * length_mm(answers.cords[0].diameter) * len(answers.knots)
    return max(1, int(length_mm(answers.length) / 3 / about_mm))


def _hanger(answers: Answers, amount: int) -> list[str]:
    n, wrap = answers.strands, answers.cords[0].name
    gather = f"{{knot: gathering knot, wrap: {wrap}, around: all, length: 3 cm}}"
    cradle = f"{{knot: square knot, groups: 3-{n + _FEW} by 4, times: 2}}"
    return [
        "do: Hang it at eye height and comb the strands out.",
        gather,
        f"{{each: 1-{n} by 4, order: any, steps: [{_use(_arms(answers))}]}}  # the arms",
        f"{{space: {amount} mm, name: shoulder}}  # changes with the length",
        f"{cradle}  # two strands of one arm, two of the next",
        "{space: 7 cm, strands: all}  # about half the pot's height",
        f"{{knot: square knot, groups: 1-{n} by 4, times: 2}}",
        "{space: 6 cm, strands: all}",
        "measure: length",
        gather,
        "{trim: all, leave: 15 cm}",
    ]


def _wall_hanging(answers: Answers, amount: int) -> list[str]:
    return [
        "do: Hang the cords on the dowel and let it lie level.",
        *_level_rows(answers.strands),
        _use(amount),
        "measure: length",
        "{trim: all, leave: 12 cm, middle: 20 cm, note: The fringe; a ruler helps.}",
    ]


def _mat(answers: Answers, amount: int) -> list[str]:
    return [
        "do: Line the folds up close together along a straight edge.",
        *_level_rows(answers.strands),
        _use(amount),
        *_level_rows(answers.strands),
        "measure: length",
        "{trim: all, leave: 2 cm, note: Comb the ends out and cut them along a ruler.}",
    ]


def _bag(answers: Answers, amount: int) -> list[str]:
    quarter, wrap = answers.strands // _ARM, answers.cords[0].name
    first, second = [1, 1 + quarter], [1 + 2 * quarter, 1 + 3 * quarter]
    return [
        "do: Close what the cords hang on into a ring; from here on the work goes round.",
        _use(amount),
        "{space: 2 cm, strands: all}",
        f"{{knot: gathering knot, wrap: {wrap}, around: all, length: 25 mm}}  # the bottom",
        "{trim: all, leave: 4 cm}",
        f"{{attach: handle, at: {first}, by: knotted}}",
        f"{{attach: handle, at: {second}, by: knotted}}",
    ]


def _handles(answers: Answers) -> list[str]:
    return [
        "handle:",
        "  make: 2",
        "  mirror: every second        # the second twists the other way",
        f"  start: {{nest: [2 {answers.cords[0].name}], on: hook}}",
        "  work: [{knot: half knot, strands: all, times: 50}]",
    ]


_ANY: Final = ("board", "ring", "dowel", "buckle", "hook", "cord")
_PINS: Final = ("tools: [scissors, tape measure, board, pins]",)
_LYING: Final = ("surface: board and pins", *_PINS)
_HANGING: Final = ("surface: a hook at eye height", "tools: [scissors, tape measure, a hook]")

DESIGNS: Final[Mapping[str, Design]] = MappingProxyType({
    "bracelet": Design("bracelet", "Foam bracelet", "board", _ANY, 4, 2, 4, "18 cm", "1.5 mm",
                       ("square knot",), "nest", _LYING, _bracelet),
    "belt": Design("belt", "Sluice belt", "buckle", _ANY, 12, 4, 8, "90 cm", "2 mm",
                   ("square knot", "clove hitch"), "nest", _LYING, _belt),
    "keyring": Design("keyring", "Reed strap", "ring", _ANY, 4, 2, 4, "12 cm", "2 mm",
                      ("square knot", "half knot"), "nest", _LYING, _keyring),
    "hanger": Design("plant hanger", "Marsh pot hanger", "ring", _ANY, 16, 4, 12, "80 cm", "4 mm",
                     ("half knot", "square knot"), "hang", _HANGING, _hanger, ("round: yes",),
                     vary="shoulder", alike=True),
    "wall hanging": Design("wall hanging", "Shoreline", "dowel", _ANY, 32, 4, 8, "40 cm", "4 mm",
                           ("net",), "hang", _HANGING, _wall_hanging),
    "mat": Design("mat", "Mud-flat mat", "board", _ANY, 24, 4, 8, "20 cm", "3 mm",
                  ("square knot", "clove hitch"), "hang", _LYING, _mat, ("by: pinned",)),
    "bag": Design("bag", "Cockle bag", "cord", _ANY, 32, 8, 16, "30 cm", "3 mm",
                  ("net",), "hang", _HANGING, _bag, ("round: yes",), apart=_handles),
    "lanyard": Design("keyring", "Eel lanyard", "hook", _ANY, 4, 2, 4, "40 cm", "2 mm",
                      ("half knot", "square knot"), "nest", _LYING, _lanyard),
    "other": Design("other", "Tide strap", "ring", _ANY, 4, 2, 4, "20 cm", "2 mm",
                    ("clove hitch", "square knot"), "nest", _LYING, _strap),
})  # fmt: skip
"""What a first draft can be of, by what a maker calls it."""


def motif_of(answers: Answers) -> list[str]:
    """Return the steps of the motif: for one arm of a hanger, else for all strands."""
    strands = _ARM if answers.kind == "hanger" else answers.strands
    steps = motif(answers.knots, strands)
    if answers.kind == "bag":  # between the rounds the net goes on
        steps = ["{space: 1 cm, strands: all}", *steps]
    return steps
