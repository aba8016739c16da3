"""Two hands of five, held up towards the child: a full hand first, then the rest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from game.core.layout import Point
from game.ui import look
from game.ui.draw import Page
from game.ui.widgets import Target, round_target

ART_WIDTH, ART_HEIGHT = 300.0, 340.0
TIPS_UP: tuple[Point, ...] = ((272, 188), (226, 66), (159, 42), (95, 61), (28, 110))
TIPS_DOWN: tuple[Point, ...] = ((160, 270), (208, 196), (154, 188), (101, 196), (47, 212))
"""Where each finger's tip is in the picture of the left hand, thumb first; the right hand mirrors it."""
ORDERS: dict[str, tuple[int, ...]] = {"thumb_first": (0, 1, 2, 3, 4), "index_first": (1, 2, 3, 4, 0)}
MARK_SIZE = 30.0
_PREFIX = "finger_"


def finger_of(name: str) -> int | None:
    """The finger (0 to 9, the left hand first) that a target stands for; None when it is none."""
    return int(name.removeprefix(_PREFIX)) if name.startswith(_PREFIX) else None


@dataclass(frozen=True, slots=True)
class HandPlace:
    """Where one hand is: the centre and width of its picture; the right one is mirrored."""

    centre: Point
    width: float
    mirrored: bool

    def at(self, point: Point) -> Point:
        scale = self.width / ART_WIDTH
        x = (point[0] - ART_WIDTH / 2) * (-scale if self.mirrored else scale)
        return self.centre[0] + x, self.centre[1] + (point[1] - ART_HEIGHT / 2) * scale


class Hands:
    """Ten fingers by number, 0 to 4 on the left hand (0 the thumb), 5 to 9 on the right.

    `up` were up from the start, `raised` came up since and carry a mark, so that they can be counted apart; `tags`
    holds the number that each counted one has got.
    """

    def __init__(self, count: int, way: str, left: HandPlace, right: HandPlace) -> None:
        self.order = tuple(hand * 5 + finger for hand in (0, 1) for finger in ORDERS[way])
        self.up = frozenset(self.order[:count])
        self.raised: list[int] = []
        self.tags: dict[int, int] = {}
        self._places = (left, right)

    @classmethod
    def side_by_side(cls, count: int, way: str, centre: Point, width: float, apart: float) -> Hands:
        places = (
            HandPlace((centre[0] - apart / 2, centre[1]), width, False),
            HandPlace((centre[0] + apart / 2, centre[1]), width, True),
        )
        return cls(count, way, *places)

    @property
    def folded(self) -> list[int]:
        return [finger for finger in self.order if finger not in self.up and finger not in self.raised]

    def toggle(self, finger: int) -> bool | None:
        """Touching a folded finger raises the next one of its hand (True), touching a raised one folds the last one
        of its hand again (False); one that was up from the start stays (None).

        Fingers come up in the order of counting, whichever is touched: small fingers need not aim, and a hand never
        makes a sign that offends somewhere.
        """
        if finger in self.up:
            return None
        of_hand = [other for other in self.order if other // 5 == finger // 5]
        if finger in self.raised:
            self.raised.remove([other for other in of_hand if other in self.raised][-1])
            return False
        self.raised.append(next(other for other in of_hand if other in self.folded))
        return True

    def tag(self, finger: int) -> int | None:
        """Count a raised finger: its number, or None when it has one."""
        if finger in self.tags:
            return None
        self.tags[finger] = len(self.tags) + 1
        return self.tags[finger]

    def tip(self, finger: int) -> Point:
        shown_up = finger in self.up or finger in self.raised
        return self._places[finger // 5].at((TIPS_UP if shown_up else TIPS_DOWN)[finger % 5])

    def targets(self, fingers: Sequence[int]) -> list[Target]:
        return [round_target(f"{_PREFIX}{finger}", self.tip(finger), look.TARGET_LEAST) for finger in fingers]

    def draw(self, page: Page) -> None:
        for hand, place in enumerate(self._places):
            names = ["hands/left_palm"]
            for finger in range(5):
                number = hand * 5 + finger
                state = "up" if number in self.up or number in self.raised else "down"
                names.append(f"hands/left_finger_{finger + 1}_{state}")
            page.layers(names, place.centre, place.width, flip=place.mirrored)
        for finger in self.raised:
            size = MARK_SIZE * self._places[0].width / ART_WIDTH
            page.disc(self.tip(finger), size, look.LAMP)
            if finger in self.tags:
                page.numeral(self.tags[finger], self.tip(finger), size * 0.56)
