"""Which page comes next, made with what it needs. The only place that knows all scenes.

Scenes that cannot be the first page are imported where they are made, so that the first page comes soon.
"""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import TYPE_CHECKING, Any

from game.core.errors import Trouble
from game.core.records import Child
from game.ui.scene import Kit, Next, Scene
from game.ui.scenes.lane import LaneScene
from game.ui.scenes.opening import OpeningScene
from game.ui.sitting import Sitting
from game.ui.strip import Strip

if TYPE_CHECKING:
    from game.ui.corner import Corner
    from game.ui.office import Office

LANE_BACKDROP, TASK_BACKDROP = "lane/background", "lane/task_background"


class Director:
    """Turns a `Next` into a scene; what a grown-up must know goes to the strip.

    `rng` and `office` are for the grown-ups' corner, whose pages are not in the table here.
    """

    def __init__(self, kit: Kit, sitting: Sitting, strip: Strip, rng: Random, office: Office | None) -> None:
        self._kit, self._sitting, self._strip = kit, sitting, strip
        self._rng, self._office = rng, office
        self._corner: Corner | None = None
        self._page = 0
        self._makers: dict[str, Callable[[Any], Scene]] = {
            "opening": self._opening,
            "play": self._play,
            "play_on": self._play_on,
            "lane": self._lane,
            "task": self._task,
            "close": self._close,
        }

    def make(self, following: Next, under: Scene | None = None) -> Scene:
        """The scene that was asked for; the opening when it cannot be made. `under` is the page it lies over."""
        if following.scene == "leave":
            from game.ui.scenes.leave import LeaveScene

            home = Next("quit") if under is not None and under.name == "opening" else Next("opening")
            return LeaveScene(self._kit, home)
        try:
            maker = self._makers.get(following.scene)
            return self._in_corner(following) if maker is None else maker(following.about)
        except Trouble as trouble:
            self._strip.tell(str(trouble))
            return self._opening(None)

    def _opening(self, _about: object) -> Scene:
        self._for_hand_of(None)
        return OpeningScene(self._kit, self._sitting.roster.playing, self._page, alone=self._sitting.alone is not None)

    def _in_corner(self, following: Next) -> Scene:
        self._for_hand_of(None)
        if self._corner is None:
            from game.ui.corner import Corner

            self._corner = Corner(self._kit, self._sitting, self._rng, self._office)
        return self._corner.make(following)

    def _play(self, child: Child | None) -> Scene:
        self._sitting.begin(child)
        self._for_hand_of(child)
        return self._lane(None) if self._sitting.more else self._close_scene(just_lit=False)

    def _play_on(self, about: object) -> Scene:
        self._sitting.play_on(mixed=about == "mixed")
        return self._lane(None)

    def _lane(self, _about: object) -> Scene:
        self._kit.pictures.want_backdrop(TASK_BACKDROP)
        return LaneScene(self._kit, self._sitting.lit)

    def _task(self, _about: object) -> Scene:
        task = self._sitting.next_task()
        if task is None:
            return self._close(None)
        self._kit.pictures.want_backdrop(LANE_BACKDROP)
        from game.ui.scenes.tasks import TASK_SCENES

        return TASK_SCENES[task.kind](self._kit, task, self._sitting.answer)

    def _close(self, _about: object) -> Scene:
        self._sitting.lane_done()
        return self._close_scene(just_lit=True)

    def _close_scene(self, just_lit: bool) -> Scene:
        from game.ui.scenes.close import CloseScene

        return CloseScene(self._kit, self._sitting.more, just_lit, self._sitting.mixable)

    def _for_hand_of(self, child: Child | None) -> None:
        """Pages and numerals for the hand that plays now."""
        hand = "right" if child is None else child.hand
        self._kit.left = hand == "left" and self._kit.settings.mirror_left
        self._kit.pictures.hand = hand
        self._kit.pictures.child = None if child is None else child.id
