"""Two sets, left and right, that line up in pairs, one to one: what is left over on one side is what it has more."""

from __future__ import annotations

from game.core.layout import Point
from game.core.tasks.which_more import WhichMore
from game.ui import look, motion, shapes
from game.ui.draw import Page

INNER = (529.0, 751.0)
"""Where the two columns of the pairs stand: near the inner edge of each side."""
MIDDLE_Y, TALLEST = 340.0, 500.0
LARGEST_STEP, SIZE_SHARE, LARGEST = 84.0, 0.9, 74.0
LINK_HEIGHT = 12.0
NONE_WIDTH = 330.0
"""Width of the empty tray that stands for none."""


class Pairs:
    """`links` pairs are joined so far; `counted` things of each side shine."""

    def __init__(self, task: WhichMore, middles: tuple[Point, Point], calm: bool) -> None:
        self.thing, self.numbers, self.places, self.sizes = task.thing, task.numbers, task.places, task.sizes
        self.paired = False
        self.links = 0
        self.left_over = False
        self._middles, self._calm = middles, calm
        self._s = 0.0
        rows = max(1, *task.numbers)
        self._step = min(LARGEST_STEP, TALLEST / rows)
        self._size = min(LARGEST, SIZE_SHARE * self._step)
        self._top = MIDDLE_Y - self._step * (rows - 1) / 2

    @property
    def most_links(self) -> int:
        return min(self.numbers)

    def line_up(self) -> None:
        """The things go into two columns, side by side."""
        if not self.paired:
            self.paired, self._s = True, 0.0

    def still(self) -> bool:
        return not self.paired or self._s >= look.SLIDE_S

    def update(self, dt_s: float) -> None:
        if self.paired:
            self._s = min(self._s + dt_s, look.SLIDE_S)

    def draw(self, page: Page) -> None:
        for side in (0, 1):
            self._draw_side(page, side)
        for row in range(self.links):
            width = round(INNER[1] - INNER[0] - self._size - 8)
            page.shape(shapes.link(width, LINK_HEIGHT), (640, self._row(row)), width, LINK_HEIGHT)

    def _draw_side(self, page: Page, side: int) -> None:
        if not self.places[side]:
            page.picture("lane/tray", self._middles[side], NONE_WIDTH)
        way = motion.share(self._s, look.SLIDE_S) if self.paired else 0.0
        for i, place in enumerate(sorted(self.places[side], key=lambda place: place[1])):
            there = (INNER[side], self._row(i))
            if self.left_over and i >= self.most_links:
                page.disc(there, round(self._size * 1.12), look.GLOW, look.LAMP)
            self._draw_thing(page, place, there, self.sizes[side], way)

    def _draw_thing(self, page: Page, place: Point, there: Point, size: float, way: float) -> None:
        """On its way both place and size change; only whole steps of size, so that few pictures are made."""
        name = f"things/{self.thing}"
        if self._calm:
            here, grown = (place, size) if way < 0.5 else (there, self._size)
            page.picture(name, here, grown, alpha=abs(1 - 2 * way))
            return
        gone = motion.ease(way)
        page.picture(name, motion.between(place, there, gone), round((size + (self._size - size) * gone) / 4) * 4)

    def _row(self, row: int) -> float:
        return self._top + self._step * row
