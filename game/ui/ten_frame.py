"""A ten frame with counters, the row of five first; a cloth may cover it, a counter may fly away or come in."""

from __future__ import annotations

from game.core.layout import Box, Point
from game.ui import look, motion, shapes
from game.ui.draw import Page
from game.ui.widgets import Target, round_target

CELL = 142.0
COUNTER = 112.0
CENTRE = (640.0, 338.0)
CLOTH_WIDTH = 800.0
CLOTH_AWAY_Y = -240.0
FLIGHT_S = 1.2
SHRINK_STEPS, SHRINK_STEP = 6, 13.0
"""A counter gets smaller on its way to the lantern, in few steps: each size is drawn once and kept."""
_PREFIX = "counter_"


def counter_of(name: str) -> int | None:
    """The place (0 to 9) of the counter that a target stands for; None when it is none."""
    return int(name.removeprefix(_PREFIX)) if name.startswith(_PREFIX) else None


def cell_centre(place: int) -> Point:
    """Centre of a place of the frame: 0 to 4 the upper row, 5 to 9 the lower one."""
    return CENTRE[0] + (place % 5 - 2) * CELL, CENTRE[1] + (place // 5 - 0.5) * CELL


class TenFrame:
    """`places` holds where counters lie, `moons` which of them show the other look, `lit` which places shine.
    Movements run by themselves with `update`."""

    def __init__(self, count: int, home: Point, calm: bool = False) -> None:
        self.places = list(range(count))
        self.moons: set[int] = set()
        self.lit: set[int] = set()
        self.covered = False
        self._home, self._calm = home, calm
        self._cloth = 0.0
        self._leaving: Point | None = None
        self._leaving_s = 0.0
        self._moving: tuple[int, int] | None = None
        self._moving_s = 0.0
        self._coming: tuple[int, Point] | None = None
        self._coming_s = 0.0

    def targets(self) -> list[Target]:
        return [round_target(f"{_PREFIX}{place}", cell_centre(place), COUNTER) for place in self.places]

    def take(self, place: int) -> None:
        """The counter flies to the mole's lantern, and the last one closes the gap."""
        self.places.remove(place)
        self._leaving, self._leaving_s = cell_centre(place), 0.0
        last = max(self.places, default=place)
        if last > place:
            self.places[self.places.index(last)] = place
            self._moving, self._moving_s = (last, place), -FLIGHT_S / 2

    @property
    def free(self) -> list[int]:
        return [place for place in range(10) if place not in self.places]

    def put(self, start: Point) -> int:
        """A counter comes from `start` into the first free place, which is returned."""
        place = self.free[0]
        self.places.append(place)
        self._coming, self._coming_s = (place, start), 0.0
        return place

    def update(self, dt_s: float) -> None:
        way = dt_s / look.SLIDE_S
        self._cloth = min(1.0, self._cloth + way) if self.covered else max(0.0, self._cloth - way)
        self._leaving_s += dt_s
        self._moving_s += dt_s
        self._coming_s += dt_s
        if self._coming_s > FLIGHT_S:
            self._coming = None
        if self._leaving_s > FLIGHT_S:
            self._leaving = None
        if self._moving_s > look.SLIDE_S:
            self._moving = None

    @property
    def still(self) -> bool:
        moving = (self._leaving, self._moving, self._coming)
        return all(movement is None for movement in moving) and self._cloth == float(self.covered)

    def draw(self, page: Page) -> None:
        page.shape(shapes.frame(CELL), CENTRE, 5 * CELL + 20, 2 * CELL + 20)
        for place in sorted(self.lit):
            x, y = cell_centre(place)
            page.panel(Box(x - CELL / 2 + 5, y - CELL / 2 + 5, CELL - 10, CELL - 10), look.GLOW, radius=20, drop=0)
        for place in self.places:
            self._draw_counter(page, place)
        if self._cloth > 0:
            self._draw_cloth(page)

    def draw_flight(self, page: Page) -> None:
        """The counter on its way to the lantern, in front of everything."""
        if self._leaving is not None:
            self._draw_leaving(page, self._leaving)

    def _draw_counter(self, page: Page, place: int) -> None:
        centre = cell_centre(place)
        if self._moving is not None and self._moving[1] == place:
            way = motion.ease(motion.share(self._moving_s, look.SLIDE_S))
            centre = motion.between(cell_centre(self._moving[0]), centre, way)
        alpha = 1.0
        if self._coming is not None and self._coming[0] == place:
            way = motion.share(self._coming_s, FLIGHT_S)
            alpha = way if self._calm else 1.0
            centre = centre if self._calm else motion.arc(self._coming[1], centre, motion.ease(way), 30)
        look_of = "moon_counter" if place in self.moons else "counter"
        page.picture(f"things/{look_of}", centre, COUNTER, alpha=alpha)

    def _draw_cloth(self, page: Page) -> None:
        x, y = CENTRE
        if self._calm:
            page.picture("lane/cloth", CENTRE, CLOTH_WIDTH, alpha=self._cloth)
        else:
            page.picture("lane/cloth", motion.between((x, CLOTH_AWAY_Y), (x, y), motion.ease(self._cloth)), CLOTH_WIDTH)

    def _draw_leaving(self, page: Page, start: Point) -> None:
        way = motion.share(self._leaving_s, FLIGHT_S)
        if self._calm:
            page.picture("things/counter", start, COUNTER, alpha=1 - way)
        else:
            where = motion.arc(start, self._home, motion.ease(way), 70)
            size = COUNTER - SHRINK_STEP * round(motion.ease(way) * SHRINK_STEPS)
            page.picture("things/counter", where, size)
