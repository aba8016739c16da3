"""A pile of things and a tray: things go from one to the other and back, each to the first place that is free."""

from __future__ import annotations

from collections.abc import Sequence

from game.core.layout import Box, Point
from game.ui import look, motion
from game.ui.draw import Page
from game.ui.widgets import Target, Targets, round_target

TRAY_CENTRE: Point = (640.0, 230.0)
TRAY_WIDTH = 724.0
MAT = Box(320, 404, 640, 208)
SIZE = 86.0
MARK_SIZE = 82.0
MOVE_S = 0.6
ARC = 40.0
_PREFIX = "thing_"


class Tray:
    """`on` tells which thing lies on which slot; `marks` of the slots show where things are to go."""

    def __init__(self, thing: str, pile: Sequence[Point], slots: Sequence[Point], calm: bool = False) -> None:
        self.thing, self.pile, self.slots = thing, tuple(pile), tuple(slots)
        self.on: dict[int, int] = {}
        self.lit: set[int] = set()
        self.marks = 0
        self._calm = calm
        self._moving: dict[int, tuple[Point, float]] = {}

    def __len__(self) -> int:
        """How many things lie on the tray."""
        return len(self.on)

    @property
    def waiting(self) -> list[int]:
        """The things that are still in the pile."""
        return [thing for thing in range(len(self.pile)) if thing not in self.on.values()]

    @property
    def in_order(self) -> list[int]:
        """The things on the tray, slot by slot."""
        return [self.on[slot] for slot in sorted(self.on)]

    def place(self, thing: int) -> Point:
        slot = self._slot(thing)
        return self.pile[thing] if slot is None else self.slots[slot]

    def toggle(self, thing: int) -> bool:
        """Put the thing on the tray (True) or back on the pile (False)."""
        start = self.place(thing)
        slot = self._slot(thing)
        if slot is None:
            self.on[next(free for free in range(len(self.slots)) if free not in self.on)] = thing
        else:
            del self.on[slot]
        self._moving[thing] = (start, 0.0)
        return slot is None

    def empty(self) -> None:
        """All things go back to the pile."""
        self.lit.clear()
        for thing in self.in_order:
            self.toggle(thing)

    def targets(self) -> list[Target]:
        things = range(len(self.pile))
        return [round_target(f"{_PREFIX}{thing}", self.place(thing), look.TARGET_LEAST) for thing in things]

    def still(self) -> bool:
        return not self._moving

    def update(self, dt_s: float) -> None:
        self._moving = {i: (start, t + dt_s) for i, (start, t) in self._moving.items() if t + dt_s < MOVE_S}

    # ------------------------------------------------------------------ drawing
    def draw(self, page: Page, targets: Targets) -> None:
        page.panel(MAT, look.PAPER_SHADE, radius=36, drop=0)
        page.picture("lane/tray", TRAY_CENTRE, TRAY_WIDTH)
        for slot in range(self.marks):
            page.disc(self.slots[slot], MARK_SIZE, look.GLOW, look.WOOD)
        resting = [thing for thing in range(len(self.pile)) if thing not in self._moving]
        for thing in [*resting, *self._moving]:
            self._draw_thing(page, thing, targets.state(f"{_PREFIX}{thing}") == "pressed")

    def _draw_thing(self, page: Page, thing: int, pressed: bool) -> None:
        x, y = self.place(thing)
        alpha = 1.0
        if thing in self._moving:
            start, t = self._moving[thing]
            way = motion.share(t, MOVE_S)
            alpha = way if self._calm else 1.0
            x, y = (x, y) if self._calm else motion.arc(start, (x, y), motion.ease(way), ARC)
        if thing in self.lit:
            page.disc((x, y), MARK_SIZE, look.GLOW, look.LAMP)
        page.picture(f"things/{self.thing}", (x, y + (4 if pressed else 0)), SIZE, alpha=alpha)

    def _slot(self, thing: int) -> int | None:
        return next((slot for slot, lying in self.on.items() if lying == thing), None)
