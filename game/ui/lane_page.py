"""What the pages on the lane share: the posts, and the mole that walks between them."""

from __future__ import annotations

from game.core.layout import Point
from game.ui.draw import Page
from game.ui.lane_view import MOLE_WIDTH, NEAR_FOOT, LaneView, mole_centre
from game.ui.scene import Kit, Next, Scene
from game.ui.walk import Walk


class LanePage(Scene):
    """`lit` lamps are on at first; the mole stands at `feet`. The lane is never mirrored: its rows are numbers."""

    mole_width = MOLE_WIDTH

    def __init__(self, kit: Kit, lit: int, feet: Point) -> None:
        super().__init__(kit)
        self.view = LaneView(lit)
        self.walk = Walk(feet, self.calm)

    @property
    def mole_at(self) -> Point:
        return mole_centre(self.walk.feet)

    @property
    def mole_flip(self) -> bool:
        return self.walk.leftwards

    def enter(self) -> None:
        self.set_targets()

    def set_targets(self) -> None:
        self.targets.set([self.mole_target(), self.leave_target()])

    def update(self, dt_s: float) -> Next | None:
        self.walk.update(dt_s)
        self.view.update(dt_s)
        following = super().update(dt_s)
        self.set_targets()
        return following

    def draw(self, page: Page) -> None:
        self.view.draw_back(page)
        behind = self.walk.feet[1] < NEAR_FOOT
        if behind:
            self._draw_walker(page)
        self.view.draw_front(page)
        if not behind:
            self._draw_walker(page)
        self.draw_over(page)
        if self.leavable:
            self.draw_leave(page)
        self.draw_focus(page)

    def draw_over(self, page: Page) -> None:
        """What a page has in front of the lane."""

    def _draw_walker(self, page: Page) -> None:
        pose = self.walk.pose
        if pose is None and self.walk.alpha >= 1:
            self.draw_mole(page)
        else:
            page.picture(f"mole/{pose or 'stand'}", self.mole_at, self.mole_width, self.mole_flip, self.walk.alpha)
