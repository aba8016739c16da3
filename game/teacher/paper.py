"""Drawing on paper, in millimetres: ruled lines, dotted forms with start dots, ten frames, sets, hands to colour.

Every function gives the inside of an SVG whose user unit is one millimetre; only numbers and our own words go into it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from markupsafe import Markup

from game.core.layout import Box, arrange
from game.core.records import Hand
from game.core.writing.forms import Form
from game.teacher.page import symbol

RULING = 15.0
"""From the top line to the base line: a usual height for first writing (practice)."""
WORD_RULING = 11.0
CELL = 11.0
THING = 8.6
UNITS_A_MM = 10.0
START_DOT, WORD_DOT = 1.5, 1.0
LINE = 0.09
"""Width of a drawn numeral's line, in parts of its height."""
_DEFS = re.compile(r"<defs>.*?</defs>", re.DOTALL)
_SHADE = re.compile(r'<(?:path|circle|ellipse|rect|polygon)\b[^>]*?\b(?:fill-|stroke-)?opacity="[^>]*?/>')
_FILL = re.compile(r'fill="(?!none|#2b2440)[^"]*"')
_STROKE = re.compile(r'stroke="(?!none)[^"]*"')


def outline(path: Path, name: str) -> Markup:
    """One of our pictures as a symbol to be coloured in: shades and fills taken out, lines kept."""
    drawn = _DEFS.sub("", symbol(path, name))
    drawn = _FILL.sub('fill="#fff"', _SHADE.sub("", drawn))
    return Markup(_STROKE.sub('stroke="#2b2440"', drawn))


def ruling(x: float, y: float, width: float, height: float = RULING) -> str:
    """Top line, dashed middle line and base line; `y` is that of the top line."""
    return "".join(
        f'<line class="{name}" x1="{x:.2f}" x2="{x + width:.2f}" y1="{at:.2f}" y2="{at:.2f}"/>'
        for name, at in (("line", y), ("middle", y + height / 2), ("line", y + height))
    )


def written(form: Form, x: float, y: float, kind: str, height: float = RULING) -> str:
    """A form on the ruling, its left edge at `x`: `kind` is solid, dotted or start (the start dots alone)."""
    left = min(px for stroke in form.strokes for px, _ in stroke.line)
    radius = (START_DOT if len(form.symbol) == 1 or form.symbol.isdigit() else WORD_DOT) * height / RULING
    parts: list[str] = []
    starts: list[str] = []
    for number, stroke in enumerate(form.strokes, 1):
        points = [(x + (px - left) * height, y + py * height) for px, py in stroke.line]
        if kind != "start":
            path = " ".join(f"{px:.2f},{py:.2f}" for px, py in points)
            width = f' stroke-width="{LINE * height:.2f}"' if kind != "dotted" else ""
            word = "" if len(form.symbol) == 1 or form.symbol.isdigit() else " fine"
            parts.append(f'<polyline class="{kind}{word}"{width} points="{path}"/>')
        if kind in ("start", "dotted"):
            starts.append(_start(points[0], number if len(form.strokes) > 1 and kind == "dotted" else None, radius))
    return "".join(parts) + "".join(starts)


def _start(point: tuple[float, float], number: int | None, radius: float) -> str:
    dot = f'<circle class="start" cx="{point[0]:.2f}" cy="{point[1]:.2f}" r="{radius:.2f}"/>'
    if number is None:
        return dot
    place = f'x="{point[0]:.2f}" y="{point[1] + radius * 0.6:.2f}" font-size="{radius * 1.6:.2f}"'
    return f'{dot}<text class="turn" {place}>{number}</text>'


def ruling_for(form: Form) -> float:
    """Numerals stand on the wide ruling, words on a narrower one, so that a row holds a word four times."""
    return RULING if form.symbol.isdigit() else WORD_RULING


