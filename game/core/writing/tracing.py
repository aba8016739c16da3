"""Following a way with the pen: how far along the taught strokes the ink has come, and where it left them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from game.core.writing.curves import Line, Point, length, spaced

Step = Literal["on", "off", "stroke", "all"]
"""on: the ink follows the way. off: it does not. stroke: it has just come to the end of a stroke. all: of the last."""

STEP = 4.0
"""The way is walked in steps of so many units."""
LAG = 0.12
"""How much nearer, for each unit farther along, a place must be to be taken for where the pen is."""
END_SHARE = 0.28
"""A stroke is done when no more than this share of `ahead` is left: a hand stops a little early."""


@dataclass(frozen=True, slots=True)
class Reach:
    """How exact the ink must be, in units: `corridor` to each side of the way, `grip` around the dot where it waits,
    `ahead` the length of way that one look takes in, forwards and back (so that nothing is skipped where the way
    crosses itself, and a corner may be rounded)."""

    corridor: float
    grip: float
    ahead: float

    @classmethod
    def of(cls, height: float, ease: float = 1.0) -> Reach:
        """For a numeral `height` units tall; `ease` over 1 widens the corridor (a small hand that needs help)."""
        corridor = max(0.14 * height, 34.0) * ease
        return cls(corridor, max(0.7 * corridor, 30.0), 0.3 * height)


class Trace:
    """Where on the way the pen is. `stroke` is the stroke to follow now, `strays` how often the ink left the way."""

    def __init__(self, strokes: Sequence[Line], reach: Reach, touch: float = 48.0) -> None:
        self._ways = [_even(line) for line in strokes]
        self._reach, self._touch = reach, touch
        self.stroke = 0
        self.strays = 0
        self._at = 0
        self._on = False
        self._last: Point | None = None

    @property
    def done(self) -> bool:
        return self.stroke >= len(self._ways)

    @property
    def waits_at(self) -> Point:
        """Where the pen is to set off or to go on; the end of the way when all is done."""
        return self._ways[-1][-1] if self.done else self._ways[self.stroke][self._at]

    @property
    def on(self) -> bool:
        """Whether the pen is down and on the way."""
        return self._on

    @property
    def ahead(self) -> Line:
        """What is left of the present stroke."""
        return () if self.done else self._ways[self.stroke][self._at :]

    def press(self, point: Point) -> Step:
        """The pen comes down: it must do so near the dot."""
        self._last = point
        self._on = not self.done and math.dist(point, self.waits_at) <= max(self._touch, self._reach.grip)
        return self._end_of_stroke() if self._on else "off"

    def move(self, point: Point) -> Step:
        """The pen goes on to `point`, in a straight line from where it was."""
        start = self._last if self._last is not None else point
        self._last = point
        parts = max(1, math.ceil(math.dist(start, point) / STEP))
        found: Step = "on" if self._on else "off"
        for part in range(1, parts + 1):
            share = part / parts
            found = self._follow((start[0] + (point[0] - start[0]) * share, start[1] + (point[1] - start[1]) * share))
            if found in ("stroke", "all"):
                return found
        return found

    def lift(self) -> None:
        """The pen goes up; the way waits."""
        self._on, self._last = False, None

    def _follow(self, point: Point) -> Step:
        if self.done:
            return "off"
        if not self._on:
            self._on = math.dist(point, self.waits_at) <= self._reach.grip
            return self._end_of_stroke() if self._on else "off"
        nearest = self._nearest(point)
        if nearest is None:
            self._on = False
            self.strays += 1
            return "off"
        self._at = max(self._at, nearest)
        return self._end_of_stroke()

    def _nearest(self, point: Point) -> int | None:
        """The place of the way that the point is at: ahead if it can be, else behind; None when it left the way."""
        way = self._ways[self.stroke]
        far = math.ceil(self._reach.ahead / STEP)
        ahead = range(self._at, min(len(way), self._at + far + 1))
        behind = range(max(0, self._at - far), self._at)
        for near in (ahead, behind):
            if near:
                found = min(near, key=lambda i: math.dist(point, way[i]) + LAG * STEP * abs(i - self._at))
                if math.dist(point, way[found]) <= self._reach.corridor:
                    return found
        return None

    def _end_of_stroke(self) -> Step:
        left = (len(self._ways[self.stroke]) - 1 - self._at) * STEP
        if left > END_SHARE * self._reach.ahead:
            return "on"
        self.stroke += 1
        self._at, self._on = 0, False
        return "all" if self.done else "stroke"


def _even(line: Line) -> Line:
    return spaced(line, max(2, math.ceil(length(line) / STEP) + 1))
