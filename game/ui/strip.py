"""A narrow strip of words at the top edge, for the grown-up: one sentence at a time, put away with a touch."""

from __future__ import annotations

from game.core.layout import Box
from game.ui import look
from game.ui.draw import Page
from game.ui.input import Event

WORDS_WIDTH = 1130.0
LINE_STEP = 27.0
LETTER_WIDTH = 9.4
"""Mean width of a letter at TEXT_SMALL, in units; generous."""


def lines_of(sentence: str, most: int = int(WORDS_WIDTH / LETTER_WIDTH)) -> list[str]:
    """The sentence in lines of at most `most` letters; a longer word (a path) is broken."""
    lines = [""]
    for word in sentence.split():
        while len(word) > most:
            lines.append(word[:most])
            word = word[most:]
        if lines[-1] and len(lines[-1]) + 1 + len(word) > most:
            lines.append(word)
        else:
            lines[-1] = f"{lines[-1]} {word}".strip()
    return [line for line in lines if line]


class Strip:
    """`tell` adds a sentence, once; a touch on the strip puts the present one away. It lies over every page."""

    def __init__(self) -> None:
        self.waiting: list[str] = []
        self._told: set[str] = set()
        self._held: set[int] = set()

    def tell(self, sentence: str | None) -> None:
        if sentence and sentence not in self._told:
            self._told.add(sentence)
            self.waiting.append(sentence)

    @property
    def box(self) -> Box | None:
        """Where the strip is; None when there is nothing to tell."""
        if not self.waiting:
            return None
        height = max(look.STRIP_HEIGHT, LINE_STEP * len(lines_of(self.waiting[0])) + 18)
        return Box(0, 0, look.PAGE_WIDTH, height)

    def handle(self, event: Event) -> bool:
        """Whether the event was for the strip."""
        box = self.box
        over = box is not None and box.inside((event.x, event.y))
        if event.kind == "press" and over:
            self._held.add(event.pointer)
            return True
        if event.kind in ("move", "release", "cancel") and event.pointer in self._held:
            if event.kind != "move":
                self._held.discard(event.pointer)
            if event.kind == "release" and over:
                self.waiting.pop(0)
            return True
        return False

    def draw(self, page: Page) -> None:
        box = self.box
        if box is None:
            return
        page.panel(box, look.PAPER_SHADE, radius=0, drop=4)
        lines = lines_of(self.waiting[0])
        top = box.h / 2 - LINE_STEP * (len(lines) - 1) / 2
        for i, line in enumerate(lines):
            page.text_from(line, (32, top + LINE_STEP * i), look.TEXT_SMALL)
        page.disc((1240, box.h / 2), 34, look.CREAM)
        page.text("×", (1240, box.h / 2), 26, bold=True)
