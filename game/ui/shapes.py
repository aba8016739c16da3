"""The drawn shapes that no picture file holds, as SVG texts: cards, stones, tags, rings, frames, numerals."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from game.ui import look
from game.ui.look import Colour

if TYPE_CHECKING:
    from game.core.writing.forms import Form


def rgb(colour: Colour) -> str:
    return "#{:02x}{:02x}{:02x}".format(*colour)


def svg(width: float, height: float, *parts: str) -> str:
    """A whole picture of that size in units."""
    head = f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:g}" height="{height:g}"'
    return f'{head} viewBox="0 0 {width:g} {height:g}">{"".join(parts)}</svg>'


def layered(texts: Iterable[str]) -> str:
    """Whole SVG texts of the same view box, one above the other, as one."""
    first, *others = texts
    inner = [text[text.index(">", text.index("<svg")) + 1 : text.rindex("</svg>")] for text in others]
    end = first.rindex("</svg>")
    return first[:end] + "".join(inner) + first[end:]


@lru_cache(512)
def panel(width: float, height: float, radius: float, fill: Colour, line: Colour = look.INK, drop: float = 6.0) -> str:
    """A card with its outline and a soft shadow `drop` units below; `width` x `height` holds both."""
    edge = look.LINE / 2
    body = f'x="{edge:g}" width="{width - look.LINE:g}" height="{height - look.LINE - drop:g}" rx="{radius:g}"'
    shadow = f'<rect {body} y="{edge + drop:g}" fill="{rgb(look.INK)}" fill-opacity="0.35"/>' if drop else ""
    face = f'<rect {body} y="{edge:g}" fill="{rgb(fill)}" stroke="{rgb(line)}" stroke-width="{look.LINE:g}"/>'
    return svg(width, height, shadow, face)


@lru_cache(512)
def band(width: float, height: float) -> str:
    """A dark band with round ends, behind light words."""
    return svg(
        width, height, f'<rect width="{width:g}" height="{height:g}" rx="{height / 2:g}" fill="{rgb(look.NIGHT)}"/>'
    )


@lru_cache(512)
def block(width: float, height: float, radius: float, fill: Colour) -> str:
    """A plain patch of colour with round corners."""
    return svg(width, height, f'<rect width="{width:g}" height="{height:g}" rx="{radius:g}" fill="{rgb(fill)}"/>')


@lru_cache(512)
def ring(width: float, height: float, radius: float) -> str:
    """The mark of what is focused or right: a lamp-yellow band between two ink lines."""
    parts = [
        f'<rect x="7" y="7" width="{width - 14:g}" height="{height - 14:g}" rx="{radius:g}" fill="none" '
        f'stroke="{rgb(colour)}" stroke-width="{line:g}"/>'
        for colour, line in ((look.INK, 13), (look.LAMP, 7))
    ]
    return svg(width, height, *parts)


@lru_cache(512)
def disc(size: float, fill: Colour, line: Colour | None = look.INK, line_width: float = 4.0) -> str:
    half = size / 2
    stroke = "" if line is None else f'stroke="{rgb(line)}" stroke-width="{line_width:g}"'
    inset = 0.0 if line is None else line_width / 2
    return svg(size, size, f'<circle cx="{half:g}" cy="{half:g}" r="{half - inset:g}" fill="{rgb(fill)}" {stroke}/>')


_STONE = ((0.5, 0.03), (0.78, 0.01), (0.97, 0.16), (0.97, 0.5), (0.97, 0.86), (0.74, 0.99), (0.47, 0.99),
          (0.2, 0.99), (0.03, 0.84), (0.03, 0.52), (0.03, 0.2), (0.2, 0.05), (0.5, 0.03))  # fmt: skip
"""A softly uneven rounded outline: where it begins, then three points a curve, in widths and heights."""
_SHINE = ((0.16, 0.42), (0.2, 0.24), (0.32, 0.14), (0.46, 0.13))


@lru_cache(512)
def stone(width: float, height: float, pressed: bool) -> str:
    """A stepping stone seen from a little above: its flat top and the edge below it."""
    edge, drop = (4.0, 8.0) if pressed else (12.0, 0.0)
    tall = height - edge - drop - 2
    line = f'stroke="{rgb(look.INK)}" stroke-width="4" stroke-linejoin="round"'
    side = f'<path d="{_curves(_STONE, width, tall, drop + edge)}" fill="{rgb(look.STONE)}" {line}/>'
    face = f'<path d="{_curves(_STONE, width, tall, drop)}" fill="{rgb(look.PAPER_SHADE)}" {line}/>'
    light = (
        f'<path d="{_curves(_SHINE, width, tall, drop)}" fill="none" stroke="{rgb(look.SNOW)}" '
        'stroke-width="5" stroke-linecap="round" stroke-opacity="0.75"/>'
    )
    return svg(width, height, side, face, light)


def _curves(points: Sequence[tuple[float, float]], width: float, tall: float, top: float) -> str:
    """A path through curves that are given in shares of `width` and `tall`, moved down by `top`."""
    placed = [f"{x * width:.2f} {y * tall + top:.2f}" for x, y in points]
    return f"M{placed[0]} C{' '.join(placed[1:])}"


@lru_cache(512)
def frame(cell: float, columns: int = 5, rows: int = 2) -> str:
    """An empty ten frame of square cells, on a soft board; a little larger than its cells on each side."""
    pad = 10.0
    w, h = columns * cell + 2 * pad, rows * cell + 2 * pad
    board = (
        f'<rect x="3" y="3" width="{w - 6:g}" height="{h - 6:g}" rx="22" fill="{rgb(look.PAPER_SHADE)}" '
        f'stroke="{rgb(look.INK)}" stroke-width="6"/>'
    )
    lines = [_line(pad + cell * i, 6, pad + cell * i, h - 6) for i in range(1, columns)]
    lines += [_line(6, pad + cell * i, w - 6, pad + cell * i) for i in range(1, rows)]
    return svg(w, h, board, *lines)


def _line(x1: float, y1: float, x2: float, y2: float) -> str:
    return f'<path d="M{x1:g} {y1:g} L{x2:g} {y2:g}" stroke="{rgb(look.INK)}" stroke-width="4" fill="none"/>'


@lru_cache(512)
def link(width: float, height: float) -> str:
    """A lamp-yellow band between two things that make a pair."""
    body = f'x="2" y="2" width="{width - 4:g}" height="{height - 4:g}" rx="{height / 2 - 2:g}"'
    return svg(width, height, f'<rect {body} fill="{rgb(look.LAMP)}" stroke="{rgb(look.INK)}" stroke-width="3"/>')


@lru_cache(512)
def gap(size: float) -> str:
    """A ring of dashes: here something is missing."""
    middle = size / 2
    look_of = f'fill="none" stroke="{rgb(look.INK)}" stroke-width="5" stroke-linecap="round" stroke-dasharray="12 15"'
    return svg(size, size, f'<circle cx="{middle:g}" cy="{middle:g}" r="{middle - 4:g}" {look_of}/>')


@lru_cache(512)
def dots(count: int, width: float) -> str:
    """`count` dots as on a ten frame, the row of five first; empty places are thin rings."""
    step = width / 5
    radius = step * 0.34
    parts = []
    for place in range(10):
        at = f'cx="{step * (place % 5 + 0.5):g}" cy="{step * (place // 5 + 0.5):g}"'
        if place < count:
            parts.append(f'<circle {at} r="{radius:g}" fill="{rgb(look.INK)}"/>')
        else:
            parts.append(f'<circle {at} r="{radius - 1:g}" fill="none" stroke="{rgb(look.STONE)}" stroke-width="1.6"/>')
    return svg(width, step * 2, *parts)


def numeral_size(form: Form, height: float, pen: float = look.PEN) -> tuple[float, float]:
    """Width and height of the ink of a numeral drawn `height` units high, its pen included."""
    return (form.width * (1 - pen) + pen) * height, height


def numeral(form: Form, height: float, colour: Colour, pen: float = look.PEN) -> str:
    """A numeral drawn from its strokes with a round pen, `height` units from top to foot, pen included."""
    inner, thick = height * (1 - pen), height * pen
    left = min(x for stroke in form.strokes for x, _ in stroke.line)
    width, _ = numeral_size(form, height, pen)
    path = " ".join(_path(stroke.line, inner, thick / 2, left) for stroke in form.strokes)
    look_of = f'stroke="{rgb(colour)}" stroke-width="{thick:g}" stroke-linecap="round" stroke-linejoin="round"'
    return svg(round(width, 2), height, f'<path d="{path}" fill="none" {look_of}/>')


WORD_TALL = 2.2
"""Height of the drawing of a word, in heights of a numeral: room for what hangs below the base line."""


def word(form: Form, height: float, width: float, lines: bool, marked: int, pen: float = look.WORD_PEN) -> str:
    """A word in the middle of `width` x WORD_TALL `height`, as much room above its top line as below its base line.

    With `lines` it stands on three soft lines. The first `marked` strokes have another colour and a bar below them.
    """
    left = min(x for stroke in form.strokes for x, _ in stroke.line)
    x0, y0 = (width - form.width * height) / 2, height * (WORD_TALL - 1) / 2
    placed = [[(x0 + (x - left) * height, y0 + y * height) for x, y in stroke.line] for stroke in form.strokes]
    parts = _ruling(y0, height, width) if lines else []
    if marked:
        xs = [x for line in placed[:marked] for x, _ in line]
        thick = height * pen
        parts.append(
            f'<rect x="{min(xs) - thick:.1f}" y="{y0 + height * 1.14:.1f}" width="{max(xs) - min(xs) + 2 * thick:.1f}" '
            f'height="{thick:.1f}" rx="{thick / 2:.1f}" fill="{rgb(look.BRICK)}"/>'
        )
    for colour, some in ((look.BRICK, placed[:marked]), (look.INK, placed[marked:])):
        path = " ".join(_path(line, 1.0, 0.0, 0.0) for line in some)
        look_of = f'stroke-width="{height * pen:.1f}" stroke-linecap="round" stroke-linejoin="round"'
        parts.append(f'<path d="{path}" fill="none" stroke="{rgb(colour)}" {look_of}/>' if some else "")
    return svg(width, WORD_TALL * height, *parts)


def _ruling(top: float, height: float, width: float) -> list[str]:
    """Top line, dashed midline and base line over the whole width."""
    rules = ((0.0, look.STONE, 2.5, ""), (0.5, look.STONE, 2.0, 'stroke-dasharray="14 16"'), (1.0, look.MAUVE, 4.0, ""))
    return [
        f'<path d="M4 {top + y * height:g} L{width - 4:g} {top + y * height:g}" fill="none" stroke="{rgb(colour)}" '
        f'stroke-width="{line:g}" stroke-linecap="round" {more}/>'
        for y, colour, line, more in rules
    ]


def _path(line: Iterable[tuple[float, float]], scale: float, margin: float, left: float) -> str:
    return "M" + " L".join(f"{(x - left) * scale + margin:.2f} {y * scale + margin:.2f}" for x, y in line)
