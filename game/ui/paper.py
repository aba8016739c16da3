"""The paper that is written on: cards, the three lines, where a model stands, and strokes drawn in page units."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import pygame

from game.core.layout import Box, Point
from game.core.writing.curves import Line, length
from game.core.writing.forms import Form
from game.ui import look
from game.ui.draw import Page
from game.ui.look import Colour
from game.ui.raster import rasterise
from game.ui.shapes import rgb, svg
from game.ui.window import View

CARDS = (Box(132, 52, 312, 572), Box(460, 52, 688, 572))
"""The model's card and the writing hand's paper beside it. The hand never covers the model: on the left for a right
hand, on the right for a left hand."""
WORD_CARDS = (Box(132, 52, 336, 572), Box(486, 52, 662, 572))
TALLEST, TALLEST_BESIDE, TALLEST_WORD = 390.0, 352.0, 290.0
"""Height of a numeral, from the top line to the base line: traced, beside its model, in a word."""
MIDDLE_Y = 338.0
LINE_INSET = 30.0
SIDE_ROOM, MODEL_ROOM = 46.0, 28.0
"""Free space to each side of what is written, and of a model."""
LOOSE = 1.12
"""A child's word is wider than the model by about so much."""
MODEL_PEN = 0.10
"""Width of the pen of a model, in heights of a numeral."""
HANGS = 0.5
"""How far g hangs below the base line, in heights of a numeral."""


@dataclass(frozen=True, slots=True)
class Ruled:
    """Three lines from `left` to `right`: the top line, the dashed midline and the base line, in page units."""

    left: float
    right: float
    top: float
    base: float

    @property
    def height(self) -> float:
        return self.base - self.top

    def place(self, form: Form) -> list[Line]:
        """The strokes of the form on these lines, in the middle of them."""
        x = (self.left + self.right - form.width * self.height) / 2
        return [tuple((x + u * self.height, self.top + v * self.height) for u, v in s.line) for s in form.strokes]

    def parts(self) -> list[str]:
        """The lines, drawn in page units."""

        def line(y: float, colour: Colour, width: float, more: str = "") -> str:
            return (
                f'<path d="M{self.left:g} {y:g} L{self.right:g} {y:g}" fill="none" stroke="{rgb(colour)}" '
                f'stroke-width="{width:g}" stroke-linecap="round" {more}/>'
            )

        dashes = 'stroke-dasharray="16 16"'
        return [
            line(self.top, look.STONE, 3),
            line((self.top + self.base) / 2, look.STONE, 2.5, dashes),
            line(self.base, look.MAUVE, 5),
        ]

    def sketch(self) -> Sketch:
        return Sketch(around([((self.left, self.top), (self.right, self.base))], 6), self.parts())


def ruled(card: Box, form: Form, tallest: float, loose: float = 1.0, room: float = SIDE_ROOM) -> Ruled:
    """Lines on the card that are as tall as the form and the card allow, in the middle of the card's height."""
    hangs = max(0.0, max(y for stroke in form.strokes for _, y in stroke.line) - 1.0)
    width = card.w - 2 * room
    height = min(tallest, width / (form.width * loose + MODEL_PEN))
    top = MIDDLE_Y - height * (1 + hangs) / 2
    inset = min(room, LINE_INSET)
    return Ruled(card.x + inset, card.x + card.w - inset, round(top, 1), round(top + height, 1))


def other_side(box: Box) -> Box:
    return Box(look.PAGE_WIDTH - box.x - box.w, box.y, box.w, box.h)


class Sketch:
    """Drawn parts in page units inside a box, kept as pixels as long as the sketch itself is kept."""

    def __init__(self, box: Box, parts: Iterable[str]) -> None:
        self.box = box
        shifted = f'<g transform="translate({-box.x:g} {-box.y:g})">{"".join(parts)}</g>'
        self._text = svg(box.w, box.h, shifted)
        self._made: tuple[View, pygame.Surface] | None = None

    def draw(self, page: Page, alpha: float = 1.0) -> None:
        if alpha <= 0:
            return
        if self._made is None or self._made[0] != page.view:
            _, _, width, height = page.view.box(self.box)
            made = rasterise(self._text, max(1, width), max(1, height)).convert_alpha()
            self._made = (page.view, made)
        self._made[1].set_alpha(round(255 * min(alpha, 1.0)))
        page.surface.blit(self._made[1], page.view.to_window(self.box.x, self.box.y))


