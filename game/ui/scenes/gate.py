"""The gate of the grown-ups' corner: a short sum in words, which a child who cannot read does not pass by chance."""

from __future__ import annotations

from random import Random

from game.core.layout import Box
from game.ui import look
from game.ui.draw import Page
from game.ui.input import Event
from game.ui.picture_button import PictureButton
from game.ui.scene import LEAVE_KEY, Kit, Next, Scene, Script
from game.ui.word_button import WordButton

WORDS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
LEAST, MOST = 3, 9
"""The numbers added; their sum is over ten."""
DIGITS = 2
"""All sums have so many; one digit more is a wrong answer, so that hitting all keys leads nowhere."""
REST_S = 3.0
"""After a wrong answer the keys rest for so long, and twice as long after the next one."""
TRIES = 3
"""After so many wrong answers the way leads back."""
PAPER = Box(240, 48, 800, 704)
FIELD = Box(300, 262, 272, 96)
PAD_X, PAD_Y, PAD_STEP, PAD_KEY = 620.0, 262.0, 124.0, 112.0
BACK_BOX, DONE_BOX = Box(300, 618, 112, 108), Box(460, 618, 112, 108)
PLACES = ("7", "8", "9", "4", "5", "6", "1", "2", "3", "0")


class GateScene(Scene):
    """`rng` chooses the sums."""

    name = "gate"
    leavable = False

    def __init__(self, kit: Kit, rng: Random) -> None:
        super().__init__(kit)
        self._rng = rng
        self.typed = ""
        self.wrong = 0
        self.resting = False
        self.sum = self._new_sum()
        self.keys = tuple(self._key(place, words) for place, words in enumerate((*PLACES, "←")))
        self.back = PictureButton("back", BACK_BOX, "icons/back")
        self.done = PictureButton("done", DONE_BOX, "icons/done")

    def _new_sum(self) -> tuple[int, int]:
        """Two numbers, other than the ones before."""
        pairs = [(a, b) for a in range(LEAST, MOST + 1) for b in range(LEAST, MOST + 1) if a + b > 10]
        return self._rng.choice([pair for pair in pairs if pair != getattr(self, "sum", None)])

    def _key(self, place: int, words: str) -> WordButton:
        column, row = place % 3, place // 3
        box = Box(PAD_X + column * PAD_STEP, PAD_Y + row * (PAD_KEY + 7), PAD_KEY, PAD_KEY - 5)
        if words == "←":
            wide = Box(box.x, box.y, PAD_STEP + PAD_KEY, box.h)
            return WordButton("take_back", wide, "take back", size=26, keys=("backspace",))
        return WordButton(f"digit_{words}", box, words, size=44, keys=(words,))

    # ------------------------------------------------------------------ life
    def enter(self) -> None:
        self._set_targets()

    def _set_targets(self) -> None:
        keys = [] if self.resting else [*(key.target for key in self.keys), self.done.target]
        self.targets.set([*keys, self.back.target])

    def handle(self, event: Event) -> Next | None:
        if event.kind == "key" and event.key == LEAVE_KEY:
            return Next("opening")
        if event.kind == "key" and event.key == "enter" and self.targets.focused() is None:
            return None if self.resting else self.pick("done")
        return super().handle(event)

    def pick(self, name: str) -> Next | None:
        if name == "back":
            return Next("opening")
        if name == "take_back":
            self.typed = self.typed[:-1]
        elif name == "done":
            return self._judge() if self.typed else None
        else:
            self.typed += name.removeprefix("digit_")
            if len(self.typed) > DIGITS:
                return self._judge()
        return None

    def _judge(self) -> Next | None:
        if self.typed == str(sum(self.sum)):
            return Next("children")
        self.wrong += 1
        if self.wrong >= TRIES:
            return Next("opening")
        self.run(self._rest())
        return None

    def _rest(self) -> Script:
        self.typed, self.resting = "", True
        self._set_targets()
        yield REST_S * self.wrong
        self.sum = self._new_sum()
        self.resting = False
        self._set_targets()
        return None

    # ------------------------------------------------------------------ drawing
    def draw(self, page: Page) -> None:
        page.backdrop("lane/opening_background")
        page.panel(PAPER, radius=36, drop=9)
        page.picture("icons/grownup", (340, 126), 104)
        page.text_from("For grown-ups", (414, 104), look.TEXT_TITLE, bold=True)
        page.text_from("Class list, settings, reports and files", (414, 146), look.TEXT_SMALL, look.QUIET_TEXT)
        a, b = self.sum
        words = "A new sum comes in a moment." if self.resting else f"Type the answer: {WORDS[a]} plus {WORDS[b]}"
        page.text_from(words, (300, 216), 28, look.QUIET_TEXT if self.resting else look.INK)
        page.panel(FIELD, look.SNOW, radius=18, drop=0)
        page.text(self.typed, FIELD.centre, 52, bold=True)
        if not self.resting:
            for key in self.keys:
                key.draw(page, self.targets)
            self.done.draw(page, self.targets, ready=bool(self.typed))
        self.back.draw(page, self.targets)
        page.paragraph("By the keys of the keyboard or by touch; then the tick.", Box(300, 384, 272, 120))
        self.draw_focus(page)
