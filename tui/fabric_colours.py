"""Fabrics -> colours for the pictures: the maker's own, else chosen by value and place in the file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import cos, radians, sin
from typing import NamedTuple

from planner.project import Fabric

BLACK, WHITE = "#000000", "#ffffff"

_LIGHTEST, _DARKEST = 0.94, 0.34  # lightness as the eye sees it, of values 1 and 10
_FIRST_HUE, _NEXT_HUE = 255.0, 137.508  # degrees; this step keeps any number of hues apart
_PALE, _CHROMA = 0.04, 0.075  # muted, as cloth is, light cloth most: the purest colours of a screen come to 0.3


class FabricColour(NamedTuple):
    """Two colours as `#rrggbb`: of the cloth, and of what is written on it (contrast at least 4.5 to 1)."""

    cloth: str
    text: str


def colour_fabrics(fabrics: Sequence[Fabric]) -> Mapping[str, FabricColour]:
    """A colour for each fabric, by its name; the same fabrics in the same order always get the same."""
    colours = {}
    for place, fabric in enumerate(fabrics):
        cloth = fabric.colour or _choose(fabric.value, place)
        colours[fabric.name] = FabricColour(cloth, write_on(cloth))
    return colours


def contrast(first: str, second: str) -> float:
    """The contrast of two colours, from 1 to 21, as the web accessibility guidelines (WCAG 2) define it."""
    low, high = sorted((_luminance(first), _luminance(second)))
    return (high + 0.05) / (low + 0.05)


def write_on(cloth: str) -> str:
    """Black or white, whichever can be read better on a cloth: one of the two always has a contrast of 4.5."""
    return BLACK if contrast(cloth, BLACK) >= contrast(cloth, WHITE) else WHITE


def _choose(value: int, place: int) -> str:
    """As light as the value says; each fabric a hue of its own."""
    lightness = _LIGHTEST - (_LIGHTEST - _DARKEST) * (value - 1) / 9
    hue = radians(_FIRST_HUE + place * _NEXT_HUE)
    chroma = min(_CHROMA, _PALE + (_CHROMA - _PALE) * (value - 1) / 4)
    while True:
        colour = _mix(lightness, chroma * cos(hue), chroma * sin(hue))
        if all(-0.0005 <= part <= 1.0005 for part in colour):
            return "#" + "".join(f"{round(255 * _to_screen(part)):02x}" for part in colour)
        chroma *= 0.9  # the screen has no such colour: take a greyer one


def _mix(lightness: float, a: float, b: float) -> tuple[float, float, float]:
    """Linear red, green and blue of a colour in Oklab, in which equal steps look equally large."""
    long = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3
    middle = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3
    short = (lightness - 0.0894841775 * a - 1.2914855480 * b) ** 3
    return (
        4.0767416621 * long - 3.3077115913 * middle + 0.2309699292 * short,
        -1.2684380046 * long + 2.6097574011 * middle - 0.3413193965 * short,
        -0.0041960863 * long - 0.7034186147 * middle + 1.7076147010 * short,
    )


def _to_screen(part: float) -> float:
    part = min(1.0, max(0.0, part))
    return 12.92 * part if part <= 0.0031308 else 1.055 * float(part ** (1 / 2.4)) - 0.055


def _luminance(colour: str) -> float:
    red, green, blue = (_to_light(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _to_light(part: float) -> float:
    return part / 12.92 if part <= 0.03928 else float(((part + 0.055) / 1.055) ** 2.4)
