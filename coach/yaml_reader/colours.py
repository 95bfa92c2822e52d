"""Colours as makers name them, `#5b7f3a`, `#5b3`, or a name of CSS Color Level 4 (W3C)."""

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import cycle
from types import MappingProxyType
from typing import Final

from coach.colour import difference, oklab

_TABLE: Final = """
    aliceblue=f0f8ff antiquewhite=faebd7 aqua=00ffff aquamarine=7fffd4 azure=f0ffff beige=f5f5dc
    bisque=ffe4c4 black=000000 blanchedalmond=ffebcd blue=0000ff blueviolet=8a2be2 brown=a52a2a
    burlywood=deb887 cadetblue=5f9ea0 chartreuse=7fff00 chocolate=d2691e coral=ff7f50
    cornflowerblue=6495ed cornsilk=fff8dc crimson=dc143c cyan=00ffff darkblue=00008b
    darkcyan=008b8b darkgoldenrod=b8860b darkgray=a9a9a9 darkgreen=006400 darkgrey=a9a9a9
    darkkhaki=bdb76b darkmagenta=8b008b darkolivegreen=556b2f darkorange=ff8c00
    darkorchid=9932cc darkred=8b0000 darksalmon=e9967a darkseagreen=8fbc8f darkslateblue=483d8b
    darkslategray=2f4f4f darkslategrey=2f4f4f darkturquoise=00ced1 darkviolet=9400d3
    deeppink=ff1493 deepskyblue=00bfff dimgray=696969 dimgrey=696969 dodgerblue=1e90ff
    firebrick=b22222 floralwhite=fffaf0 forestgreen=228b22 fuchsia=ff00ff gainsboro=dcdcdc
    ghostwhite=f8f8ff gold=ffd700 goldenrod=daa520 gray=808080 green=008000 greenyellow=adff2f
    grey=808080 honeydew=f0fff0 hotpink=ff69b4 indianred=cd5c5c indigo=4b0082 ivory=fffff0
    khaki=f0e68c lavender=e6e6fa lavenderblush=fff0f5 lawngreen=7cfc00 lemonchiffon=fffacd
    lightblue=add8e6 lightcoral=f08080 lightcyan=e0ffff lightgoldenrodyellow=fafad2
    lightgray=d3d3d3 lightgreen=90ee90 lightgrey=d3d3d3 lightpink=ffb6c1 lightsalmon=ffa07a
    lightseagreen=20b2aa lightskyblue=87cefa lightslategray=778899 lightslategrey=778899
    lightsteelblue=b0c4de lightyellow=ffffe0 lime=00ff00 limegreen=32cd32 linen=faf0e6
    magenta=ff00ff maroon=800000 mediumaquamarine=66cdaa mediumblue=0000cd mediumorchid=ba55d3
    mediumpurple=9370db mediumseagreen=3cb371 mediumslateblue=7b68ee mediumspringgreen=00fa9a
    mediumturquoise=48d1cc mediumvioletred=c71585 midnightblue=191970 mintcream=f5fffa
    mistyrose=ffe4e1 moccasin=ffe4b5 navajowhite=ffdead navy=000080 oldlace=fdf5e6 olive=808000
    olivedrab=6b8e23 orange=ffa500 orangered=ff4500 orchid=da70d6 palegoldenrod=eee8aa
    palegreen=98fb98 paleturquoise=afeeee palevioletred=db7093 papayawhip=ffefd5
    peachpuff=ffdab9 peru=cd853f pink=ffc0cb plum=dda0dd powderblue=b0e0e6 purple=800080
    rebeccapurple=663399 red=ff0000 rosybrown=bc8f8f royalblue=4169e1 saddlebrown=8b4513
    salmon=fa8072 sandybrown=f4a460 seagreen=2e8b57 seashell=fff5ee sienna=a0522d silver=c0c0c0
    skyblue=87ceeb slateblue=6a5acd slategray=708090 slategrey=708090 snow=fffafa
    springgreen=00ff7f steelblue=4682b4 tan=d2b48c teal=008080 thistle=d8bfd8 tomato=ff6347
    turquoise=40e0d0 violet=ee82ee wheat=f5deb3 white=ffffff whitesmoke=f5f5f5 yellow=ffff00
    yellowgreen=9acd32
"""

