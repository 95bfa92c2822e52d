"""The worker process that draws tiles, so that no picture delays a count.

Each line on standard input is a tile as JSON: its SVG and how it is to be sent. Each line on
standard output is the result, as JSON: sixels, or a PNG in base 64. It ends with its input.
This file is run by its path and imports nothing of ours, so that it starts quickly.
"""

import base64
import importlib
import io
import json
import sys

_DPI = 96.0


def encoded_tile(svg: str, way: str) -> str:
    """Return a tile as it is sent: sixels with their frame, or a PNG in base 64."""
    draw = importlib.import_module("resvg_py").svg_to_bytes
    png = bytes(draw(svg_string=svg, dpi=_DPI, skip_system_fonts=True))
    if way == "kitty":
        return base64.standard_b64encode(png).decode("ascii")
    image = importlib.import_module("PIL.Image").open(io.BytesIO(png)).convert("RGB")
    sixels: str = importlib.import_module("textual_image._sixel").image_to_sixels(image)
    return sixels


def serve_tiles() -> None:
    """Draw tiles until the input ends; the result of one that cannot be drawn is empty."""
    for line in sys.stdin:
        tile = json.loads(line)
        try:
            told = encoded_tile(tile["svg"], tile["way"])
        except Exception:  # noqa: BLE001 - whatever the libraries raise, the board stays as it is
            told = ""
        sys.stdout.write(json.dumps(told) + "\n")
        sys.stdout.flush()


if __name__ == "__main__":
    serve_tiles()
