"""A line to type on: any script, by keyboard or input method."""

from __future__ import annotations

from game.core.layout import Box
from game.ui import look
from game.ui.draw import Page
from game.ui.input import Event
from game.ui.widgets import Target

INSET = 20.0


class TextField:
    """What is typed comes behind `text`; `composing` stands in the input method and is not taken yet.

    No more than `most` letters can be typed; a longer text that was there before stays whole.
    """

    def __init__(self, name: str, box: Box, text: str, most: int) -> None:
        self.name, self.box, self.most = name, box, most
        self.text, self.composing = text, ""

    @property
    def target(self) -> Target:
        return Target(self.name, self.box)

    def handle(self, event: Event) -> None:
        """Take in what was typed."""
        if event.kind == "text":
            self.text += event.text[: max(0, self.most - len(self.text))]
            self.composing = ""
        elif event.kind == "composing":
            self.composing = event.text
        elif event.kind == "key" and event.key == "backspace" and not self.composing:
            self.text = self.text[:-1]

    def draw(self, page: Page, active: bool, size: float = 28.0) -> None:
        """The end of the text is shown when not all of it fits."""
        page.panel(self.box, look.SNOW, radius=18, drop=0)
        y = self.box.y + self.box.h / 2
        room = self.box.w - 2 * INSET - 8 - page.pictures.width(self.composing, size)
        text = self.text
        if page.pictures.width(text, size) > room:
            cut = page.fitted(text[::-1], room, size)
            text = "…" + text[len(text) - len(cut) + 1 :]
        x = self.box.x + INSET
        for words, colour in ((text, look.INK), (self.composing, look.TEAL)):
            if words.strip():
                page.text_from(words, (x, y), size, colour)
            x += page.pictures.width(words, size)
        if active:
            page.block(Box(x + 2, self.box.y + 14, 4, self.box.h - 28), look.INK, 2)