def writing_row(form: Form, hand: Hand, width: float) -> str:
    """A ruled row: the model, dotted forms, start dots, free room. For a left hand the model stands at the right too,
    where the hand does not hide it."""
    height = ruling_for(form)
    step = form.width * height + (11.0 if form.symbol.isdigit() else 7.0)
    places = int((width - 6) // step)
    room = places - (hand == "left")
    parts = [ruling(0, 6, width, height)]
    for place in range(room):
        if place <= max(1.0, 0.5 * (room - 1)):
            parts.append(written(form, 6 + place * step, 6, "dotted" if place else "solid", height))
        elif place <= max(2.0, 0.85 * (room - 1)):
            parts.append(written(form, 6 + place * step, 6, "start", height))
    if hand == "left":
        parts.append(written(form, width - 6 - form.width * height, 6, "solid", height))
    return "".join(parts)


def answer_box(x: float, y: float) -> str:
    """A place for one numeral, 15 mm wide, with a top line and a base line."""
    return (
        f'<rect class="box" x="{x:.2f}" y="{y:.2f}" width="15" height="17" rx="2"/>'
        f'<line class="middle" x1="{x + 2:.2f}" x2="{x + 13:.2f}" y1="{y + 3.5:.2f}" y2="{y + 3.5:.2f}"/>'
        f'<line class="line" x1="{x + 2:.2f}" x2="{x + 13:.2f}" y1="{y + 13.5:.2f}" y2="{y + 13.5:.2f}"/>'
    )


def numeral(form: Form, x: float, y: float, height: float = 10.0) -> str:
    """A numeral to be read, drawn from its form, centred on `x`."""
    return written(form, x - form.width * height / 2, y, "plain", height)


def ten_frame(x: float, y: float, filled: int, cell: float = CELL) -> str:
    """Two rows of five; the row above is filled first."""
    parts = [f'<rect class="box" x="{x:.2f}" y="{y:.2f}" width="{5 * cell:.2f}" height="{2 * cell:.2f}"/>']
    for column in range(1, 5):
        at = x + column * cell
        parts.append(f'<line class="thin" x1="{at:.2f}" x2="{at:.2f}" y1="{y:.2f}" y2="{y + 2 * cell:.2f}"/>')
    parts.append(f'<line class="thin" x1="{x:.2f}" x2="{x + 5 * cell:.2f}" y1="{y + cell:.2f}" y2="{y + cell:.2f}"/>')
    for place in range(filled):
        cx, cy = x + (place % 5 + 0.5) * cell, y + (place // 5 + 0.5) * cell
        parts.append(f'<circle class="token" cx="{cx:.2f}" cy="{cy:.2f}" r="{cell * 0.34:.2f}"/>')
    return "".join(parts)


def thing_set(thing: str, places: Sequence[tuple[float, float]], x: float, y: float) -> str:
    """Things with their centres at `places`, in millimetres from (x, y)."""
    half = THING / 2
    return "".join(
        f'<use href="#thing-{thing}" x="{x + px - half:.2f}" y="{y + py - half:.2f}" width="{THING}" height="{THING}"/>'
        for px, py in places
    )


def places(arrangement: str, count: int, width: float, height: float, rng: object) -> list[tuple[float, float]]:
    """Where `count` things stand in a box, in millimetres; what does not fit in a line stands in rows."""
    box = Box(0, 0, width * UNITS_A_MM, height * UNITS_A_MM)
    size = THING * UNITS_A_MM
    if arrangement == "line" and count * size > box.w:
        arrangement = "array"
    found = arrange(arrangement, count, rng, box, size)  # type: ignore[arg-type]
    return [(px / UNITS_A_MM, py / UNITS_A_MM) for px, py in found]


def two_hands(x: float, y: float, height: float) -> str:
    """A left and a right hand with all fingers up, to be coloured."""
    width = height * 300 / 340
    left = f'<use href="#hand" x="{x:.2f}" y="{y:.2f}" width="{width:.2f}" height="{height:.2f}"/>'
    turned = f'<g transform="translate({x + 2 * width + 4:.2f} 0) scale(-1 1)">'
    return left + turned + f'<use href="#hand" x="0" y="{y:.2f}" width="{width:.2f}" height="{height:.2f}"/></g>'


def inside(made: Markup) -> Markup:
    """What stands inside a symbol."""
    return Markup(made[made.index(">") + 1 : made.rindex("<")])
