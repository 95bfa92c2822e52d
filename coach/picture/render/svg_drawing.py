"""A scene as an SVG picture at scale: shaded cords, over and under, with a ruler beside it.

Coordinates are whole hundredths of a millimetre. A knot's shape is written once for the cords that
tie it, and used wherever it stands.
"""

from collections.abc import Iterable, Mapping, Sequence
from html import escape
from typing import Final

from coach.picture.render.ruler import draw_ruler
from coach.picture.render.shades import Look
from coach.picture.scene import Box, Point, Run, Scene, Segment, Tie, reversed_shape
from coach.picture.shapes.fittings import fitting_svg
from coach.picture.svg_elements import element, svg_number
from coach.quantities import show_length

_UNIT: Final = 100
PAPER_MM: Final = (165.0, 200.0)  # what fits both A4 and Letter, margins and caption left out
_SCALES: Final = (0.5, 1.0, 2.0, 2.5, 4.0, 5.0, 10.0, 20.0, 50.0)
_RULER_MM: Final = 14.0
_MARGIN_MM: Final = 4.0
_RULES: Final = (
    ".h{stroke:#000;stroke-opacity:.25}.r{stroke-linecap:round}.n{stroke:#333}"
    ".t{fill:#333;font-family:sans-serif}"
)
_TONES: Final = (("h", 1.16), ("e", 1.0), ("s", 0.84), ("b", 0.6), ("l", 0.26))
"""Shadow, edge, shade, body and light, and how wide each is in widths of the cord."""


def render_svg(
    scene: Scene, looks: Mapping[str, Look], title: str, *, plain: bool = False, name: str = "",
    unit: str = "cm", room_mm: tuple[float, float] = PAPER_MM,
) -> str:  # fmt: skip
    """Return a scene as an SVG picture.

    Args:
        scene: The scene.
        looks: The look of each cord, by its name.
        title: Its title; escaped here.
        plain: Whether to leave out ruler and paper.
        name: The prefix of its ids; with one, it is for a page that has the cords' CSS rules
            already.
        unit: "cm" or "in": the unit of its ruler and its size.
        room_mm: The width and height that it has on paper.
    """
    scale = scale_of(scene.box, room_mm)
    ruler = 0.0 if plain else _RULER_MM * scale
    margin = _MARGIN_MM * scale
    left, top, right, bottom = scene.box
    box = (left - ruler - margin, top - margin, right + margin, bottom + margin)
    inside = Drawing(scene, looks, name).drawn()
    depth, behind = name, scene.behind
    while behind:
        depth += "b"
        inside = Drawing(behind, looks, depth).drawn() + inside
        behind = behind.behind
    paper = [] if plain else [_paper(box), *draw_ruler(left - margin, scene, scale, unit)]
    label = _label(scene, title, scale, unit)
    wide, high = box[2] - box[0], box[3] - box[1]
    style = "" if name else element("style", colour_classes(looks))
    return element(
        "svg",
        "".join([f"<title>{escape(label)}</title>", style, *paper, inside]),
        xmlns=None if name else "http://www.w3.org/2000/svg",
        viewBox=" ".join(str(round(side * _UNIT)) for side in (box[0], box[1], wide, high)),
        width=f"{svg_number(wide / scale)}mm", height=f"{svg_number(high / scale)}mm",
        role="img", aria_label=label,
    )  # fmt: skip


def render_part(
    scene: Scene, looks: Mapping[str, Look], size: tuple[int, int], ground: str
) -> str:  # fmt: skip
    """Return the part of a scene inside its box as SVG, on a ground and without a ruler.

    Args:
        scene: The scene; its box is the part.
        looks: The colours of each cord, by its name.
        size: Width and height in pixels.
        ground: The colour behind it, "#rrggbb".

    Returns:
        A whole file of SVG.
    """
    left, top, right, bottom = scene.box
    corner, sides = (left, top), (right - left, bottom - top)
    around = {"x": left * _UNIT, "y": top * _UNIT, "width": sides[0] * _UNIT}
    paper = element("rect", height=sides[1] * _UNIT, fill=ground, **around)
    return element(
        "svg", element("style", colour_classes(looks)) + paper + Drawing(scene, looks).drawn(),
        xmlns="http://www.w3.org/2000/svg", width=size[0], height=size[1],
        viewBox=" ".join(svg_number(side * _UNIT) for side in (*corner, *sides)),
        preserveAspectRatio="none",
    )  # fmt: skip


