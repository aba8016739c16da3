"""One more: put a counter into the ten frame, follow one going in under the cloth, or step on from a numeral."""

from __future__ import annotations

from game.core import phrases
from game.core.records import Outcome
from game.core.tasks.one_more import ADD, COVERED, MoreResponse, OneMore
from game.ui import look
from game.ui.answers import PATH, Answers
from game.ui.draw import Page
from game.ui.scene import Kit, Script
from game.ui.task_scene import Answer, TaskScene
from game.ui.ten_frame import TenFrame, cell_centre
from game.ui.token_walk import TokenWalk
from game.ui.widgets import Target, round_target

WAITING_CENTRE, WAITING_SIZE = (640.0, 559.0), 104.0
"""Where the one counter waits, below the frame."""
NUMERAL_CENTRE, NUMERAL_HEIGHT = (640.0, 330.0), 330.0
UPPER_NUMERAL_CENTRE, UPPER_NUMERAL_HEIGHT = (640.0, 208.0), 210.0
CARD_PATH_SCALE, CARD_PATH_Y = 0.9, 480.0
WAITING, FREE = "waiting", "free"


class OneMoreScene(TaskScene):
    """Once the counter is in, or has gone in under the cloth, the answers come."""

    def __init__(self, kit: Kit, task: OneMore, answer: Answer) -> None:
        super().__init__(kit, task, answer)
        self.frame = TenFrame(task.number, WAITING_CENTRE, self.calm)
        self.answers_shown = not task.frame_shown
        self.waiting = task.frame_shown
        self._walk: TokenWalk | None = None

    @property
    def _to_put(self) -> bool:
        return self.waiting and self.task.step.way == ADD

    def material_targets(self) -> list[Target]:
        """The counter that waits, or the place that is free: touching either puts it in."""
        if not self._to_put:
            return []
        free = cell_centre(self.frame.free[0])
        return [
            round_target(WAITING, WAITING_CENTRE, WAITING_SIZE),
            round_target(FREE, free, look.TARGET_LEAST),
        ]

    def touch(self, name: str) -> None:
        if name in (WAITING, FREE) and self._to_put:
            self.run(self._put())

    def _put(self) -> Script:
        """The counter goes into the frame; how many are there now?"""
        self._send_in()
        yield lambda: self.frame.still
        yield self.kit.sound.quiet
        self.answers_shown = True
        self.think_from_now()
        return None

    def _send_in(self) -> None:
        self.waiting = False
        self.frame.put(WAITING_CENTRE)
        self.play("place")

    def ask(self) -> Script:
        if self.task.step.way != COVERED:
            yield from super().ask()
            return None
        yield self.say(*self.task.prompt[:-1])
        self.frame.covered = True
        yield lambda: self.frame.still
        said = self.say(self.task.prompt[-1])
        self._send_in()
        yield lambda: self.frame.still
        self.answers_shown = True
        yield said
        return None

    def response(self, number: int) -> MoreResponse:
        return MoreResponse(number)

    def show_hint(self, outcome: Outcome) -> Script:
        """The cloth goes away and each counter shines in turn, or the number path shows one step on."""
        said = self.say(*outcome.say)
        self.frame.covered = False
        if not self.task.frame_shown:
            yield from self._step_on()
        yield lambda: self.frame.still
        for place in sorted(self.frame.places) if self.task.frame_shown else ():
            self.frame.lit.add(place)
            yield look.HOP_S
        yield said
        self.frame.lit.clear()
        return None

    def show_way(self) -> Script:
        self.frame.covered = False
        if not self.task.frame_shown:
            yield from self._step_on()
            yield self.say(phrases.number(self.task.answer))
            return None
        if self.waiting:
            self._send_in()
        yield lambda: self.frame.still
        for count, place in enumerate(sorted(self.frame.places), 1):
            self.frame.lit.add(place)
            yield self.say(phrases.number(count))
            yield look.SHOW_BEAT_S
        return None

    def _step_on(self) -> Script:
        """A token stands on the number of the task and goes one step on."""
        if self._walk is None:
            self._walk = TokenWalk(self.answers if self.answers.stones else self._path_on_card(), self.calm)
        self._walk.stand(self.task.number)
        yield 2 * look.SHOW_BEAT_S
        self._walk.hop(self.task.answer)
        self.play("place")
        yield self._walk.arrived
        return None

    def _path_on_card(self) -> Answers:
        width = (look.STONE_STEP * (len(PATH) - 1) + look.STONE_WIDTH) * CARD_PATH_SCALE
        return Answers.path((look.PAGE_WIDTH - width) / 2, self.calm, CARD_PATH_Y, CARD_PATH_SCALE)

    def move(self, dt_s: float) -> None:
        self.frame.update(dt_s)
        if self._walk is not None:
            self._walk.update(dt_s)

    def draw_material(self, page: Page) -> None:
        if self.task.frame_shown:
            self._draw_frame(page)
        elif self._walk is not None and self._walk.path is not self.answers:
            page.numeral(self.task.number, UPPER_NUMERAL_CENTRE, UPPER_NUMERAL_HEIGHT)
            self._walk.path.draw(page)
        else:
            page.numeral(self.task.number, NUMERAL_CENTRE, NUMERAL_HEIGHT)

    def _draw_frame(self, page: Page) -> None:
        x, y = WAITING_CENTRE
        if self.waiting:
            if self._to_put:
                page.disc(WAITING_CENTRE, WAITING_SIZE + 16, look.GLOW, look.LAMP)
            pressed = self.targets.state(WAITING) == "pressed"
            page.picture("things/counter", (x, y + (4 if pressed else 0)), WAITING_SIZE)
        self.frame.draw(page)
