"""A token that stands above the stones of a number path and hops from one to another."""

from __future__ import annotations

from game.core.layout import Point
from game.ui import look, motion
from game.ui.answers import Answers

STEP_S = 1.0
ABOVE = 62.0
HOP_HEIGHT = 34.0


class TokenWalk:
    """Moves the token of `path`; a calm page sets it down without a hop."""

    def __init__(self, path: Answers, calm: bool = False) -> None:
        self.path = path
        self._calm = calm
        self._from = self._to = 0
        self._s: float | None = None

    def stand(self, number: int) -> None:
        """Stand on this number of the path."""
        self._from = self._to = number
        self._s = None
        self.path.token = self._above(number)

    def hop(self, number: int) -> None:
        """Hop from where it stands to this number; `arrived` tells when it is there."""
        self._from, self._to, self._s = self._to, number, 0.0

    def arrived(self) -> bool:
        return self._s is None

    def update(self, dt_s: float) -> None:
        if self._s is None:
            return
        self._s += dt_s
        way = motion.share(self._s, STEP_S)
        shown = float(way >= 0.5) if self._calm else motion.ease(way)
        self.path.token = motion.arc(self._above(self._from), self._above(self._to), shown, HOP_HEIGHT)
        if way >= 1:
            self._s = None

    def _above(self, number: int) -> Point:
        x, y = self.path.spots[number]
        return x, y - ABOVE * self.path.size / look.STONE_WIDTH
