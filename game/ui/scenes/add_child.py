"""A grown-up adds a child: nickname, badge, hand."""

from __future__ import annotations

from collections.abc import Collection

from game.core.layout import Box
from game.core.records import BADGES, Hand
from game.ui import look
from game.ui.draw import Page
from game.ui.input import Event
from game.ui.picture_button import PictureButton
from game.ui.scene import Kit, Next, Scene
from game.ui.widgets import Target

PAPER = Box(90, 40, 1100, 720)
FIELD = Box(330, 118, 620, 70)
LETTERS_MOST = 24
BADGE, BADGE_STEP = 100.0, 122.0
BADGES_AT = (389.0, 270.0)
HAND_BOXES: dict[Hand, Box] = {"left": Box(330, 456, 140, 124), "right": Box(500, 456, 140, 124)}
DONE_BOX = Box(1020, 616, 124, 114)
BACK_BOX = Box(136, 616, 124, 114)
LABEL_X = 140.0


class AddChildScene(Scene):
    """`taken` badges are worn by other children and cannot be chosen while any is free."""

    name = "add_child"
    leavable = False

    def __init__(self, kit: Kit, taken: Collection[str]) -> None:
        super().__init__(kit)
        self.free = tuple(badge for badge in BADGES if badge not in taken) or BADGES
        self.nickname = ""
        self.composing = ""
        self.badge = self.free[0]
        self.hand: Hand = "right"
        self.done = PictureButton("done", DONE_BOX, "icons/done")
        self.back = PictureButton("back", BACK_BOX, "icons/back")
        self.hands = tuple(PictureButton(h, box, f"icons/{h}_hand") for h, box in HAND_BOXES.items())

    def enter(self) -> None:
        self.kit.typing(True)
        self._set_targets()

    def leave(self) -> None:
        super().leave()
        self.kit.typing(False)

    def _set_targets(self) -> None:
        badges = [Target(f"badge_{badge}", self._badge_box(badge)) for badge in self.free]
        buttons = [button.target for button in (*self.hands, self.done, self.back)]
        self.targets.set([*badges, *buttons])

    def _badge_box(self, badge: str) -> Box:
        place = BADGES.index(badge)
        x, y = BADGES_AT[0] + place % 6 * BADGE_STEP, BADGES_AT[1] + place // 6 * (BADGE + 14)
        return Box(x - BADGE / 2, y - BADGE / 2, BADGE, BADGE)

    # ------------------------------------------------------------------ typing
    def handle(self, event: Event) -> Next | None:
        if event.kind == "text":
            self.nickname = (self.nickname + event.text)[:LETTERS_MOST]
            self.composing = ""
        elif event.kind == "composing":
            self.composing = event.text
        elif event.kind == "key":
            return self._key(event)
        return super().handle(event) if event.kind not in ("text", "composing") else None

    def _key(self, event: Event) -> Next | None:
        if self.composing:
            return None
        if event.key == "escape":
            return Next("opening")
        if event.key == "backspace":
            self.nickname = self.nickname[:-1]
        if event.key == "enter" and self.targets.focused() is None:
            return self.pick("done")
        if event.key in ("left", "right", "up", "down", "tab", "enter"):
            return super().handle(event)
        return None

    # ------------------------------------------------------------------ choosing
    def pick(self, name: str) -> Next | None:
        if name == "back":
            return Next("opening")
        if name == "done":
            whole = self.nickname.strip()
            return Next("added", (whole, self.badge, self.hand)) if whole else None
        if name.startswith("badge_"):
            self.badge = name.removeprefix("badge_")
        elif name in ("left", "right"):
            self.hand = "left" if name == "left" else "right"
        return None

    # ------------------------------------------------------------------ drawing
    def draw(self, page: Page) -> None:
        page.backdrop("lane/opening_background")
        page.panel(PAPER, radius=36, drop=9)
        page.text_from("A new child", (LABEL_X, 82), 34, bold=True)
        page.text_from("Nickname", (LABEL_X, 153))
        page.text_from("Badge", (LABEL_X, 327))
        page.text_from("Writes with", (LABEL_X, 518))
        page.text("A nickname is enough: no surname, no birth date. Nothing leaves this device.",
                  (640, 674), look.TEXT_SMALL, look.QUIET_TEXT)  # fmt: skip
        self._draw_field(page)
        for badge in BADGES:
            self._draw_badge(page, badge)
        for button in self.hands:
            button.draw(page, self.targets, chosen=button.name == self.hand)
        self.back.draw(page, self.targets)
        if self.nickname.strip():
            self.done.draw(page, self.targets)
        self.draw_focus(page)

    def _draw_field(self, page: Page) -> None:
        page.panel(FIELD, look.SNOW, radius=18, drop=0)
        y = FIELD.y + FIELD.h / 2
        x = FIELD.x + 22
        for words, colour in ((self.nickname, look.INK), (self.composing, look.TEAL)):
            if words:
                x += page.text_from(words, (x, y), 30, colour) + 3
        page.panel(Box(x + 2, FIELD.y + 16, 4, FIELD.h - 32), look.INK, radius=1, drop=0)

    def _draw_badge(self, page: Page, badge: str) -> None:
        box = self._badge_box(badge)
        page.picture(f"badges/{badge}", box.centre, BADGE, alpha=1.0 if badge in self.free else 0.22)
        if badge == self.badge:
            page.ring(box, radius=60)
