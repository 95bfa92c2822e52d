"""Steps drawn at random that can be done on the strands that hang when they are worked."""

from hypothesis import strategies as st

Draw = st.DrawFn


@st.composite
def parts(draw: Draw, strands: int, *, most: int = 5, nested: bool = True) -> list[str]:
    """Return steps, as flow mappings, that can be worked on so many strands in turn."""
    steps: list[str] = []
    for _ in range(draw(st.integers(1, most))):
        step, strands = draw(step_on(strands, nested=nested))
        steps.append(step)
    return steps


@st.composite
def step_on(draw: Draw, n: int, *, nested: bool) -> tuple[str, int]:
    """Return one step for n strands, and how many hang after it."""
    kinds = ["row", "flat", "cross", "braid", "chain", "around", "add", "aside", "space"]
    if nested:
        kinds += ["each", "use", "flip"]
    kind = draw(st.sampled_from(kinds))
    if kind == "add":
        pieces = draw(st.integers(1, 3))
        at = draw(st.integers(1, n + 1))
        return f"add: [{pieces} clay], at: {at}, fold: none", n + pieces
    if kind == "aside" and n > 4:
        return f"lay aside: {draw(st.integers(1, n))}", n - 1
    if kind == "each":
        return draw(_each(n)), n
    return draw({"use": _use, "flip": _flip}.get(kind, _STILL.get(kind, _row))(n)), n


@st.composite
def still_steps(draw: Draw, n: int) -> list[str]:
    """Return steps that leave as many strands as there were, and hold no others."""
    kinds = st.sampled_from([_row, _flat, _cross, _braid])
    return [draw(draw(kinds)(n)) for _ in range(draw(st.integers(1, 3)))]


@st.composite
def _row(draw: Draw, n: int) -> str:
    mover = draw(st.integers(1, n))
    far = draw(st.integers(1, n).filter(lambda at: at != mover))
    first = mover + (1 if far > mover else -1)
    what = draw(
        st.sampled_from(
            [
                ("clove hitch", "holder"),
                ("reverse clove hitch", "knotter"),
                ("half hitch", "holder"),
            ]
        )
    )
    return f"row: {what[0]}, {what[1]}: {mover}, across: {first}-{far}"


@st.composite
def _flat(draw: Draw, n: int) -> str:
    size = draw(st.integers(2, min(4, n)))
    groups = draw(st.integers(1, n // size))
    first = draw(st.integers(1, n - groups * size + 1))
    knot = draw(
        st.sampled_from(["half knot", "reverse half knot", "square knot", "reverse square knot"])
    )
    times = draw(st.integers(1, 3))
    last = first + groups * size - 1
    return f"knot: {knot}, groups: {first}-{last} by {size}, times: {times}"


@st.composite
def _cross(draw: Draw, n: int) -> str:
    first = draw(st.integers(1, n - 1))
    last = draw(st.integers(first + 1, n))
    return f"cross: {draw(st.permutations(range(first, last + 1)))}"


@st.composite
def _braid(draw: Draw, n: int) -> str:
    first = draw(st.integers(1, n - 2))
    how = draw(
        st.one_of(st.just("length: 6 cm"), st.integers(1, 7).map(lambda x: f"crossings: {x}"))
    )
    return f"braid: {first}-{first + 2}, {how}"


@st.composite
def _chain(draw: Draw, n: int) -> str:
    first = draw(st.integers(1, n - 1))
    return f"knot: half hitch chain, strands: {first}-{first + 1}, times: {draw(st.integers(1, 3))}"


@st.composite
def _around(draw: Draw, n: int) -> str:
    knotter = draw(st.integers(1, n))
    other = draw(st.integers(1, n).filter(lambda at: at != knotter))
    return f"knot: lark's head, knotter: {knotter}, around: {other}"


def _space(n: int) -> st.SearchStrategy[str]:
    return st.integers(1, n).map(lambda last: f"space: 2 cm, strands: 1-{last}")


def _flip(_: int) -> st.SearchStrategy[str]:
    return st.just("flip: piece")


@st.composite
def _each(draw: Draw, n: int) -> str:
    size = draw(st.integers(3, n)) if n > 3 else 3
    groups = n // size
    first = draw(st.integers(1, n - groups * size + 1))
    inner = draw(still_steps(size))
    mirror = draw(st.sampled_from(["none", "all", "every second"]))
    listed = ", ".join(f"{{{step}}}" for step in inner)
    last = first + groups * size - 1
    return f"each: {first}-{last} by {size}, mirror: {mirror}, steps: [{listed}]"


def _use(_: int) -> st.SearchStrategy[str]:
    uses = st.tuples(st.sampled_from(["none", "all", "every second"]), st.integers(1, 3))
    return uses.map(lambda drawn: f"use: inner, mirror: {drawn[0]}, times: {drawn[1]}")


_STILL = {
    "row": _row, "flat": _flat, "cross": _cross, "braid": _braid, "chain": _chain,
    "around": _around, "space": _space,
}  # fmt: skip

INNER = [
    "row: clove hitch, holder: 1, across: 2-3",
    "knot: half knot, strands: 2-4",
    "cross: [2, 1]",
]
"""What the part `inner` does; it needs four strands."""
