"""The dotted way that is traced, and the lantern that shows it: start dot, direction arrow, road and dots."""

from __future__ import annotations

import math
from collections.abc import Sequence

from game.core.layout import Point
from game.core.writing.curves import Line, length
from game.core.writing.tracing import Reach, Trace
from game.ui import look, motion, paper, shapes
from game.ui.draw import Page

ROAD = 0.19
"""Width of the road, in heights of a numeral."""
ROAD_LEAST = 46.0
DOTS_APART, DOT = 21.0, 3.6
ARROW_FROM, ARROW_REACH, ARROW_WIDTH = 30.0, 74.0, 8.0
START_DOT = 44.0
HALO = 78.0
PULSE_S = 1.4
LANTERN, LIGHT = 64.0, 96.0
SHOW_SPEED = 0.62
"""Heights of a numeral that the lantern goes in a second."""
SHOW_LEAST_S = 0.8


class Way:
    """The strokes to follow now, drawn as a road; ahead of the pen waits a dot, and an arrow tells where it goes."""

    def __init__(self, strokes: Sequence[Line], height: float, ease: float = 1.0) -> None:
        self.trace = Trace(strokes, Reach.of(height, ease))
        self._strokes = list(strokes)
        self._road = self._draw_road(height)
        self._arrow: tuple[Point, paper.Sketch | None] | None = None
        self._pulse_s = 0.0

    def _draw_road(self, height: float) -> paper.Sketch:
        wide = max(ROAD * height, ROAD_LEAST)
        box = paper.around(self._strokes, wide / 2 + 6)
        road = [
            paper.stroked(self._strokes, look.STRAW, wide + 5, opacity=0.55),
            paper.stroked(self._strokes, look.PAPER_SHADE, wide),
        ]
        return paper.Sketch(box, road + [paper.dots_along(s, DOTS_APART, DOT, look.MAUVE) for s in self._strokes])

    def nudge(self) -> None:
        """Draw the eye to the dot once more."""
        self._pulse_s = 0.0

    def update(self, dt_s: float) -> None:
        self._pulse_s += dt_s
        waits = self.trace.waits_at
        if self._arrow is None or self._arrow[0] != waits:
            self._arrow = (waits, None if self.trace.done else self._new_arrow())

    def _new_arrow(self) -> paper.Sketch | None:
        ahead = paper.part_of(self.trace.ahead, ARROW_FROM + ARROW_REACH)
        before = paper.part_of(self.trace.ahead, ARROW_FROM)
        rest = (before[-1], *ahead[len(before) - 1 :]) if len(before) > 1 else ahead
        made = paper.arrow(rest, ARROW_REACH, ARROW_WIDTH, look.INK)
        return None if made is None else paper.Sketch(made[1], [made[0]])

    def draw_road(self, page: Page, waits: bool, calm: bool) -> None:
        """The road, and where the way `waits` for the pen the light around the dot."""
        self._road.draw(page)
        if waits and not self.trace.done:
            still = calm or self._pulse_s > look.STILL_AFTER_S
            beat = 0.0 if still else math.sin(math.pi * (self._pulse_s / PULSE_S % 1))
            light = shapes.disc(HALO, look.LAMP, None)
            page.shape(light, self.trace.waits_at, HALO, HALO, alpha=0.35 + 0.3 * beat)

    def draw_start(self, page: Page) -> None:
        """The waiting dot and its arrow, drawn above the ink."""
        if self.trace.done:
            return
        if self._arrow is not None and self._arrow[1] is not None:
            self._arrow[1].draw(page)
        page.disc(self.trace.waits_at, START_DOT, look.LAMP)


class Lantern:
    """A lantern that goes along one stroke, as slowly as a hand that shows it."""

    def __init__(self, line: Line, height: float) -> None:
        self._line = line
        self._seconds = max(SHOW_LEAST_S, length(line) / height / SHOW_SPEED)
        self._s = 0.0
        self.at: Point = line[0]

    def arrived(self) -> bool:
        return self._s >= self._seconds

    def update(self, dt_s: float) -> Sequence[Point]:
        """Go on; the points that were passed, the present one last."""
        before, self._s = self._share(), self._s + dt_s
        after = self._share()
        whole = length(self._line)
        parts = max(1, math.ceil(whole * (after - before) / 6))
        passed = [self._point(before + (after - before) * n / parts) for n in range(1, parts + 1)]
        self.at = passed[-1]
        return passed

    def _share(self) -> float:
        return motion.ease(motion.share(self._s, self._seconds))

    def _point(self, share: float) -> Point:
        return paper.part_of(self._line, share * length(self._line))[-1]

    def draw(self, page: Page) -> None:
        page.shape(shapes.disc(LIGHT, look.GLOW, None), self.at, LIGHT, LIGHT, alpha=0.5)
        page.picture("things/counter", (self.at[0], self.at[1] - LANTERN * 0.08), LANTERN)
