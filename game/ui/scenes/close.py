"""The end of the lane: all ten lamps are lit, the mole goes home, or the child takes another lane."""

from __future__ import annotations

from game.core import phrases
from game.core.layout import Box
from game.core.records import TASKS_A_LANE
from game.ui.draw import Page
from game.ui.lane_page import LanePage
from game.ui.lane_view import DOOR_STOP, stop_at
from game.ui.picture_button import PictureButton
from game.ui.scene import Kit, Next, Script

HOME_BOX, ANOTHER_BOX, MIXED_BOX = Box(338, 606, 180, 176), Box(578, 606, 180, 176), Box(818, 606, 180, 176)
ONLY_HOME_BOX = Box(550, 606, 180, 176)


class CloseScene(LanePage):
    """With `more` another lane may be played; without, the mole goes home. `just_lit`: the tenth lamp came on now.

    `mixable`: the next lane may be one with a little of everything.
    """

    name = "close"
    leavable = False

    def __init__(self, kit: Kit, more: bool, just_lit: bool = True, mixable: bool = False) -> None:
        super().__init__(kit, TASKS_A_LANE, stop_at(TASKS_A_LANE - 1))
        self.more, self.just_lit, self.mixable = more, just_lit, mixable
        self.asking = (phrases.CLOSE_ALL,)
        self.buttons: list[PictureButton] = []

    def enter(self) -> None:
        super().enter()
        self.run(self._good_night())

    def hear_again(self) -> None:
        self.say(*self.asking)

    def _good_night(self) -> Script:
        if self.just_lit:
            self.mole_pose = "cheer"
            self.play("glow")
            yield self.say(phrases.CLOSE_ALL)
        self.mole_pose = "stand"
        yield from self._ask() if self.more else self._go_home()
        return None

    def _ask(self) -> Script:
        self.asking = (phrases.ASK_ANOTHER_LANE, *([phrases.ASK_MIXED] if self.mixable else []))
        self.buttons = [
            PictureButton("home", HOME_BOX, "lane/door"),
            PictureButton("another", ANOTHER_BOX, "lane/post_on"),
        ]
        if self.mixable:
            self.buttons.append(PictureButton("mixed", MIXED_BOX, "icons/mixed"))
        yield self.say(*self.asking)
        return None

    def _go_home(self) -> Script:
        self.asking = (phrases.CLOSE_HOME,)
        said = self.say(*self.asking)
        self.walk.to(DOOR_STOP)
        yield self.walk.arrived
        self.mole_pose = "sleep"
        yield said
        self.buttons = [PictureButton("home", ONLY_HOME_BOX, "lane/door")]
        return None

    def set_targets(self) -> None:
        self.targets.set([*(button.target for button in self.buttons), self.mole_target()])

    def pick(self, name: str) -> Next | None:
        if name == "mixed":
            self.buttons = []
            self.run(self._mix())
            return None
        return Next("play_on") if name == "another" else Next("opening")

    def _mix(self) -> Script:
        yield self.say(phrases.HELLO_MIXED)
        return Next("play_on", "mixed")

    def draw_over(self, page: Page) -> None:
        for button in self.buttons:
            button.draw(page, self.targets)
