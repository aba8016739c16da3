"""The lane between two tasks: the lamp of the task just done lights, and the mole walks to the next post."""

from __future__ import annotations

from game.core import phrases
from game.core.records import TASKS_A_LANE
from game.ui import look
from game.ui.lane_page import LanePage
from game.ui.lane_view import START, stop_at
from game.ui.scene import Kit, Next, Script


class LaneScene(LanePage):
    """`lit` lamps are lit once the page is there; the last of them comes on now."""

    name = "lane"

    def __init__(self, kit: Kit, lit: int) -> None:
        super().__init__(kit, max(0, lit - 1), stop_at(lit - 1) if lit else START)
        self.lit = lit

    def enter(self) -> None:
        super().enter()
        self.run(self._go_on() if self.lit else self._begin())

    def hear_again(self) -> None:
        self.say(phrases.lamps(self.lit) if self.lit else phrases.HELLO_LANE)

    def _begin(self) -> Script:
        yield look.FADE_S
        said = self.say(phrases.HELLO_LANE)
        self.walk.to(stop_at(0))
        yield self.walk.arrived
        yield said
        return Next("task")

    def _go_on(self) -> Script:
        """The attempt is written by now: the lamp may light."""
        yield look.FADE_S
        self.mole_pose = "cheer"
        self.view.light()
        self.play(f"lamp_{self.lit}")
        yield 0.5
        said = self.say(phrases.lamps(self.lit))
        if self.lit >= TASKS_A_LANE:
            yield said
            return Next("close")
        yield 0.8
        self.walk.to(stop_at(self.lit))
        yield self.walk.arrived
        yield said
        return Next("task")
