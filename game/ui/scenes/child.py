"""One child of the class list, new or known: nickname, notes, badge, hand; put away or brought back."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from game.core.errors import Trouble
from game.core.layout import Box
from game.core.records import BADGES, Child, Hand
from game.ui import letter_pad, look
from game.ui.draw import Page
from game.ui.input import Event
from game.ui.picture_button import PictureButton
from game.ui.scene import LEAVE_KEY, Kit, Next, Scene
from game.ui.text_field import TextField
from game.ui.widgets import Target
from game.ui.word_button import WordButton

Keep = Callable[[Child, str | None], None]
"""Saves the child (one without an id is new) and, when it was asked for, the place of this device; raises Trouble."""

PAPER = Box(90, 18, 1100, 756)
LABEL_X, FIELD_X = 138.0, 330.0
FIELD, NOTES = Box(FIELD_X, 92, 660, 68), Box(FIELD_X, 174, 660, 60)
LETTERS_BOX = Box(1008, 92, 134, 68)
NICKNAME_MOST, NOTES_MOST = 40, 200
BADGE, BADGE_STEP, BADGES_AT = 88.0, 132.0, (380.0, 300.0)
BADGE_ROW = 100.0
HANDS: dict[Hand, Box] = {"left": Box(FIELD_X, 494, 124, 108), "right": Box(FIELD_X + 142, 494, 124, 108)}
AWAY_BOX = Box(826, 506, 316, 84)
PLACES = (("home", "at home", Box(800, 506, 160, 84)), ("centre", "at a centre", Box(972, 506, 170, 84)))
BACK_BOX, DONE_BOX = Box(136, 644, 116, 108), Box(1026, 644, 116, 108)
FOOT = Box(282, 656, 714, 90)
ASK_PAPER = Box(200, 448, 880, 300)
ANSWERS = (
    ("share", "Let both wear it", Box(248, 612, 390, 96)),
    ("other", "Another badge", Box(654, 612, 378, 96)),
)
PRIVACY = "A nickname is enough: no surname, no birth date. Nothing leaves this device."


class ChildScene(Scene):
    """`child` to change, or None for a new one; `others`: the rest of the list. `place`: where the device is, asked
    with the very first child, else None. `after` comes when it is done or left."""

    name = "child"
    leavable = False

    def __init__(
        self, kit: Kit, child: Child | None, others: Sequence[Child], keep: Keep, after: Next, place: str | None = None
    ) -> None:
        super().__init__(kit)
        self.others = tuple(other for other in others if not other.away)
        worn = {other.badge for other in self.others}
        free = next((badge for badge in BADGES if badge not in worn), BADGES[0])
        self.child = child or Child("", "", free)
        self.is_new, self.place = child is None, place
        self._worn_before = None if child is None or child.away else child.badge
        self._keep, self._after = keep, after
        self.fields = (
            TextField("nickname", FIELD, self.child.nickname, NICKNAME_MOST),
            TextField("notes", NOTES, self.child.notes, NOTES_MOST),
        )
        self.active = self.fields[0]
        self.pad = False
        self.asked: Child | None = None
        self.notice = ""
        self.done = PictureButton("done", DONE_BOX, "icons/done")
        self.back = PictureButton("back", BACK_BOX, "icons/back")
        self.hands = tuple(PictureButton(hand, box, f"icons/{hand}_hand") for hand, box in HANDS.items())
        self.letters = WordButton("letters", LETTERS_BOX, "letters", size=24)
        self.places = tuple(WordButton(f"place_{name}", box, words) for name, words, box in PLACES)
        self.away = WordButton("away", AWAY_BOX, "Bring back" if self.child.away else "Put away")
        self.answers = tuple(WordButton(name, box, words) for name, words, box in ANSWERS)

    # ------------------------------------------------------------------ life
    def enter(self) -> None:
        self.kit.typing(True)
        self._set_targets()

    def leave(self) -> None:
        super().leave()
        self.kit.typing(False)

    def _set_targets(self) -> None:
        if self.asked is not None:
            self.targets.set([answer.target for answer in self.answers])
        elif self.pad:
            pad = letter_pad.buttons(letter_pad.capital_next(self.active.text))
            self.targets.set([button.target for button in pad])
        else:
            badges = [Target(f"badge_{badge}", self._badge_box(badge)) for badge in BADGES]
            fields = [field.target for field in self.fields]
            hands = [hand.target for hand in self.hands]
            sides = [button.target for button in self._side_buttons()]
            last = [self.done.target, self.back.target]
            self.targets.set([*fields, self.letters.target, *badges, *hands, *sides, *last])

    def _side_buttons(self) -> tuple[WordButton, ...]:
        if self.place is not None:
            return self.places
        return () if self.is_new else (self.away,)

    def _badge_box(self, badge: str) -> Box:
        row, place = divmod(BADGES.index(badge), 6)
        x, y = BADGES_AT[0] + place * BADGE_STEP, BADGES_AT[1] + row * BADGE_ROW
        return Box(x - BADGE / 2, y - BADGE / 2, BADGE, BADGE)

    # ------------------------------------------------------------------ typing
    def handle(self, event: Event) -> Next | None:
        if event.kind in ("text", "composing"):
            if self.asked is None:
                self.active.handle(event)
            return None
        if event.kind == "key":
            return self._key(event)
        return super().handle(event)

    def _key(self, event: Event) -> Next | None:
        """Letters, digits and the space are typed; the other keys move and pick."""
        if self.active.composing:
            return None
        if event.key == LEAVE_KEY:
            return self._escape()
        if event.key == "backspace":
            self.active.handle(event)
        focused = self.targets.focused()
        on_field = focused is None or any(focused.name == field.name for field in self.fields)
        if event.key == "enter" and on_field and self.asked is None and not self.pad:
            return self.pick("done")
        if event.key in ("left", "right", "up", "down", "tab", "enter"):
            following = super().handle(event)
            self._follow_focus()
            return following
        return None

    def _follow_focus(self) -> None:
        focused = self.targets.focused()
        for field in self.fields:
            if focused is not None and field.name == focused.name:
                self.active = field

    def _escape(self) -> Next | None:
        if self.asked is None and not self.pad:
            return self._after
        self.asked, self.pad = None, False
        self._set_targets()
        return None

    # ------------------------------------------------------------------ choosing
    def pick(self, name: str) -> Next | None:
        following = self._pick(name)
        if following is None:
            self._set_targets()
        return following

    def _pick(self, name: str) -> Next | None:
        if self.pad:
            self._touch_pad(name)
            return None
        if name == "back":
            return self._after
        if name in ("done", "away"):
            return self._finish(replace(self.child, away=self.child.away != (name == "away")))
        if name in ("share", "other"):
            asked, self.asked = self.asked, None
            return self._save(asked) if name == "share" and asked is not None else None
        for field in self.fields:
            if name == field.name:
                self.active = field
        if name == "letters":
            self.pad = True
        elif name.startswith("badge_"):
            self.child = replace(self.child, badge=name.removeprefix("badge_"))
        elif name.startswith("place_"):
            self.place = name.removeprefix("place_")
        elif name in HANDS:
            self.child = replace(self.child, hand="left" if name == "left" else "right")
        return None

    def _touch_pad(self, name: str) -> None:
        event = letter_pad.typed(name, self.active.text)
        if event is not None:
            self.active.handle(event)
        self.pad = name != letter_pad.CLOSE

    def _wearer(self, badge: str) -> Child | None:
        return next((other for other in self.others if other.badge == badge), None)

    def _finish(self, child: Child) -> Next | None:
        """Save the child as typed; ask first when its badge is worn by another, unless that was so before."""
        child = replace(child, nickname=self.fields[0].text.strip(), notes=self.fields[1].text.strip())
        if not child.nickname:
            self.notice = "The nickname is empty; type one."
            return None
        to_ask = not child.away and child.badge != self._worn_before and self._wearer(child.badge) is not None
        self.asked = child if to_ask else None
        return None if self.asked is not None else self._save(child)

    def _save(self, child: Child) -> Next | None:
        try:
            self._keep(child, self.place)
        except Trouble as trouble:
            self.notice = str(trouble)
            return None
        return self._after

    # ------------------------------------------------------------------ drawing
    def draw(self, page: Page) -> None:
        page.backdrop("lane/opening_background")
        page.panel(PAPER, radius=36, drop=9)
        title = "A new child" if self.is_new else page.fitted(self.child.nickname, 780, look.TEXT_TITLE, True)
        page.text_from(title, (LABEL_X, 58), look.TEXT_TITLE, bold=True)
        for words, y in (("Nickname", 126), ("Notes", 204), ("Badge", 350), ("Writes with", 548)):
            page.text_from(words, (LABEL_X, y))
        for field in self.fields:
            field.draw(page, field is self.active)
        self.letters.draw(page, self.targets)
        self._draw_badges(page)
        for hand in self.hands:
            hand.draw(page, self.targets, chosen=hand.name == self.child.hand)
        self._draw_side(page)
        self._draw_foot(page)
        if self.pad:
            letter_pad.draw(page, self.targets, letter_pad.capital_next(self.active.text))
        if self.asked is not None:
            self._draw_question(page, self.asked)
        self.draw_focus(page)

    def _draw_badges(self, page: Page) -> None:
        for badge in BADGES:
            box = self._badge_box(badge)
            page.picture(f"badges/{badge}", box.centre, BADGE, alpha=0.4 if self._wearer(badge) else 1.0)
            if badge == self.child.badge:
                page.ring(box, radius=56)
        wearer = self._wearer(self.child.badge)
        if wearer is not None:
            words = page.fitted(f"This badge is worn by {wearer.nickname} already.", 780, 19)
            page.text_from(words, (FIELD_X, 463), 19, look.BRICK)

    def _draw_side(self, page: Page) -> None:
        if self.place is not None:
            page.text_from("This device is", (622, 548), 23)
        for button in self._side_buttons():
            button.draw(page, self.targets, chosen=button.name == f"place_{self.place}")

    def _draw_foot(self, page: Page) -> None:
        self.back.draw(page, self.targets)
        self.done.draw(page, self.targets, ready=bool(self.fields[0].text.strip()))
        if self.notice:
            page.block(FOOT, look.PAPER_SHADE, 18)
            page.paragraph(self.notice, Box(FOOT.x + 18, FOOT.y + 10, FOOT.w - 36, FOOT.h), 19, look.INK, 3)
        else:
            page.text(PRIVACY, FOOT.centre, look.TEXT_SMALL, look.QUIET_TEXT)

    def _draw_question(self, page: Page, child: Child) -> None:
        wearer = self._wearer(child.badge)
        page.panel(ASK_PAPER, look.PAPER_SHADE, radius=30, drop=8)
        page.picture(f"badges/{child.badge}", (ASK_PAPER.x + 92, ASK_PAPER.y + 84), 108)
        name = "" if wearer is None else page.fitted(wearer.nickname, 400, 26)
        words = f"{name} wears this badge already. A child who cannot read knows the own badge by its picture."
        page.paragraph(words, Box(ASK_PAPER.x + 166, ASK_PAPER.y + 28, ASK_PAPER.w - 210, 140), 26, look.INK, 4)
        for answer in self.answers:
            answer.draw(page, self.targets)
