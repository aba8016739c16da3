"""One hand writes: pointers on the paper become strokes. A resting palm and a second finger do nothing."""

from __future__ import annotations

import math
from typing import Literal

from game.core.ink import Stroke
from game.core.layout import Box
from game.ui.input import MOUSE, Event

Did = Literal["", "down", "swap", "on", "up"]
"""What an event did: nothing, a stroke began, one began in place of another that was a palm, went on, ended."""

RESTING = 14.0
"""A touch that moved less than so many units may be a palm: the next touch takes over from it."""
PEN_FIRST_MS = 1500
"""So long after a pen or mouse wrote, fingers on the paper are the hand that holds it."""


class Pen:
    """Follows the pointer that writes on `paper`. `stroke` holds the points of the present stroke: (x, y, at_ms)."""

    def __init__(self, paper: Box) -> None:
        self.paper = paper
        self.stroke: list[tuple[float, float, float]] = []
        self._writes: int | None = None
        self._far = 0.0
        self._resting: set[int] = set()
        self._pen_ms: float = -math.inf

    @property
    def down(self) -> bool:
        return self._writes is not None

    def wants(self, event: Event) -> bool:
        """Whether the event belongs to the paper, not to what else is on the page."""
        if event.kind == "press":
            return self.paper.inside((event.x, event.y))
        return event.kind in ("move", "release", "cancel") and (
            event.pointer == self._writes or event.pointer in self._resting
        )

    def handle(self, event: Event, yields: bool = False) -> Did:
        """Take in an event that `wants` said yes to. With `yields` the pointer that writes has nothing to write just
        now, so that a new one takes over."""
        if event.kind == "press":
            return self._press(event, yields)
        if event.pointer != self._writes:
            if event.kind != "move":
                self._resting.discard(event.pointer)
            return ""
        if event.kind == "move":
            self._add(event)
            return "on"
        if event.kind == "release" and (event.x, event.y) != self.stroke[-1][:2]:
            self._add(event)
        self._writes = None
        return "up"

    def take(self) -> Stroke:
        """The stroke that has ended."""
        stroke, self.stroke = tuple(self.stroke), []
        return stroke

    def let_go(self) -> bool:
        """End a stroke whose end will not come; whether there was one."""
        was, self._writes = self.down, None
        self._resting.clear()
        return was

    def _press(self, event: Event, yields: bool) -> Did:
        if event.pointer == MOUSE:
            self._pen_ms = event.at_ms
        elif event.at_ms - self._pen_ms < PEN_FIRST_MS:
            self._resting.add(event.pointer)
            return ""
        if self._writes is None:
            return self._begin(event)
        if event.pointer == self._writes:
            return ""
        if yields or self._far <= RESTING or (event.pointer == MOUSE and self._writes != MOUSE):
            self._resting.add(self._writes)
            self._begin(event)
            return "swap"
        self._resting.add(event.pointer)
        return ""

    def _begin(self, event: Event) -> Did:
        self._writes, self._far = event.pointer, 0.0
        self._resting.discard(event.pointer)
        self.stroke = [(event.x, event.y, float(event.at_ms))]
        return "down"

    def _add(self, event: Event) -> None:
        x, y = self.stroke[0][:2]
        self._far = max(self._far, math.dist((x, y), (event.x, event.y)))
        self.stroke.append((event.x, event.y, float(event.at_ms)))
        if event.pointer == MOUSE:
            self._pen_ms = event.at_ms
