"""A number in two parts: some counters stay on the frame, the others slide under a cloth beside it."""

from __future__ import annotations

from game.core.layout import Point
from game.ui import look, motion, shapes
from game.ui.draw import Page

FRAME_CENTRE: Point = (406.0, 338.0)
CELL, SIZE = 92.0, 78.0
CLOTH_CENTRE: Point = (892.0, 338.0)
CLOTH_WIDTH = 450.0
UNDER_CELL, UNDER_SIZE = 80.0, 70.0
APART_S = 0.12
"""One after another sets off under the cloth, so many seconds apart."""
HALO = 8.0


class HiddenPart:
    """`part` of `whole` counters stay; the rest hide once `hide` is called. `lit` counters shine."""

    def __init__(self, whole: int, part: int, calm: bool) -> None:
        self.whole, self.part = whole, part
        self.lit: set[int] = set()
        self.covered = True
        self._calm = calm
        self._hidden_s: float | None = None
        self._cloth = 1.0

    @property
    def hidden(self) -> range:
        """The counters that belong under the cloth."""
        return range(self.part, self.whole)

    def hide(self) -> None:
        self._hidden_s = 0.0 if self._hidden_s is None else self._hidden_s

    def still(self) -> bool:
        under = self._hidden_s is None or self._hidden_s >= look.SLIDE_S + APART_S * len(self.hidden)
        return under and self._cloth == float(self.covered)

    def update(self, dt_s: float) -> None:
        if self._hidden_s is not None:
            self._hidden_s += dt_s
        way = dt_s / look.FADE_S
        self._cloth = min(1.0, self._cloth + way) if self.covered else max(0.0, self._cloth - way)

    def draw(self, page: Page) -> None:
        page.shape(shapes.frame(CELL), FRAME_CENTRE, 5 * CELL + 20, 2 * CELL + 20)
        for i in range(self.whole):
            self._draw_counter(page, i)
        page.picture("lane/cloth", CLOTH_CENTRE, CLOTH_WIDTH, alpha=self._cloth)

    def _draw_counter(self, page: Page, i: int) -> None:
        start, end = _cell(i, FRAME_CENTRE, CELL), _cell(i - self.part, CLOTH_CENTRE, UNDER_CELL)
        way = 0.0
        if self._hidden_s is not None and i in self.hidden:
            way = motion.share(self._hidden_s - APART_S * (i - self.part), look.SLIDE_S)
        if self._calm:
            centre, alpha = (start if way < 0.5 else end), abs(1 - 2 * way)
        else:
            centre, alpha = motion.between(start, end, motion.ease(way)), 1.0
        size = SIZE if way < 0.5 else UNDER_SIZE
        if i in self.lit:
            page.disc(centre, size + HALO, look.GLOW, look.LAMP)
        page.picture("things/counter", centre, size, alpha=alpha)


def _cell(place: int, centre: Point, cell: float) -> Point:
    """Centre of a place of a frame, the row of five first."""
    return centre[0] + (place % 5 - 2) * cell, centre[1] + (place // 5 - 0.5) * cell
