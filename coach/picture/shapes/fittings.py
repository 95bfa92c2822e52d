"""Drawings of fittings as SVG: dowel, ring, hook, buckle, pins and beads."""

from collections.abc import Callable
from typing import Final

from coach.colour import mixed
from coach.picture.scene import Fitting

_WOOD: Final = ("#6b4a2b", "#b98a58", "#e3c193")
_METAL: Final = ("#4c5156", "#9aa1a8", "#e8ecef")


def fitting_svg(fitting: Fitting) -> str:
    """Draw one fitting, in hundredths of a millimetre."""
    return _DRAWN[fitting.kind](fitting)


def _line(d: str, wide: float, tones: tuple[str, str, str], cap: str = "round") -> str:
    """Draw a rod: its dark edge, its body and the light on it."""
    edge, body, light = tones
    shades = [(edge, 100), (mixed(edge, body, 0.5), 92), (body, 82)]
    shades += [(mixed(body, light, share / 4), 70 - 14 * share) for share in range(1, 5)]
    return "".join(
        f'<path d="{d}" stroke="{tone}" stroke-width="{round(wide * share)}" '
        f'stroke-linecap="{cap}"/>'
        for tone, share in shades
    )


def _rod(fitting: Fitting, tones: tuple[str, str, str]) -> str:
    left, top, right, bottom = fitting.box
    y, thick = (top + bottom) / 2, bottom - top
    return _line(f"M{_at(left + thick / 2, y)}H{round((right - thick / 2) * 100)}", thick, tones)


def _dowel(fitting: Fitting) -> str:
    return _rod(fitting, _WOOD)


def _bar(fitting: Fitting) -> str:
    return _rod(fitting, _METAL)


def _cord(fitting: Fitting) -> str:
    return _rod(fitting, ("#5d564b", "#a79d8c", "#d8d0c2"))


def _ring(fitting: Fitting) -> str:
    left, _, right, bottom = fitting.box
    thick = fitting.thick_mm
    reach = (right - left - thick) / 2
    x, y = (left + right) / 2, bottom - thick / 2
    tones = _WOOD if thick >= 6 else _METAL  # noqa: PLR2004 - thick rings are turned of wood
    r = round(reach * 100)
    return _line(f"M{_at(x, y)}a{r} {r} 0 1 1 1 0z", thick, tones)


def _hook(fitting: Fitting) -> str:
    """Draw a swivel hook: the eye that the work hangs in, the swivel, and the snap above."""
    left, _, right, bottom = fitting.box
    thick, wide = fitting.thick_mm, right - left
    x, y = (left + right) / 2, bottom - thick / 2
    r, high = round((wide - thick) / 2 * 100), (bottom - fitting.box[1]) * 100
    eye = _line(f"M{_at(x, y)}a{r} {r} 0 1 1 1 0z", thick, _METAL)
    top = round(y * 100) - 2 * r
    swivel = _line(f"M{round(x * 100)} {top}v{round(-0.16 * high)}", thick * 1.9, _METAL)
    at, s = top - round(0.18 * high), round(0.34 * wide * 100)
    snap = _line(
        f"M{round(x * 100)} {at}c{-2 * s} {-s} {-2 * s} {-4 * s} 0 {-4 * s}"
        f"c{2 * s} 0 {2 * s} {2 * s} {round(1.2 * s)} {round(2.6 * s)}", thick, _METAL,
    )  # fmt: skip
    return snap + eye + swivel


def _buckle(fitting: Fitting) -> str:
    left, top, right, bottom = fitting.box
    thick = fitting.thick_mm
    y = bottom - thick / 2
    frame = (
        f"M{_at(left + thick / 2, y)}V{round((top + thick) * 100)}q0 {-round(thick * 50)} "
        f"{round(thick * 50)} {-round(thick * 50)}H{round((right - thick) * 100)}"
        f"q{round(thick * 50)} 0 {round(thick * 50)} {round(thick * 50)}V{round(y * 100)}z"
    )
    return _line(frame, thick, _METAL)


def _pin(fitting: Fitting) -> str:
    left, top, right, bottom = fitting.box
    x, y = round((left + right) * 50), round((top + bottom) * 50)
    r = round((right - left) * 50)
    return (
        f'<circle cx="{x}" cy="{y}" r="{r}" fill="#7d2f2a"/>'
        f'<circle cx="{x}" cy="{y - round(r * 0.3)}" r="{round(r * 0.45)}" fill="#d98b80"/>'
    )


def _bead(fitting: Fitting) -> str:
    """Draw a wooden bead with the light on it and the rims of its hole."""
    left, top, right, bottom = fitting.box
    x, y = round((left + right) * 50), round((top + bottom) * 50)
    rx, ry = round((right - left) * 50), round((bottom - top) * 50)
    hole = round(min(fitting.thick_mm * 60, rx * 0.7))
    return "".join(
        [
            *(
                f'<ellipse cx="{x}" cy="{y + round(dy * ry)}" rx="{round(rx * sx)}" '
                f'ry="{round(ry * sy)}" fill="{fill}"/>'
                for dy, sx, sy, fill in (
                    (0, 1, 1, _WOOD[0]), (-0.03, 0.94, 0.94, "#9c7042"),
                    (-0.1, 0.8, 0.76, _WOOD[1]), (-0.3, 0.5, 0.34, _WOOD[2]),
                )
            ),
            *(
                f'<ellipse cx="{x}" cy="{y + edge * round(ry * 0.93)}" rx="{hole}" '
                f'ry="{round(ry * 0.09)}" fill="#3b2714"/>'
                for edge in (-1, 1)
            ),
        ]
    )  # fmt: skip


def _at(x: float, y: float) -> str:
    return f"{round(x * 100)} {round(y * 100)}"


_DRAWN: Final[dict[str, Callable[[Fitting], str]]] = {
    "dowel": _dowel,
    "bar": _bar,
    "cord": _cord,
    "ring": _ring,
    "hook": _hook,
    "buckle": _buckle,
    "pin": _pin,
    "bead": _bead,
}
