"""A row of counters in two parts with a gap between them: lanterns to the left of it, moons to the right."""

from __future__ import annotations

from game.core.layout import Box, Point
from game.ui import look, motion
from game.ui.draw import Page
from game.ui.ten_frame import counter_of
from game.ui.widgets import Target, Targets, round_target

ROW_Y, ROOM = 392.0, 950.0
STEP, SIZE, GAP = 98.0, 88.0, 66.0
SMALL_Y, SMALL_STEP, SMALL_SIZE, SMALL_GAP = 158.0, 52.0, 46.0, 34.0
MAT_HIGH, MAT_EDGE = 88.0, 22.0


class GapRow:
    """`gap` counters lie to the left of the gap. Touching a counter turns it over, and all between it and the gap."""

    def __init__(self, whole: int, gap: int, calm: bool) -> None:
        self.whole, self.gap, self.first = whole, gap, gap
        self._calm = calm
        self._before = gap
        self._s = look.SLIDE_S
        self._step = min(STEP, (ROOM - GAP) / whole)

    def targets(self) -> list[Target]:
        return [round_target(f"counter_{i}", self._place(i, self.gap), look.TARGET_LEAST) for i in range(self.whole)]

    def gap_after(self, name: str) -> int | None:
        """Where the gap goes when this target is touched; None when it is none of the counters."""
        touched = counter_of(name)
        if touched is None:
            return None
        return touched + 1 if touched >= self.gap else touched

    def move(self, gap: int) -> None:
        self._before, self.gap, self._s = self.gap, gap, 0.0

    def still(self) -> bool:
        return self._s >= look.SLIDE_S

    def update(self, dt_s: float) -> None:
        self._s = min(look.SLIDE_S, self._s + dt_s)

    def draw(self, page: Page, targets: Targets) -> None:
        """The way that was shown first, small, and the row below it."""
        width = SMALL_STEP * self.whole + SMALL_GAP + 2 * MAT_EDGE
        mat = Box((look.PAGE_WIDTH - width) / 2, SMALL_Y - MAT_HIGH / 2, width, MAT_HIGH)
        page.panel(mat, look.PAPER_SHADE, drop=0)
        for i in range(self.whole):
            place = spread(i, self.whole, self.first, SMALL_STEP, SMALL_GAP, SMALL_Y)
            page.picture(f"things/{_look(i < self.first)}", place, SMALL_SIZE)
        way = motion.ease(motion.share(self._s, look.SLIDE_S))
        for i in range(self.whole):
            self._draw_counter(page, i, way, targets.state(f"counter_{i}") == "pressed")

    def _draw_counter(self, page: Page, i: int, way: float, pressed: bool) -> None:
        """A counter that turns over fades from one look to the other."""
        start, end = self._place(i, self._before), self._place(i, self.gap)
        x, y = end if self._calm else motion.between(start, end, way)
        centre = (x, y + (4 if pressed else 0))
        was, now = i < self._before, i < self.gap
        if was != now and way < 1:
            page.picture(f"things/{_look(was)}", centre, SIZE, alpha=1 - way)
        page.picture(f"things/{_look(now)}", centre, SIZE, alpha=way if was != now else 1.0)

    def _place(self, i: int, gap: int) -> Point:
        return spread(i, self.whole, gap, self._step, GAP, ROW_Y)


def spread(i: int, whole: int, gap: int, step: float, wide: float, y: float) -> Point:
    """Centre of counter `i` of a row in the middle of the page; the gap is kept at the ends, too."""
    x = look.PAGE_WIDTH / 2 + step * (i - (whole - 1) / 2)
    return x + (-wide / 2 if i < gap else wide / 2), y


def _look(left: bool) -> str:
    return "counter" if left else "moon_counter"
