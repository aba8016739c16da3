"""The opening: each child touches the own badge; a guest goes in by the door; a grown-up has a corner."""

from __future__ import annotations

from collections.abc import Sequence

from game.core import phrases
from game.core.layout import Box
from game.core.records import Child
from game.ui import look
from game.ui.draw import Page
from game.ui.picture_button import PictureButton
from game.ui.scene import Kit, Next, Scene
from game.ui.widgets import Target

A_PAGE = 12
COLUMNS = 6
BADGE = 142.0
STEP_X, STEP_Y = 172.0, 212.0
TOP_Y = 150.0
NICKNAME_WIDTH = STEP_X - 34
DOOR_BOX = Box(1030, 592, 156, 166)
"""Where the backdrop shows the mole's door."""
GUEST_BOX = Box(1052, 480, 104, 104)
GUEST_PLACE = Box(1030, 480, 156, 278)
"""The guest's sign and the door below it are one target."""
GROWN_UP_BOX, ADD_BOX = Box(1172, 22, 84, 84), Box(1064, 22, 84, 84)
ALONE_BADGE, ALONE_CENTRE = 300.0, (640.0, 310.0)
"""On a parent's copy with one child the badge is large, and there is no door for guests."""
BACK_BOX, ON_BOX = Box(14, 206, 96, 112), Box(1170, 206, 96, 112)
MOLE_CENTRE, MOLE_WIDTH = (830.0, 632.0), 190.0


class OpeningScene(Scene):
    """`children` who play, in the order of the class list; `page` counts from 0, twelve badges a page.

    `alone`: it is the one child of a parent's copy. While the list is empty a child can be added without the gate.
    """

    name = "opening"
    mole_centre, mole_width = MOLE_CENTRE, MOLE_WIDTH

    def __init__(self, kit: Kit, children: Sequence[Child], page: int = 0, alone: bool = False) -> None:
        super().__init__(kit)
        self.children, self.page, self.alone = tuple(children), page, alone
        self.grown_up = PictureButton("grown_up", GROWN_UP_BOX, "icons/grownup")
        self.add = PictureButton("add", ADD_BOX, "icons/add")
        self.guest = PictureButton("guest", GUEST_BOX, "icons/guest")
        self.turns = (PictureButton("back", BACK_BOX, "icons/back"), PictureButton("on", ON_BOX, "icons/next"))

    @property
    def pages(self) -> int:
        return max(1, -(-len(self.children) // A_PAGE))

    @property
    def shown(self) -> tuple[Child, ...]:
        return self.children[self.page * A_PAGE : (self.page + 1) * A_PAGE]

    def enter(self) -> None:
        self._set_targets()
        self.hear_again()

    def hear_again(self) -> None:
        self.say(phrases.HELLO_PICK if self.children else phrases.HELLO_GUEST)

    def _set_targets(self) -> None:
        badges = [Target(f"child_{i}", self._box(i)) for i in range(len(self.shown))]
        turns = [button.target for button in self._turns()]
        guest = [] if self.alone else [Target("guest", GUEST_PLACE)]
        corner = [button.target for button in self._corner()]
        self.targets.set([*badges, *guest, *turns, self.mole_target(), *corner, self.leave_target()])

    def _corner(self) -> list[PictureButton]:
        """What is for grown-ups."""
        return [self.grown_up] if self.children else [self.add, self.grown_up]

    def _turns(self) -> list[PictureButton]:
        back, on = self.turns
        return [button for button, there in ((back, self.page > 0), (on, self.page < self.pages - 1)) if there]

    def _box(self, place: int) -> Box:
        """Where a badge is: rows of six, each row centred."""
        if self.alone:
            x, y = ALONE_CENTRE
            return Box(x - ALONE_BADGE / 2, y - ALONE_BADGE / 2, ALONE_BADGE, ALONE_BADGE)
        row = place // COLUMNS
        in_row = min(COLUMNS, len(self.shown) - row * COLUMNS)
        x = look.PAGE_WIDTH / 2 + (place % COLUMNS - (in_row - 1) / 2) * STEP_X
        y = TOP_Y + row * STEP_Y + (60 if len(self.shown) <= COLUMNS else 0)
        return Box(x - BADGE / 2, y - BADGE / 2, BADGE, BADGE)

    def pick(self, name: str) -> Next | None:
        if name == "guest":
            return Next("play")
        if name == "add":
            return Next("first_child")
        if name == "grown_up":
            return Next("gate")
        if name in ("back", "on"):
            self.page += 1 if name == "on" else -1
            self.play("page")
            self._set_targets()
            return None
        self.play("tap")
        return Next("play", self.shown[int(name.removeprefix("child_"))])

    def draw(self, page: Page) -> None:
        page.backdrop("lane/opening_background")
        if not self.children:
            page.text("Ten Lamps", (640, 232), 96, look.GLOW, bold=True)
            page.label("Add a child with the + at the top, or let a guest go in by the door.", (640, 324))
        for place, child in enumerate(self.shown):
            self._draw_child(page, place, child)
        for button in (*self._turns(), *self._corner()):
            button.draw(page, self.targets)
        if not self.alone:
            self.guest.draw(page, self.targets)
        if self.targets.state("guest") == "pressed":
            page.ring(DOOR_BOX)
        self.draw_mole(page)
        self.draw_leave(page)
        self.draw_focus(page)

    def _draw_child(self, page: Page, place: int, child: Child) -> None:
        box = self._box(place)
        x, y = box.centre
        pressed = self.targets.state(f"child_{place}") == "pressed"
        page.picture(f"badges/{child.badge}", (x, y + (5 if pressed else 0)), box.w)
        if pressed:
            page.ring(box, radius=box.w * 0.56)
        page.label(page.fitted(child.nickname, NICKNAME_WIDTH, look.TEXT_SMALL), (x, y + box.h / 2 + 21))
