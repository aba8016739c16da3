"""Letters to touch, for a device without a keyboard at hand: a to z in the order of the alphabet."""

from __future__ import annotations

from game.core.layout import Box
from game.ui import look
from game.ui.draw import Page
from game.ui.input import Event
from game.ui.widgets import Targets
from game.ui.word_button import WordButton

PAPER = Box(40, 318, 1200, 466)
LETTERS = ("abcdefghij", "klmnopqrst", "uvwxyz-'.,")
KEY_W, KEY_H, STEP_X, STEP_Y = 108.0, 92.0, 116.0, 106.0
LEFT, TOP = 64.0, 340.0
_NAME = "letter_"
BACK, SPACE, CLOSE = "pad_backspace", "pad_space", "pad_close"


def buttons(capital: bool) -> list[WordButton]:
    """All keys of the pad."""
    made = []
    for row, letters in enumerate(LETTERS):
        for place, letter in enumerate(letters):
            box = Box(LEFT + place * STEP_X, TOP + row * STEP_Y, KEY_W, KEY_H)
            made.append(WordButton(_NAME + letter, box, letter.upper() if capital else letter, size=32))
    y = TOP + 3 * STEP_Y
    made.append(WordButton(SPACE, Box(LEFT, y, 5 * STEP_X - 8, KEY_H), "space", size=26))
    made.append(WordButton(BACK, Box(LEFT + 5 * STEP_X, y, 3 * STEP_X - 8, KEY_H), "take back", size=26))
    made.append(WordButton(CLOSE, Box(LEFT + 8 * STEP_X, y, 2 * STEP_X - 8, KEY_H), "ready", size=26))
    return made


def capital_next(text: str) -> bool:
    """A word begins with a capital."""
    return not text or text[-1] in " -"


def typed(name: str, text: str) -> Event | None:
    """What touching that key types behind `text`; None for a key that types nothing."""
    if name == BACK:
        return Event("key", key="backspace")
    if name == SPACE:
        return Event("text", text=" ")
    if not name.startswith(_NAME):
        return None
    letter = name.removeprefix(_NAME)
    return Event("text", text=letter.upper() if capital_next(text) else letter)


def draw(page: Page, targets: Targets, capital: bool) -> None:
    page.panel(PAPER, look.PAPER_SHADE, radius=30, drop=8)
    for button in buttons(capital):
        button.draw(page, targets)
