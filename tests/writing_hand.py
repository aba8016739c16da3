"""A hand for tests that writes on the page: strokes as pointer events, right and wrong, traced and free."""

from __future__ import annotations

import math
from collections.abc import Sequence

from game.core.layout import Point
from game.core.writing.curves import Line, spaced
from game.ui.input import Event
from tests.ui_player import Player

WOBBLE = 3.5


class Hand:
    """One finger (`pointer`) of a child; each point comes 8 ms after the one before."""

    def __init__(self, player: Player, pointer: int = 1) -> None:
        self.player, self.pointer = player, pointer
        self._ms = 10_000

    def event(self, kind: str, point: Point, pointer: int | None = None) -> Event:
        self._ms += 8
        used = self.pointer if pointer is None else pointer
        return Event(kind, point[0], point[1], used, at_ms=self._ms)  # type: ignore[arg-type]

    def stroke(self, points: Sequence[Point], lift: bool = True) -> None:
        """Press, go along the points, let go."""
        events = [self.event("press", points[0]), *(self.event("move", point) for point in points[1:])]
        self.player.do(*events, *([self.event("release", points[-1])] if lift else []))

    def write(self, strokes: Sequence[Line]) -> None:
        for stroke in strokes:
            self.stroke(shaky(stroke))

    # ------------------------------------------------------------------ whole tasks
    def ready(self) -> None:
        """Wait until the page listens."""
        self.player.until(lambda: not self.player.scene.showing and not self.player.scene.running, 120.0)

    def trace(self, strays: int = 0) -> None:
        """Follow the whole way, letter by letter; first leave it so many times."""
        desk = self.player.scene.desk
        for number in range(len(desk.way_of)):
            self.ready()
            line = shaky(desk.way_of[number])
            if number == 0:
                for _ in range(strays):
                    x, y = desk.way.trace.waits_at
                    self.stroke([(x, y), (x + 70, y - 30), (x + 140, y - 60)])
            self.stroke(line)

    def finish(self) -> None:
        self.player.wait(1.2)
        self.player.touch("done")

    def give(self, right: bool) -> None:
        """A whole answer to the writing task on the page, on the way or free."""
        scene = self.player.scene
        self.ready()
        if not scene.desk.free:
            self.trace(0 if right else 12)
            return
        strokes = scene.desk.way_of
        self.write(strokes if right else [scribble(strokes)])
        self.finish()


def shaky(line: Line, points: int = 48) -> list[Point]:
    """The line as a careful hand follows it."""
    if math.dist(line[0], line[-1]) < 12 and len(line) == 2:
        return [line[0]]
    return [
        (x + WOBBLE * math.sin(n / 5), y + WOBBLE * math.cos(n / 6)) for n, (x, y) in enumerate(spaced(line, points))
    ]


def scribble(strokes: Sequence[Line]) -> Line:
    """A zigzag over the whole word: no numeral, no letter."""
    xs, ys = [x for s in strokes for x, _ in s], [y for s in strokes for _, y in s]
    left, right, top, foot = min(xs) - 40, max(xs) + 40, min(ys), max(ys)
    return tuple((left + (right - left) * n / 14, foot if n % 2 else top) for n in range(15))