NAMED: Final = MappingProxyType(
    {name: f"#{value}" for name, _, value in (pair.partition("=") for pair in _TABLE.split())}
)
_HEX = re.compile(r"#(?:[0-9a-f]{3}|[0-9a-f]{6})")
TOLD_APART: Final = (
    "#e69f00", "#56b4e9", "#009e73", "#f0e442", "#0072b2", "#d55e00", "#cc79a7", "#000000",
)  # fmt: skip
"""Colours that most colour-blind people tell apart too: M. Okabe and K. Ito (read)."""
_ALIKE: Final = 0.1  # half of what lies between the two of them that are most alike


def hex_colour(text: str) -> str | None:
    """Return a colour as `#rrggbb` in lower case, or None for an unknown one."""
    colour = text.strip().lower()
    if not _HEX.fullmatch(colour):
        return NAMED.get(colour.replace(" ", ""))
    digits = colour[1:]
    return f"#{''.join(digit * (6 // len(digits)) for digit in digits)}"


def is_hex(text: str) -> bool:
    """Return whether a colour was written in figures, not by a name."""
    return _HEX.fullmatch(text.strip().lower()) is not None


def spare_colours(taken: Iterable[str]) -> Iterator[str]:
    """Yield, endlessly, colours that can be told apart from those taken and from each other.

    After the set come its lighter and its darker shades; a file with still more cords begins
    the set again.
    """
    seen = [oklab(colour) for colour in taken]
    shades = [_halfway(colour, end) for end in (255, 0) for colour in TOLD_APART]
    for colour in (*TOLD_APART, *shades):
        place = oklab(colour)
        if all(difference(place, other) >= _ALIKE for other in seen):
            seen.append(place)
            yield colour
    yield from cycle(TOLD_APART)


def _halfway(colour: str, end: int) -> str:
    """Return the colour halfway to white (255) or black (0)."""
    return "#" + "".join(f"{(int(colour[at : at + 2], 16) + end) // 2:02x}" for at in (1, 3, 5))


_PLAIN_NAMES: Final = """
    white=ffffff,f2f4f3,e4e9e6
    cream=fbf3dc,f7edd0,fffdd0,ffffe6
    beige=e9dfc8,f5f5dc,d9d0bd
    sand=dccaa0,cfbb93,e2ca76
    tan=b99c72,d2b48c,c8a97e,a98a5f
    brown=8b5a33,a0522d,5c4430,6b4a2f,a4553a,8a7355,33241b
    rust=b5461f,9c3f1e
    orange=e8822e,ffa500,d55e00,f2a65e
    peach=ffd8b8,f6bf9c
    coral=f08070,ff7f50,cd5c5c
    gold=d4a72c,b8860b
    yellow=f5d93c,ffff00,f7e98a
    olive=7a7a35,808000,55552a,8f8f5a
    green=4c8a3f,5b7f3a,008000,2e5c34,2ecc40,24402b,a9cf9a,8fbc8f,7fff00,9acd32,00b894,d5eccb
    teal=1b7f7c,008080,0f5555,5f9ea0
    turquoise=40c8c0,40e0d0,00ffff,aeeae6
    light_blue=a9cbe6,87ceeb,cfe3f2
    blue=2c6fb5,1f6f8b,0000ff,5b84b1,41506b,4f5fd0
    navy=1b2a4e,000080
    purple=6f3f8f,800080,4b2a5e,9b59d0,6a5acd
    lilac=b79bd0,dcc6ea,da8ee0
    pink=ee9fb4,ffc0cb,e75480,c8969a,d81b7a,ff00ff
    red=c8262b,ff0000
    maroon=7a1f2b,4a1520
    grey=808080,9a9a9a,6a6a6a,b8bab8,cfd2d0,444648,708090
    black=000000,1c1c1e
"""
"""Each name with colours that it is surely said of: our own choice, looked at on a chart."""

PLAIN_NAMES: Final = {
    name.replace("_", " "): tuple(f"#{value}" for value in values.split(","))
    for name, _, values in (line.partition("=") for line in _PLAIN_NAMES.split())
}
_PLACES: Final = tuple(
    (oklab(colour), name) for name, colours in PLAIN_NAMES.items() for colour in colours
)


@lru_cache(maxsize=256)  # a piece has few colours and says them with every step
def nearest_colour_name(colour: str) -> str:
    """Return the plain name that looks nearest to a colour `#rrggbb`."""
    place = oklab(colour)
    return min(_PLACES, key=lambda known: difference(known[0], place))[1]
