"""The mole's walk from one place to another; on a calm page it fades out here and in there."""

from __future__ import annotations

import math

from game.core.layout import Point
from game.ui import motion

SPEED = 330.0
"""Units a second."""
LEAST_S, MOST_S = 0.7, 2.6
BEAT_S = 0.2
"""Each leg's turn."""


class Walk:
    """`feet` is where the mole stands now."""

    def __init__(self, feet: Point, calm: bool = False) -> None:
        self.feet = feet
        self._from = self._to = feet
        self._calm = calm
        self._s, self._seconds = 1.0, 0.0

    def to(self, place: Point) -> None:
        self._from, self._to = self.feet, place
        distance = math.dist(self._from, place)
        self._seconds = min(MOST_S, max(LEAST_S, distance / SPEED)) if distance > 1 else 0.0
        self._s = 0.0

    def arrived(self) -> bool:
        return self._s >= self._seconds

    def update(self, dt_s: float) -> None:
        self._s += dt_s
        way = motion.share(self._s, self._seconds)
        if self._calm:
            self.feet = self._from if way < 0.5 else self._to
        else:
            self.feet = motion.between(self._from, self._to, motion.ease(way))

    @property
    def leftwards(self) -> bool:
        return not self.arrived() and self._to[0] < self._from[0]

    @property
    def pose(self) -> str | None:
        """The picture while walking; None while standing."""
        if self.arrived() or self._calm:
            return None
        return "walk1" if self._s % (2 * BEAT_S) < BEAT_S else "walk2"

    @property
    def alpha(self) -> float:
        if not self._calm or self.arrived():
            return 1.0
        return abs(1 - 2 * motion.share(self._s, self._seconds))
