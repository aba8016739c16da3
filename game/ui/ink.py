"""Ink on the paper: a soft pencil, round and without gaps at every speed.

Discs are stamped at sixteen sub-pixel phases along a smooth line through the points (quadratic curves from middle to
middle), the strongest one winning at each pixel, so that strokes that cross do not darken; a fine grain lies over it.
The last bit, up to where the pen is now, is drawn at once and smoothed when the next point is known.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import pairwise
from random import Random

import pygame

from game.core.layout import Box, Point
from game.ui import look
from game.ui.draw import Page
from game.ui.look import Colour
from game.ui.window import View

PHASES = 4
FINER = 8
"""Discs are drawn so many times larger and smoothed down, once for each width and colour."""
GRAIN_SIDE = 128
GRAIN_LEAST, GRAIN_MOST = 214, 255
FADE_S = 0.8


@lru_cache(maxsize=24)
def _discs(width: float, colour: Colour) -> tuple[pygame.Surface, ...]:
    """A disc of `width` pixels at each of PHASES x PHASES places within a pixel."""
    side = math.ceil(width) + 3
    made = []
    for phase in range(PHASES * PHASES):
        right, down = phase % PHASES / PHASES, phase // PHASES / PHASES
        large = pygame.Surface((side * FINER, side * FINER), pygame.SRCALPHA)
        large.fill((*colour, 0))
        centre = (round((side // 2 + right) * FINER), round((side // 2 + down) * FINER))
        pygame.draw.circle(large, (*colour, 255), centre, width * FINER / 2)
        made.append(pygame.transform.smoothscale(large, (side, side)))
    return tuple(made)


@lru_cache(maxsize=1)
def _grain() -> pygame.Surface:
    """How much of the pencil the paper takes, pixel by pixel: small soft specks, the same in every run."""
    rng = Random(10)
    grain = pygame.Surface((GRAIN_SIDE, GRAIN_SIDE), pygame.SRCALPHA)
    for x in range(GRAIN_SIDE):
        for y in range(GRAIN_SIDE):
            rough = min(1.0, rng.random() + rng.random() / 2)
            grain.set_at((x, y), (255, 255, 255, round(GRAIN_LEAST + (GRAIN_MOST - GRAIN_LEAST) * rough)))
    return grain


class InkLayer:
    """The ink in a box of the page. `width` of the pen in page units; `strokes` are those that lie there now."""

    def __init__(self, box: Box, width: float, view: View, colour: Colour = look.INK) -> None:
        self.box, self.width, self.colour = box, width, colour
        self.strokes: list[list[Point]] = []
        self._live: list[Point] | None = None
        self._fading: list[tuple[pygame.Surface, pygame.Rect, float]] = []
        self._tail = pygame.Rect(0, 0, 0, 0)
        self._blank(view)

    def _blank(self, view: View) -> None:
        self.view = view
        _, _, width, height = view.box(self.box)
        self._mask = pygame.Surface((max(1, width), max(1, height)), pygame.SRCALPHA)
        self._shown = pygame.Surface(self._mask.get_size(), pygame.SRCALPHA)
        self._inked = pygame.Rect(0, 0, 0, 0)
        self._tail = pygame.Rect(0, 0, 0, 0)
        self._at = view.to_window(self.box.x, self.box.y)

    # ------------------------------------------------------------------ writing
    def begin(self, point: Point) -> None:
        self._live = [point]
        self.strokes.append(self._live)
        self._show(self._stamp([point, point]))

    def add(self, point: Point) -> None:
        """The pen moved on to `point`."""
        if self._live is None:
            self.begin(point)
            return
        self._live.append(point)
        self._ink_newest(self._live)

    def end(self) -> None:
        """The pen went up: the last bit is ink now."""
        if self._live is not None and len(self._live) > 1:
            self._show(self._stamp([_middle(*self._live[-2:]), self._live[-1]]))
        self._live = None
        self._tail = pygame.Rect(0, 0, 0, 0)

    def drop(self) -> None:
        """Take the present stroke away at once: it was none."""
        if self._live is not None:
            self._live = None
            self.strokes.pop()
            self._again()

    # ------------------------------------------------------------------ taking away
    def undo(self) -> None:
        """The last stroke fades away."""
        self.end()
        if self.strokes:
            self._fade(self.strokes[-1:])
            self.strokes.pop()
            self._again()

    def clear(self) -> None:
        """All of it fades away."""
        self.end()
        self._fade(self.strokes)
        self.strokes.clear()
        self._again()

    def update(self, dt_s: float, view: View) -> None:
        self._fading = [(made, at, s - dt_s) for made, at, s in self._fading if s > dt_s]
        if view != self.view:
            self._fading.clear()
            self._again(view)

    def _fade(self, strokes: Sequence[Sequence[Point]]) -> None:
        inked = self._bounds([point for stroke in strokes for point in stroke])
        if inked.w and inked.h:
            self._fading.append((self._shown.subsurface(inked).copy(), inked, FADE_S))

    def _again(self, view: View | None = None) -> None:
        """Draw what is left once more."""
        strokes, live = self.strokes, self._live
        self._blank(view or self.view)
        for stroke in strokes:
            self._show(self._stamp(_smooth(stroke)))
        self._live = live

    # ------------------------------------------------------------------ pixels
    def draw(self, page: Page, alpha: float = 1.0) -> None:
        for made, at, left_s in self._fading:
            made.set_alpha(round(255 * left_s / FADE_S * alpha))
            page.surface.blit(made, (self._at[0] + at.x, self._at[1] + at.y))
        if self._inked.w and alpha > 0:
            self._shown.set_alpha(round(255 * alpha))
            page.surface.blit(self._shown, (self._at[0] + self._inked.x, self._at[1] + self._inked.y), self._inked)

    def _ink_newest(self, live: Sequence[Point]) -> None:
        """Make the newest corner round, and draw straight on to the pen."""
        first = live[0] if len(live) == 2 else _middle(live[-3], live[-2])
        last = _middle(live[-2], live[-1])
        corner = live[-2]
        changed = _joined(self._stamp(_curve(first, corner, last)), self._tail)
        tail = [last, live[-1]]
        self._tail = self._bounds(tail)
        self._show(_joined(changed, self._tail), tail)

    def _stamp(self, line: Sequence[Point]) -> pygame.Rect:
        """Put discs along the line; the changed pixels."""
        self._put(self._mask, line, (0, 0))
        return self._bounds(line)

    def _put(self, onto: pygame.Surface, line: Sequence[Point], offset: tuple[int, int]) -> None:
        width = self.width * self.view.k
        discs = _discs(round(max(2.0, width), 1), self.colour)
        half = discs[0].get_width() // 2
        for x, y in _walk([self._pixel(point) for point in line], max(1.0, width / 10)):
            left, top = math.floor(x), math.floor(y)
            phase = math.floor((x - left) * PHASES) + PHASES * math.floor((y - top) * PHASES)
            where = (left - half - offset[0], top - half - offset[1])
            onto.blit(discs[phase], where, special_flags=pygame.BLEND_RGBA_MAX)

    def _show(self, changed: pygame.Rect, tail: Sequence[Point] = ()) -> None:
        """Bring the changed pixels to what is seen, with the grain; the tail is seen without being ink yet."""
        if not (changed.w and changed.h):
            return
        patch = pygame.Surface(changed.size, pygame.SRCALPHA)
        patch.blit(self._mask, (0, 0), changed, pygame.BLEND_RGBA_ADD)
        if tail:
            self._put(patch, tail, changed.topleft)
        grain = _grain()
        for x in range(-(changed.x % GRAIN_SIDE), changed.w, GRAIN_SIDE):
            for y in range(-(changed.y % GRAIN_SIDE), changed.h, GRAIN_SIDE):
                patch.blit(grain, (x, y), special_flags=pygame.BLEND_RGBA_MULT)
        self._shown.fill((0, 0, 0, 0), changed)
        self._shown.blit(patch, changed, special_flags=pygame.BLEND_RGBA_ADD)
        self._inked = _joined(self._inked, changed)

    def _bounds(self, line: Iterable[Point]) -> pygame.Rect:
        """The pixels of the layer that a pen along the line can reach."""
        pixels = [self._pixel(point) for point in line]
        if not pixels:
            return pygame.Rect(0, 0, 0, 0)
        edge = self.width * self.view.k / 2 + 3
        left, top = min(x for x, _ in pixels) - edge, min(y for _, y in pixels) - edge
        right, foot = max(x for x, _ in pixels) + edge, max(y for _, y in pixels) + edge
        found = pygame.Rect(math.floor(left), math.floor(top), math.ceil(right - left) + 1, math.ceil(foot - top) + 1)
        return found.clip(self._mask.get_rect())

    def _pixel(self, point: Point) -> Point:
        return (point[0] - self.box.x) * self.view.k, (point[1] - self.box.y) * self.view.k


def _joined(a: pygame.Rect, b: pygame.Rect) -> pygame.Rect:
    """Both rectangles; an empty one counts for nothing, wherever it lies."""
    if not (a.w and a.h):
        return b.copy()
    return a.union(b) if b.w and b.h else a.copy()


def _middle(a: Point, b: Point) -> Point:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def _curve(first: Point, corner: Point, last: Point) -> list[Point]:
    """A quadratic curve as a fine polyline."""
    parts = max(2, min(24, math.ceil((math.dist(first, corner) + math.dist(corner, last)) / 5)))
    line = []
    for part in range(parts + 1):
        t = part / parts
        a, b, c = (1 - t) ** 2, 2 * t * (1 - t), t * t
        line.append((a * first[0] + b * corner[0] + c * last[0], a * first[1] + b * corner[1] + c * last[1]))
    return line


def _smooth(points: Sequence[Point]) -> list[Point]:
    """A whole stroke as it was drawn bit by bit."""
    if len(points) == 1:
        return [points[0], points[0]]
    line: list[Point] = [points[0]]
    for before, corner, after in zip(points, points[1:], points[2:], strict=False):
        line += _curve(_middle(before, corner), corner, _middle(corner, after))
    return [*line, points[-1]]


def _walk(pixels: Sequence[Point], step: float) -> Iterable[Point]:
    """Places along the line, at most `step` apart, both ends included."""
    yield pixels[0]
    for (ax, ay), (bx, by) in pairwise(pixels):
        parts = max(1, math.ceil(math.dist((ax, ay), (bx, by)) / step))
        for part in range(1, parts + 1):
            yield ax + (bx - ax) * part / parts, ay + (by - ay) * part / parts
