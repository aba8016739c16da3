"""Asks before leaving: over the page that is left, with two large pictures, stay or go home."""

from __future__ import annotations

from game.core import phrases
from game.core.layout import Box
from game.ui.draw import Page
from game.ui.input import Event
from game.ui.picture_button import PictureButton
from game.ui.scene import LEAVE_KEY, Kit, Next, Scene

STAY_BOX, GO_BOX = Box(350, 270, 250, 250), Box(680, 270, 250, 250)
HEAR_BOX = Box(584, 574, 112, 108)
VEIL = 0.72


class LeaveScene(Scene):
    """`home` is where going home leads from here: the opening, or out of the app. The mole to be touched means to stay,
    so that here an ear, and not the mole, lets the child hear again."""

    name = "leave"
    leavable = False

    def __init__(self, kit: Kit, home: Next) -> None:
        super().__init__(kit)
        self.home = home
        self.buttons = (
            PictureButton("stay", self.side_box(STAY_BOX), "mole/stand", flip=kit.left),
            PictureButton("go", self.side_box(GO_BOX), "lane/door"),
            PictureButton("hear", self.side_box(HEAR_BOX), "icons/hear_again", ("h", "m"), flip=kit.left),
        )

    def enter(self) -> None:
        self.targets.set([button.target for button in self.buttons])
        self.say(phrases.ASK_LEAVE)

    def hear_again(self) -> None:
        self.say(phrases.ASK_LEAVE)

    def handle(self, event: Event) -> Next | None:
        if event.kind == "key" and event.key == LEAVE_KEY:
            return Next("resume")
        return super().handle(event)

    def pick(self, name: str) -> Next | None:
        if name == "hear":
            self.hear_again()
            return None
        return self.home if name == "go" else Next("resume")

    def draw(self, page: Page) -> None:
        page.veil(VEIL)
        for button in self.buttons:
            button.draw(page, self.targets)
        self.draw_focus(page)
