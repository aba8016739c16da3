"""Lamp Lane itself: two rows of five posts, the far row first, the mole's door at the end."""

from __future__ import annotations

from game.core.layout import Point
from game.core.records import TASKS_A_LANE
from game.ui import motion
from game.ui.draw import Page

FIRST_X, STEP_X = 236.0, 192.0
FAR_FOOT, NEAR_FOOT = 426.0, 674.0
FAR_WIDTH, NEAR_WIDTH = 108.0, 124.0
POST_TALL = 220 / 120
POST_FOOT = 208 / 220
"""Where the foot of a post is in its picture, in heights of the picture."""
GLOW_WIDTH = 250.0
HEAD_AT = 0.26
"""Where the lamp is in the picture of a post, in heights of the picture."""
MOLE_WIDTH = 132.0
MOLE_FOOT = 268 / 280
BESIDE = 84.0
"""The mole stands so far to the left of the post that it lights."""
FAR_WALK, NEAR_WALK = 508.0, 654.0
DOOR_CENTRE, DOOR_WIDTH = (1176.0, 330.0), 190.0
DOOR_STOP: Point = (1150.0, 476.0)
START: Point = (84.0, 508.0)


def post_foot(lamp: int) -> Point:
    """Where a post stands; lamps count from 0, the far row first, each row from the left."""
    return FIRST_X + STEP_X * (lamp % 5), FAR_FOOT if lamp < 5 else NEAR_FOOT


def stop_at(lamp: int) -> Point:
    """Where the mole's feet are when it lights a lamp."""
    return post_foot(lamp)[0] - BESIDE, FAR_WALK if lamp < 5 else NEAR_WALK


def mole_centre(feet: Point) -> Point:
    tall = MOLE_WIDTH * 280 / 240
    return feet[0], feet[1] - tall * (MOLE_FOOT - 0.5)


class LaneView:
    """`lit` lamps are on; `fresh` is the one that just came on, `fresh_s` seconds ago."""

    def __init__(self, lit: int) -> None:
        self.lit = lit
        self.fresh_s = 60.0

    def light(self) -> None:
        self.lit += 1
        self.fresh_s = 0.0

    def update(self, dt_s: float) -> None:
        self.fresh_s += dt_s

    def draw_back(self, page: Page) -> None:
        """What is behind the mole on the far side: the lane, the door, the far row."""
        page.backdrop("lane/background")
        page.picture("lane/door", DOOR_CENTRE, DOOR_WIDTH)
        for lamp in range(TASKS_A_LANE):
            self._draw_glow(page, lamp)
        for lamp in range(5):
            self._draw_post(page, lamp)

    def draw_front(self, page: Page) -> None:
        for lamp in range(5, TASKS_A_LANE):
            self._draw_post(page, lamp)

    def _draw_glow(self, page: Page, lamp: int) -> None:
        """The light around a lamp: behind the mole, so that it stays clear."""
        (x, top), _, tall = self._post(lamp)
        page.picture("lane/glow", (x, top + tall * HEAD_AT), GLOW_WIDTH, alpha=self._strength(lamp))

    def _draw_post(self, page: Page, lamp: int) -> None:
        (x, top), width, tall = self._post(lamp)
        strength = self._strength(lamp)
        if strength < 1:
            page.picture("lane/post_off", (x, top + tall / 2), width)
        page.picture("lane/post_on", (x, top + tall / 2), width, alpha=strength)

    @staticmethod
    def _post(lamp: int) -> tuple[Point, float, float]:
        """Middle of the top edge, width and height of the picture of a post."""
        width = FAR_WIDTH if lamp < 5 else NEAR_WIDTH
        tall = width * POST_TALL
        x, foot = post_foot(lamp)
        return (x, foot - tall * POST_FOOT), width, tall

    def _strength(self, lamp: int) -> float:
        """How bright a lamp is: a new one comes on softly."""
        if lamp >= self.lit:
            return 0.0
        return motion.ease(motion.share(self.fresh_s, 0.8)) if lamp == self.lit - 1 else 1.0