def around(lines: Sequence[Line], edge: float) -> Box:
    """The box around the lines with `edge` units on each side."""
    xs, ys = [x for line in lines for x, _ in line], [y for line in lines for _, y in line]
    left, top = round(min(xs) - edge), round(min(ys) - edge)
    return Box(left, top, round(max(xs) + edge) - left, round(max(ys) + edge) - top)


def stroked(lines: Sequence[Line], colour: Colour, width: float, dashes: str = "", opacity: float = 1.0) -> str:
    """The lines with a round pen."""
    path = " ".join("M" + " L".join(f"{x:.1f} {y:.1f}" for x, y in line) for line in lines)
    dash = f'stroke-dasharray="{dashes}"' if dashes else ""
    return (
        f'<path d="{path}" fill="none" stroke="{rgb(colour)}" stroke-width="{width:g}" stroke-linecap="round" '
        f'stroke-linejoin="round" stroke-opacity="{opacity:g}" {dash}/>'
    )


def dots_along(line: Line, apart: float, radius: float, colour: Colour) -> str:
    """Small discs along a line, the first half a step from its start."""
    parts = []
    walked, due = 0.0, apart / 2
    for (ax, ay), (bx, by) in pairwise(line):
        leg = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
        while leg > 0 and walked + leg >= due:
            share = (due - walked) / leg
            x, y = ax + (bx - ax) * share, ay + (by - ay) * share
            parts.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:g}" fill="{rgb(colour)}"/>')
            due += apart
        walked += leg
    return "".join(parts)


def model(form: Form, lines: Ruled) -> tuple[Sketch, list[Line]]:
    """A model on its own lines, and its strokes in page units."""
    strokes = lines.place(form)
    box = around([*strokes, ((lines.left, lines.top), (lines.right, lines.base))], 30)
    return Sketch(box, [*lines.parts(), stroked(strokes, look.INK, MODEL_PEN * lines.height)]), strokes


def arrow(line: Line, reach: float, width: float, colour: Colour) -> tuple[str, Box] | None:
    """An arrow along the first `reach` units of the line, and its box; None where the line is too short for one."""
    cut = part_of(line, reach)
    if len(cut) < 2 or length(cut) < reach * 0.55:
        return None
    (ax, ay), (bx, by) = _back(cut, width * 2.2), cut[-1]
    size = max(((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5, 1e-6)
    ux, uy = (bx - ax) / size, (by - ay) / size
    long, wide = width * 2.3, width * 1.9
    tip = (bx + ux * width * 0.9, by + uy * width * 0.9)
    foot = (tip[0] - ux * long, tip[1] - uy * long)
    head = (
        f"M{tip[0]:.1f} {tip[1]:.1f} L{foot[0] - uy * wide:.1f} {foot[1] + ux * wide:.1f} "
        f"L{foot[0] + uy * wide:.1f} {foot[1] - ux * wide:.1f} Z"
    )
    shaft = stroked([cut], colour, width)
    pointed = f'<path d="{head}" fill="{rgb(colour)}" stroke="{rgb(colour)}" stroke-width="3" stroke-linejoin="round"/>'
    return shaft + pointed, around([cut], width * 4)


def part_of(line: Line, reach: float) -> Line:
    """The first `reach` units of the line."""
    cut: list[Point] = [line[0]]
    left = reach
    for a, b in pairwise(line):
        leg = ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
        if leg >= left:
            share = left / leg if leg else 0.0
            return (*cut, (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share))
        left -= leg
        cut.append(b)
    return tuple(cut)


def _back(line: Line, by: float) -> Point:
    """The point `by` units before the line's end."""
    return part_of(line[::-1], by)[-1]
