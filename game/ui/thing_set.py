"""A set of things on the card that can be counted by touching: each touched one hops and gets its number."""

from __future__ import annotations

from collections.abc import Sequence

from game.core.layout import Point, set_size
from game.ui import look, motion
from game.ui.draw import Page
from game.ui.widgets import Target, round_target

TAG_SIZE = 34.0
TAG_AT = 0.36
"""How far right and up of a thing's centre its tag is, in sizes of the thing."""
TRAY_CENTRE = (640.0, 340.0)
TRAY_WIDTH = 560.0
_PREFIX = "thing_"


def thing_of(name: str) -> int | None:
    """The index of the thing that a target stands for; None when it is none."""
    return int(name.removeprefix(_PREFIX)) if name.startswith(_PREFIX) else None


class ThingSet:
    """`places` are centres in page units; `tags` holds the number each touched thing has got."""

    def __init__(self, thing: str, places: Sequence[Point], calm: bool = False) -> None:
        self.thing, self.places = thing, tuple(places)
        self.size = set_size(len(places))
        self.tags: dict[int, int] = {}
        self.lit: set[int] = set()
        self._calm = calm
        self._hop_s: dict[int, float] = {}
        self._sway_s: dict[int, float] = {}

    def __len__(self) -> int:
        return len(self.places)

    def targets(self) -> list[Target]:
        return [round_target(f"{_PREFIX}{i}", place, self.size) for i, place in enumerate(self.places)]

    @property
    def all_tagged(self) -> bool:
        return len(self.tags) == len(self.places)

    def tag(self, thing: int) -> int | None:
        """Give the thing the next number and return it; None when it has one."""
        self.hop(thing)
        if thing in self.tags:
            return None
        self.tags[thing] = len(self.tags) + 1
        return self.tags[thing]

    def clear(self) -> None:
        self.tags.clear()
        self.lit.clear()

    def hop(self, thing: int) -> None:
        self._hop_s[thing] = 0.0

    def sway(self, thing: int) -> None:
        """Let it wiggle: it still waits to be counted."""
        self._sway_s[thing] = 0.0

    def in_order(self) -> list[int]:
        """The things in an order in which a finger would count them: row by row, from the left."""

        def row_then_left(thing: int) -> tuple[int, float]:
            x, y = self.places[thing]
            return round(y / (self.size * 1.2)), x

        return sorted(range(len(self.places)), key=row_then_left)

    def update(self, dt_s: float) -> None:
        self._hop_s = {i: t + dt_s for i, t in self._hop_s.items() if t + dt_s < look.HOP_S}
        self._sway_s = {i: t + dt_s for i, t in self._sway_s.items() if t + dt_s < 2 * look.HOP_S}

    def draw(self, page: Page) -> None:
        """The things and their tags; none at all are an empty tray."""
        if not self.places:
            page.picture("lane/tray", TRAY_CENTRE, TRAY_WIDTH)
        for i, place in enumerate(self.places):
            self._draw_thing(page, i, place)
        for i, number in self.tags.items():
            self._draw_tag(page, self._moved(i, self.places[i]), number)

    def _moved(self, i: int, place: Point) -> Point:
        if self._calm:
            return place
        x = place[0] + (motion.sway(self._sway_s[i], 2 * look.HOP_S, 5) if i in self._sway_s else 0)
        return x, place[1] - (motion.hop(self._hop_s[i], look.HOP_S) if i in self._hop_s else 0)

    def _draw_thing(self, page: Page, i: int, place: Point) -> None:
        if i in self.lit or (self._calm and (i in self._hop_s or i in self._sway_s)):
            page.disc(place, self.size + 8, look.GLOW, look.LAMP)
        page.picture(f"things/{self.thing}", self._moved(i, place), self.size)

    def _draw_tag(self, page: Page, place: Point, number: int) -> None:
        centre = (place[0] + TAG_AT * self.size, place[1] - TAG_AT * self.size)
        page.disc(centre, TAG_SIZE, look.GLOW)
        page.numeral(number, centre, TAG_SIZE * 0.56)
