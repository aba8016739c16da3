"""One fewer: take a counter from the ten frame, follow one leaving under the cloth, or step back from a numeral."""

from __future__ import annotations

from game.core import phrases
from game.core.records import Outcome
from game.core.tasks.one_fewer import COVERED, TAKE, FewerResponse, OneFewer
from game.ui import look
from game.ui.answers import PATH, Answers
from game.ui.draw import Page
from game.ui.scene import Kit, Script
from game.ui.task_scene import Answer, TaskScene
from game.ui.ten_frame import FLIGHT_S, TenFrame, counter_of
from game.ui.token_walk import TokenWalk
from game.ui.widgets import Target

NUMERAL_CENTRE, NUMERAL_HEIGHT = (640.0, 330.0), 330.0
UPPER_NUMERAL_CENTRE, UPPER_NUMERAL_HEIGHT = (640.0, 208.0), 210.0
CARD_PATH_SCALE, CARD_PATH_Y = 0.9, 480.0


class OneFewerScene(TaskScene):
    """Once a counter has been taken, or covered, the answers come."""

    def __init__(self, kit: Kit, task: OneFewer, answer: Answer) -> None:
        super().__init__(kit, task, answer)
        x, y = self.side(self.mole_centre)
        lantern = (x + (52 if kit.left else -52), y + 48)
        self.frame = TenFrame(task.number, lantern, self.calm)
        self.answers_shown = not task.frame_shown
        self._taken = False
        self._walk: TokenWalk | None = None

    @property
    def _to_take(self) -> bool:
        return self.task.step.way == TAKE and not self._taken

    def material_targets(self) -> list[Target]:
        return self.frame.targets() if self._to_take else []

    def touch(self, name: str) -> None:
        place = counter_of(name)
        if place is not None and self._to_take:
            self.run(self._take(place))

    def _take(self, place: int) -> Script:
        """One goes into the lantern of the mole; how many are left?"""
        self._taken = True
        self.frame.take(place)
        self.play("lift")
        yield lambda: self.frame.still
        yield self.kit.sound.quiet
        self.asking = (phrases.ASK_LEFT,)
        self.answers_shown = True
        self.think_from_now()
        return None

    def ask(self) -> Script:
        if self.task.step.way != COVERED:
            yield from super().ask()
            return None
        yield self.say(*self.task.prompt[:-1])
        self.frame.covered = True
        yield lambda: self.frame.still
        said = self.say(self.task.prompt[-1])
        self._taken = True
        self.frame.take(max(self.frame.places))
        self.play("lift")
        yield FLIGHT_S
        self.answers_shown = True
        yield said
        return None

    def response(self, number: int) -> FewerResponse:
        return FewerResponse(number)

    def show_hint(self, outcome: Outcome) -> Script:
        """The cloth goes away, or the number path shows one step back."""
        said = self.say(*outcome.say)
        self.frame.covered = False
        if not self.task.frame_shown:
            yield from self._step_back()
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
            yield from self._step_back()
            yield self.say(phrases.number(self.task.answer))
            return None
        if not self._taken:
            self._taken = True
            self.frame.take(max(self.frame.places))
        yield lambda: self.frame.still
        if not self.frame.places:
            yield self.say(phrases.number(0))
        for count, place in enumerate(sorted(self.frame.places), 1):
            self.frame.lit.add(place)
            yield self.say(phrases.number(count))
            yield look.SHOW_BEAT_S
        return None

    def _step_back(self) -> Script:
        """A token stands on the number of the task and steps back by one."""
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
            self.frame.draw(page)
        elif self._walk is not None and self._walk.path is not self.answers:
            page.numeral(self.task.number, UPPER_NUMERAL_CENTRE, UPPER_NUMERAL_HEIGHT)
            self._walk.path.draw(page)
        else:
            page.numeral(self.task.number, NUMERAL_CENTRE, NUMERAL_HEIGHT)

    def draw_above(self, page: Page) -> None:
        self.frame.draw_flight(page)
