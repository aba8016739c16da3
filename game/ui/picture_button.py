"""A large button with a picture on it: for choices that a child makes without reading."""

from __future__ import annotations

from dataclasses import dataclass

from game.core.layout import Box
from game.ui import look
from game.ui.draw import Page
from game.ui.widgets import Target, Targets

FAINT = 0.35


@dataclass(frozen=True, slots=True)
class PictureButton:
    """A card in `box` that shows art/`picture`.svg, made to fit a `share` of it."""

    name: str
    box: Box
    picture: str
    keys: tuple[str, ...] = ()
    flip: bool = False
    share: float = 0.74

    @property
    def target(self) -> Target:
        return Target(self.name, self.box, self.keys)

    def draw(self, page: Page, targets: Targets, chosen: bool = False, ready: bool = True) -> None:
        """Faint until it is `ready` to be touched."""
        pressed = targets.state(self.name) == "pressed"
        box = Box(self.box.x, self.box.y + (5 if pressed else 0), self.box.w, self.box.h)
        colour = look.GLOW if pressed else look.CREAM if ready else look.PAPER_SHADE
        page.panel(box, colour, radius=min(30, box.h * 0.24), drop=0 if pressed else 7)
        drawing = page.pictures.drawing(self.picture)
        scale = self.share * min(box.w / drawing.width, box.h / drawing.height)
        page.picture(self.picture, box.centre, round(drawing.width * scale, 1), self.flip, 1.0 if ready else FAINT)
        if chosen:
            page.ring(box)
