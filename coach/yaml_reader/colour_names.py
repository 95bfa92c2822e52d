"""Plain names for colours that a file gives as figures."""

from functools import lru_cache
from typing import Final

from coach.colour import difference, oklab

_TABLE: Final = """
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
    for name, _, values in (line.partition("=") for line in _TABLE.split())
}
_PLACES: Final = tuple(
    (oklab(colour), name) for name, colours in PLAIN_NAMES.items() for colour in colours
)


@lru_cache(maxsize=256)  # a piece has few colours and says them with every step
def plain_name(colour: str) -> str:
    """Return the plain name that looks nearest to a colour `#rrggbb`."""
    place = oklab(colour)
    return min(_PLACES, key=lambda known: difference(known[0], place))[1]