def scale_of(box: Box, room_mm: tuple[float, float] = PAPER_MM) -> float:
    """Return the factor from drawing to work at which it fits into its room."""
    wide, high = box[2] - box[0] + _RULER_MM + 8, box[3] - box[1] + 8
    return next((s for s in _SCALES if wide / s <= room_mm[0] and high / s <= room_mm[1]), 100.0)


def _label(scene: Scene, title: str, scale: float, unit: str) -> str:
    side = ", as a tube" if scene.tube else ""
    side += ", from the back" if scene.back else ""
    told = f"1 : {svg_number(scale)}" if scale >= 1 else f"{svg_number(1 / scale)} : 1"
    rest = ", its arms drawn apart" if scene.spread_mm else ""
    rest += f"; {scene.left_out} more counts are not drawn" if scene.left_out else ""
    wide = 2 * scene.half_mm - scene.spread_mm
    length, width = (
        show_length(mm, unit) if unit == "in" else f"{mm / 10:.1f} cm"
        for mm in (scene.length_mm, wide)
    )
    return f"{title}{side}, at a scale of {told}: about {length} long and {width} wide{rest}"


def colour_classes(looks: Mapping[str, Look], kind: str = "") -> str:
    """Return the CSS classes of the cords' colours: edge, shade, body, light, mark.

    `kind` distinguishes the classes of one set of cords from those of another on the same page.
    """
    written = [_RULES]
    for number_of, look in enumerate(looks.values()):
        at = f"{kind}{number_of}"
        written.append(
            f".e{at}{{stroke:{look.edge}}}.s{at}{{stroke:{look.shade}}}"
            f".b{at}{{stroke:{look.body}}}"
            f".l{at}{{stroke:{look.light};stroke-opacity:.55}}"
            f".m{at}{{stroke:{look.mark};stroke-opacity:.3}}"
        )
    return "".join(written)


