"""Which has more: two sides, each one large target, and the sign for the same between and below them."""

from __future__ import annotations

from game.core import phrases
from game.core.layout import Box, Point
from game.core.records import Outcome, Task
from game.core.tasks.which_more import LEFT, RIGHT, SAME, WhichMore, WhichResponse
from game.ui import look, shapes
from game.ui.answers import Answers
from game.ui.draw import Page
from game.ui.pairs import Pairs
from game.ui.picture_button import PictureButton
from game.ui.scene import Kit, Next, Script
from game.ui.task_scene import Answer, TaskScene
from game.ui.widgets import Target, Targets

BOXES = {LEFT: Box(111, 60, 488, 560), RIGHT: Box(681, 60, 488, 560)}
SAME_BOX = Box(552, 640, 176, 140)
MIDDLES: tuple[Point, Point] = (BOXES[LEFT].centre, BOXES[RIGHT].centre)
NUMERAL_HEIGHT, UPPER_HEIGHT, UPPER_BY = 300.0, 220.0, 100.0
DOTS_WIDTH, DOTS_BELOW = 360.0, 130.0
LINK_S = 0.5


class Sides(Answers):
    """The two sides and the sign for the same, in place of numerals."""

    def __init__(self, task: WhichMore, calm: bool) -> None:
        super().__init__({LEFT: MIDDLES[0], RIGHT: MIDDLES[1], SAME: SAME_BOX.centre}, SAME_BOX.h, calm=calm)
        self.numerals = task.numbers if task.numerals else None
        self.pairs = Pairs(task, MIDDLES, calm)
        self.shining: int | None = None
        self._same = PictureButton(f"answer_{SAME}", SAME_BOX, "icons/same", ("s",))

    def targets(self) -> list[Target]:
        return [*(Target(f"answer_{side}", box) for side, box in BOXES.items()), self._same.target]

    def update(self, dt_s: float) -> None:
        super().update(dt_s)
        self.pairs.update(dt_s)

    def draw(self, page: Page, targets: Targets | None = None) -> None:
        for side, box in BOXES.items():
            pressed = targets is not None and targets.state(f"answer_{side}") == "pressed"
            page.panel(box, look.GLOW if pressed or side == self.shining else look.CREAM, radius=40, drop=9)
        if self.numerals is None:
            self.pairs.draw(page)
        else:
            self._draw_numerals(page, self.numerals)
        if targets is not None:
            self._same.draw(page, targets)
        if self.right is not None:
            page.ring(SAME_BOX if self.right == SAME else BOXES[self.right], radius=44)

    def _draw_numerals(self, page: Page, numerals: tuple[int, int]) -> None:
        for number, (x, y) in zip(numerals, MIDDLES, strict=True):
            if not self.dots:
                page.numeral(number, (x, y), NUMERAL_HEIGHT)
                continue
            page.numeral(number, (x, y - UPPER_BY), UPPER_HEIGHT)
            page.shape(shapes.dots(number, DOTS_WIDTH), (x, y + DOTS_BELOW), DOTS_WIDTH, DOTS_WIDTH * 0.4)


class WhichMoreScene(TaskScene):
    """Help lines the sets up in pairs, or gives the numerals their dots."""

    card_shown = False
    answers: Sides

    def __init__(self, kit: Kit, task: WhichMore, answer: Answer) -> None:
        super().__init__(kit, task, answer)

    def make_answers(self, task: Task) -> Answers:
        assert isinstance(task, WhichMore)
        return Sides(task, self.calm)

    def response(self, number: int) -> WhichResponse:
        return WhichResponse(number)

    def show_hint(self, outcome: Outcome) -> Script:
        said = self.say(*outcome.say)
        yield from self._compare()
        yield said
        return None

    def _compare(self) -> Script:
        """Pairs are joined one by one, and what is left over shines; numerals get their dots."""
        if self.answers.numerals is not None:
            self.answers.dots = True
            return None
        pairs = self.answers.pairs
        pairs.line_up()
        yield pairs.still
        while pairs.links < pairs.most_links:
            pairs.links += 1
            self.play("tag")
            yield LINK_S
        pairs.left_over = True
        return None

    def show_way(self) -> Script:
        """After pairing, each side shines and its number is said."""
        yield from self._compare()
        for side in (LEFT, RIGHT):
            self.answers.shining = side
            yield look.SHOW_BEAT_S
            yield self.say(phrases.number(self.task.numbers[side]))
        self.answers.shining = None
        return None

    def _finish(self, outcome: Outcome) -> Script:
        said = self.say(*outcome.say)
        yield from self._compare()
        yield said
        if outcome.praise:
            yield self.say(*outcome.praise)
        yield look.SETTLE_S
        return Next("lane")

    def draw_material(self, page: Page) -> None:
        """All that there is to see are the answers."""
