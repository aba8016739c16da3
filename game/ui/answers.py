"""Numerals to answer with: cards to choose from, or the number path 0 to 10 (the answer that the child makes)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from game.core.layout import Box, Point
from game.ui import look, motion, shapes
from game.ui.draw import Page
from game.ui.widgets import Target, Targets

PATH = tuple(range(11))
_PREFIX = "answer_"


def number_of(name: str) -> int | None:
    """The number that a target stands for; None when it is no answer."""
    return int(name.removeprefix(_PREFIX)) if name.startswith(_PREFIX) else None


class Answers:
    """Numeral cards or stones at fixed spots. The scene says what is `right` (it glows), whether `dots` show."""

    def __init__(self, spots: Mapping[int, Point], size: float, stones: bool = False, calm: bool = False) -> None:
        self.spots, self.size, self.stones = dict(spots), size, stones
        self.right: int | None = None
        self.dots = False
        self.token: Point | None = None
        self._calm = calm
        self._wrong: int | None = None
        self._wrong_s = 0.0

    @classmethod
    def below(cls, choices: Sequence[int], left: bool, calm: bool) -> Answers:
        """Below the card, away from the mole: cards for `choices`, or the path when there are none."""
        if not choices:
            return cls.path(188 if not left else look.PAGE_WIDTH - 188 - 10 * look.STONE_STEP - look.STONE_WIDTH, calm)
        shift = 40 if not left else -40
        first = look.PAGE_WIDTH / 2 + shift - look.ANSWER_STEP * (len(choices) - 1) / 2
        spots = {n: (first + look.ANSWER_STEP * i, look.ANSWER_Y) for i, n in enumerate(choices)}
        return cls(spots, look.ANSWER_CARD, calm=calm)

    @classmethod
    def path(cls, left_edge: float, calm: bool, y: float = look.ANSWER_Y, scale: float = 1.0) -> Answers:
        """The number path, its stones a little up and down."""
        x = left_edge + look.STONE_WIDTH * scale / 2
        spots = {n: (x + look.STONE_STEP * scale * n, y + (7 if n % 2 else -7)) for n in PATH}
        return cls(spots, look.STONE_WIDTH * scale, stones=True, calm=calm)

    def targets(self) -> list[Target]:
        return [Target(f"{_PREFIX}{n}", self._box(n), (str(n), "t") if n == 10 else (str(n),)) for n in self.spots]

    def _box(self, n: int) -> Box:
        x, y = self.spots[n]
        h = self._height
        return Box(x - self.size / 2, y - h / 2, self.size, h)

    @property
    def _height(self) -> float:
        return self.size * look.STONE_HEIGHT / look.STONE_WIDTH if self.stones else self.size

    def settle(self, n: int) -> None:
        """The chosen numeral was not the one: it dips and comes back, nothing else."""
        self._wrong, self._wrong_s = n, 0.0

    def update(self, dt_s: float) -> None:
        self._wrong_s += dt_s

    # ------------------------------------------------------------------ drawing
    def draw(self, page: Page, targets: Targets | None = None) -> None:
        for n in self.spots:
            self._draw_one(page, n, targets is not None and targets.state(f"{_PREFIX}{n}") == "pressed")
        if self.token is not None:
            page.picture("things/counter", self.token, self.size * 0.62)

    def _draw_one(self, page: Page, n: int, pressed: bool) -> None:
        x, y = self.spots[n]
        if n == self._wrong and not self._calm:
            y += motion.hop(self._wrong_s, look.SETTLE_S, 12)
        if pressed:
            y += 5
        draw_back = self._draw_stone if self.stones else self._draw_card
        draw_back(page, (x, y), pressed)
        self._draw_face(page, n, (x, y - (2 if pressed else 7) if self.stones else y))
        if n == self.right:
            box = self._box(n)
            page.ring(Box(box.x, box.y + (5 if pressed else 0), box.w, box.h), radius=34)

    def _draw_card(self, page: Page, centre: Point, pressed: bool) -> None:
        side = self.size
        box = Box(centre[0] - side / 2, centre[1] - side / 2, side, side)
        page.panel(box, look.GLOW if pressed else look.CREAM, radius=side * 0.17, drop=0 if pressed else 7)

    def _draw_stone(self, page: Page, centre: Point, pressed: bool) -> None:
        w, h = self.size, self._height
        page.shape(shapes.stone(w, h, pressed), centre, w, h)

    def _draw_face(self, page: Page, n: int, centre: Point) -> None:
        """The numeral; with dots below it on a card, or on a plate above a stone."""
        x, y = centre
        if self.stones:
            page.numeral(n, centre, self.size * look.STONE_NUMERAL / look.STONE_WIDTH)
            if self.dots:
                self._draw_plate(page, n, (x, y - self._height * 0.68))
            return
        tall = self.size * 0.64
        if not self.dots:
            page.numeral(n, centre, tall)
            return
        wide = self.size * 0.74
        page.numeral(n, (x, y - self.size * 0.15), tall * 0.74)
        page.shape(shapes.dots(n, wide), (x, y + self.size * 0.27), wide, wide * 0.4)

    def _draw_plate(self, page: Page, n: int, centre: Point) -> None:
        width, height = self.size * 0.95, self.size * 0.45
        box = Box(centre[0] - width / 2, centre[1] - height / 2, width, height)
        page.panel(box, radius=9, drop=0)
        page.shape(shapes.dots(n, width * 0.82), centre, width * 0.82, width * 0.328)
