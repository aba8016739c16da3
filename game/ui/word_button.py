"""A button with words on it, and perhaps a picture: for grown-ups, who read."""

from __future__ import annotations

from dataclasses import dataclass

from game.core.layout import Box
from game.ui import look
from game.ui.draw import Page
from game.ui.widgets import Target, Targets


@dataclass(frozen=True, slots=True)
class WordButton:
    """A card in `box` with `words`, under or (`beside`) to the right of art/`picture`.svg.

    A chosen one is dark with light words.
    """

    name: str
    box: Box
    words: str
    picture: str = ""
    size: float = 24.0
    beside: bool = True
    keys: tuple[str, ...] = ()

    @property
    def target(self) -> Target:
        return Target(self.name, self.box, self.keys)

    def draw(self, page: Page, targets: Targets, chosen: bool = False) -> None:
        pressed = targets.state(self.name) == "pressed"
        box = Box(self.box.x, self.box.y + (4 if pressed else 0), self.box.w, self.box.h)
        fill, ink = (look.NIGHT, look.CREAM) if chosen else (look.GLOW if pressed else look.SNOW, look.INK)
        page.panel(box, fill, radius=min(24, box.h * 0.24), drop=0 if pressed else 5)
        x, y = box.centre
        if not self.picture:
            page.text(page.fitted(self.words, box.w - 20, self.size, chosen), (x, y), self.size, ink, chosen)
        elif self.beside:
            wide = box.h * 0.72
            if chosen:
                page.block(Box(box.x + 12, y - wide / 2, wide, wide), look.CREAM, 14)
            page.picture(self.picture, (box.x + 12 + wide / 2, y), wide * (0.86 if chosen else 1))
            page.text_from(
                page.fitted(self.words, box.w - wide - 36, self.size, chosen),
                (box.x + wide + 24, y), self.size, ink, chosen,
            )  # fmt: skip
        else:
            wide = box.h * 0.52
            if chosen:
                page.block(Box(x - wide / 2 - 8, box.y + 9, wide + 16, wide + 6), look.CREAM, 14)
            page.picture(self.picture, (x, box.y + 12 + wide / 2), wide)
            page.text(self.words, (x, box.y + box.h - 25), self.size, ink, chosen)
