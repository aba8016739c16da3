"""A piece of the number track on the card: large stepping stones in a row, one of them without its numeral."""

from __future__ import annotations

from collections.abc import Sequence

from game.core.layout import Point
from game.ui import look, shapes
from game.ui.answers import PATH, Answers
from game.ui.draw import Page

PIECE_Y, PIECE_STEP, PIECE_SIZE = 352.0, 186.0, 162.0
WHOLE_Y, WHOLE_SCALE = 352.0, 0.9
WAVE = 16.0
MARK_SHARE = 0.5


class Track(Answers):
    """Stones with numerals; the one that is asked for shows a ring of dashes until `known`."""

    def __init__(self, spots: dict[int, Point], size: float, hidden: int | None, calm: bool) -> None:
        super().__init__(spots, size, stones=True, calm=calm)
        self.hidden = hidden
        self.known = False

    @classmethod
    def piece(cls, track: Sequence[int | None], hidden: int, calm: bool) -> Track:
        """Some neighbours of the track in the middle of the card."""
        numbers = [hidden if number is None else number for number in track]
        first = look.PAGE_WIDTH / 2 - PIECE_STEP * (len(numbers) - 1) / 2
        spots = {n: (first + PIECE_STEP * i, PIECE_Y + (WAVE if n % 2 else -WAVE)) for i, n in enumerate(numbers)}
        return cls(spots, PIECE_SIZE, hidden, calm)

    @classmethod
    def whole(cls, calm: bool) -> Track:
        """All of it on the card, to look at."""
        step, size = look.STONE_STEP * WHOLE_SCALE, look.STONE_WIDTH * WHOLE_SCALE
        first = (look.PAGE_WIDTH - step * (len(PATH) - 1)) / 2
        spots = {n: (first + step * n, WHOLE_Y + (7 if n % 2 else -7)) for n in PATH}
        return cls(spots, size, None, calm)

    def _draw_face(self, page: Page, n: int, centre: Point) -> None:
        if n != self.hidden or self.known:
            super()._draw_face(page, n, centre)
            return
        side = round(self.size * MARK_SHARE)
        page.shape(shapes.gap(side), centre, side, side)