class Drawing:
    """Writes the parts of one picture; `defs` are the shapes that are used more than once.

    `name` is the prefix of ids, so that several pictures can stand on one page;
    `kind` is the one that the cords' rules were written for.
    """

    def __init__(
        self, scene: Scene, looks: Mapping[str, Look], name: str = "", kind: str = ""
    ) -> None:  # fmt: skip
        """Set what is drawn.

        Args:
            scene: The cords, in mm.
            looks: The colours of each cord, in the order of their rules.
            name: The prefix of ids.
            kind: The one that the cords' rules were written for; see `rules`.
        """
        self.scene = scene
        self.name = name
        self.kind = kind
        cords = {cord: place for place, cord in enumerate(looks)}
        self.of = [cords[cord] for cord in scene.cords]
        self.dashes = [look.dashes for look in looks.values()]
        self.defs: list[str] = []
        self._known: dict[tuple[object, ...], str] = {}
        self._named: dict[tuple[object, ...], str] = {}  # the same by strands: found sooner

    def drawn(self) -> str:
        """Return the whole picture in hundredths of a millimetre: definitions and drawing."""
        seen = "".join(self.work())
        return f'<defs>{"".join(self.defs)}</defs><g fill="none" stroke-linejoin="round">{seen}</g>'

    def work(self) -> Iterable[str]:
        """Yield all that is drawn, lowest first."""
        scene = self.scene
        behind, before = _sides(scene.mounts)
        held = [f for f in scene.fittings if f.kind not in ("pin", "bead")]
        yield from (self.stretch(s) for s in behind)
        yield from (fitting_svg(f) for f in held if f.kind != "pin")
        yield from self.runs()
        yield from (self.stretch(s) for s in before)
        order = sorted(
            scene.ties, key=lambda t: (round(t.y_mm + t.shape.box[1], 1), -round(abs(t.x_mm), 2))
        )
        halves = any(tie.half for tie in order)
        if halves:
            self.defs.append(self._seam())
        for tie in order:
            yield self.tie(tie)
        yield from (fitting_svg(f) for f in scene.fittings if f not in held or f.kind == "pin")

    def _seam(self) -> str:
        half, (_, top, _, bottom) = self.scene.half_mm, self.scene.box
        whole = element(
            "rect", x=round(-half * _UNIT), y=round(top * _UNIT), width=round(2 * half * _UNIT),
            height=round((bottom - top) * _UNIT),
        )  # fmt: skip
        return element("clipPath", whole, id=f"{self.name}seam")

    def tie(self, tie: Tie) -> str:
        """Write one tie as a use of its shape."""
        key = (id(tie.shape), tie.turned, tie.strands)
        name = self._named.get(key)
        if name is None:
            name = self._named[key] = self._defined(tie)
        use = f'<use href="#{name}" x="{round(tie.x_mm * 100)}" y="{round(tie.y_mm * 100)}"/>'
        return f'<g clip-path="url(#{self.name}seam)">{use}</g>' if tie.half else use

    def _defined(self, tie: Tie) -> str:
        """Define a tie's shape in its cords' colours, once for all alike; return its id."""
        cords = tuple([self.of[strand] for strand in tie.strands])
        key = (id(tie.shape), tie.turned, cords)
        if key not in self._known:
            self._known[key] = f"{self.name}k{len(self._known)}"
            shape = reversed_shape(tie.shape) if tie.turned else tie.shape
            body = "".join([self.stroke(s, cords[s.strand]) for s in shape.stretches])
            self.defs.append(f'<g id="{self._known[key]}">{body}</g>')
        return self._known[key]

    def runs(self) -> Iterable[str]:
        """Write the strands between the ties, each as one path for each layer."""
        paths: dict[tuple[int, int], list[str]] = {}
        last: dict[tuple[int, int], Run] = {}
        for run in self.scene.runs:
            at = run.layer, run.strand
            paths.setdefault(at, []).append(_run_path(run))
            last[at] = run
        for at in sorted(paths, key=lambda at: (at[0], -round(abs(last[at].end[0]), 2), at[1])):
            name = f"{self.name}r{len(self.defs)}"
            self.defs.append(f'<path id="{name}" d="{"".join(paths[at])}"/>')
            yield self.uses(name, self.of[at[1]], last[at].width_mm)

    def stretch(self, s: Segment) -> str:
        """Write a stretch that lies in the scene."""
        return self.stroke(s, self.of[s.strand])

    def stroke(self, s: Segment, cord: int) -> str:
        """Write a stretch in a cord's colours: shadow, edge, shade, body, light and mark."""
        what = 'path d="' + _path(s.path) + '"'
        cap = ' class="r"' if s.capped else ""
        return f"<g{cap}>{self._strokes(what, cord, s.width_mm)}</g>"

    def uses(self, name: str, cord: int, wide_mm: float) -> str:
        """Return a defined path in a cord's colours.

        Args:
            name: The id of the path.
            cord: The number of the cord in the scene.
            wide_mm: How wide it is drawn.
        """
        what = f'use href="#{name}"'
        return f'<g class="r">{self._strokes(what, cord, wide_mm)}</g>'

    def _strokes(self, what: str, cord: int, wide_mm: float) -> str:
        """Return strokes on top of each other; a cord lies in the shadow of one above it."""
        w = wide_mm * _UNIT
        dashes = " ".join(str(max(1, round(share * w))) for share in self.dashes[cord])
        at = f"{self.kind}{cord}"
        tones = [(tone if tone == "h" else f"{tone}{at}", share) for tone, share in _TONES]
        told = [f'<{what} class="{tone}" stroke-width="{share * w:.0f}"/>' for tone, share in tones]
        told.append(
            f'<{what} class="m{at}" stroke-width="{0.8 * w:.0f}" stroke-dasharray="{dashes}" '
            'stroke-linecap="butt"/>'
        )
        return "".join(told)


def _sides(mounts: Sequence[Tie]) -> tuple[list[Segment], list[Segment]]:
    """Return what of the mounts lies behind what they hang on, and what in front."""
    own = sorted((s for tie in mounts for s in tie.stretches()), key=lambda s: s.layer)
    return [s for s in own if s.layer < 0], [s for s in own if s.layer >= 0]


def _path(points: Sequence[Point]) -> str:
    """Write a start and quadratic curves, in hundredths of a millimetre."""
    flat = " ".join([f"{round(x * 100)} {round(y * 100)}" for x, y in points[1:]])
    return f"M{round(points[0][0] * 100)} {round(points[0][1] * 100)}Q{flat}"


def _run_path(run: Run) -> str:
    """Return the path of a run in its shortest form."""
    (x0, y0), (x1, y1), out = run.start, run.end, run.bulge_mm
    left, top, right, bottom = round(x0 * 100), round(y0 * 100), round(x1 * 100), round(y1 * 100)
    if out:
        return _path(run.path)
    if left == right:
        return f"M{left} {top}V{bottom}"
    if abs(right - left) > bottom - top:
        return f"M{left} {top}L{right} {bottom}"
    high, across, down = (bottom - top) // 4, (left + right) // 2, (top + bottom) // 2
    return f"M{left} {top}Q{left} {top + high} {across} {down}T{right} {bottom}"


def _paper(box: Box) -> str:
    left, top, right, bottom = (round(side * _UNIT) for side in box)
    return (
        f'<rect x="{left}" y="{top}" width="{right - left}" height="{bottom - top}" fill="#fff"/>'
    )
