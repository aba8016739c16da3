"""What is seen for a moment: dots, fingers or a ten frame under a curtain that fades in and out."""

from __future__ import annotations

from game.core.layout import SET_BOX, Point, set_size
from game.core.tasks.see_at_once import FINGERS, FRAME, SeeAtOnce
from game.ui import look
from game.ui.draw import Page
from game.ui.hands import Hands
from game.ui.ten_frame import TenFrame

CENTRE: Point = (640.0, 338.0)
HANDS_WIDTH, HANDS_APART = 400.0, 440.0
SPREAD = 0.9
"""The dots stand a little closer together than things that are to be touched: the whole set is seen in one look."""
DOT_SHARE = 0.88
"""Diameter of a dot in sizes of a thing, before it is brought closer."""
CURTAIN_WIDTH = 1016.0
MARK = 46.0
HALO = 20.0


class Glimpse:
    """`lit` of the things shine, counted as the set is built: the five first. `covered` draws the curtain."""

    def __init__(self, task: SeeAtOnce, finger_way: str, calm: bool) -> None:
        self.way, self.count = task.step.way, task.number
        self.covered = True
        self._curtain = 1.0
        self.places = tuple(closer(place) for place in task.places)
        self.dot = round(set_size(task.number) * DOT_SHARE * SPREAD)
        self.frame = TenFrame(task.number, CENTRE, calm)
        self.hands = Hands.side_by_side(task.number, finger_way, CENTRE, HANDS_WIDTH, HANDS_APART)
        self.lit = 0

    @property
    def lit(self) -> int:
        return self._lit

    @lit.setter
    def lit(self, count: int) -> None:
        self._lit = count
        self.frame.lit = set(range(count))

    def update(self, dt_s: float) -> None:
        way = dt_s / look.FADE_S
        self._curtain = min(1.0, self._curtain + way) if self.covered else max(0.0, self._curtain - way)

    def still(self) -> bool:
        """Whether the curtain is wholly there or wholly away."""
        return self._curtain == float(self.covered)

    @property
    def hidden(self) -> bool:
        return self._curtain >= 1.0

    def draw(self, page: Page) -> None:
        if not self.hidden:
            self._draw_set(page)
        if self._curtain > 0:
            page.picture("lane/curtain", CENTRE, CURTAIN_WIDTH, alpha=self._curtain)

    def _draw_set(self, page: Page) -> None:
        if self.way == FRAME:
            self.frame.draw(page)
        elif self.way == FINGERS:
            self._draw_hands(page)
        else:
            self._draw_dots(page)

    def _draw_hands(self, page: Page) -> None:
        self.hands.draw(page)
        for finger in self.hands.order[: self.lit]:
            page.disc(self.hands.tip(finger), MARK, look.LAMP)

    def _draw_dots(self, page: Page) -> None:
        if not self.places:
            page.picture("lane/tray", CENTRE, 560)
        for i, place in enumerate(self.places):
            if i < self.lit:
                page.disc(place, self.dot + HALO, look.LAMP)
            page.disc(place, self.dot, look.INK, None)


def closer(place: Point) -> Point:
    """A place of the set, brought closer to the middle of the card."""
    (mx, my), (x, y) = SET_BOX.centre, place
    return CENTRE[0] + (x - mx) * SPREAD, CENTRE[1] + (y - my) * SPREAD
