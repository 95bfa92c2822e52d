"""The first minute with the coach as one moving picture: screens shown one after another.

Each screen is what the program itself exports; they are laid over each other, and the style sheet
shows one at a time. Where motion is not wanted, the last one stands still.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

STILL = "@media (prefers-reduced-motion: reduce) { .shot { animation: none } }"


@dataclass(frozen=True, slots=True)
class Shot:
    """One screen, as SVG, how long it is looked at, and what it shows."""

    svg: str
    seconds: float
    shows: str


def moving(shots: Sequence[Shot]) -> str:
    """Return the shots as one picture that goes round, each shown for its seconds."""
    size = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', shots[0].svg)
    if size is None:
        raise ValueError("a screen without a size")
    whole_s = sum(shot.seconds for shot in shots)
    parts, rules, at_s = [], [], 0.0
    for number, shot in enumerate(shots):
        begins, ends = 100 * at_s / whole_s, 100 * (at_s + shot.seconds) / whole_s
        rules.append(_rule(number, begins, ends, whole_s))
        parts.append(f'<g class="shot" id="shot{number}">{shot.svg}</g>')
        at_s += shot.seconds
    title = "; ".join(shot.shows for shot in shots)
    style = "\n".join((*rules, ".shot { visibility: hidden }", _last(len(shots)), STILL))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size[1]} {size[2]}" role="img">'
        f"<title>{title}</title><style>{style}</style>{''.join(parts)}</svg>"
    )


def _rule(number: int, begins: float, ends: float, whole_s: float) -> str:
    before = "" if number == 0 else "0% { visibility: hidden } "
    return (
        f"@keyframes show{number} {{ {before}{begins:.3f}% {{ visibility: visible }} "
        f"{ends:.3f}% {{ visibility: hidden }} 100% {{ visibility: hidden }} }}\n"
        f"#shot{number} {{ animation: show{number} {whole_s:g}s step-end infinite }}"
    )


def _last(shots: int) -> str:
    return f"#shot{shots - 1} {{ visibility: visible }}"
