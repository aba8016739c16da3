"""See at once: dots, fingers or a ten frame show for a moment, then the curtain hides them; how many were there?"""

from __future__ import annotations

from game.core import phrases
from game.core.layout import Box
from game.core.records import Outcome
from game.core.tasks.see_at_once import SeeAtOnce, SeeResponse
from game.ui import look
from game.ui.draw import Page
from game.ui.glimpse import CENTRE, Glimpse
from game.ui.picture_button import PictureButton
from game.ui.scene import Kit, Script
from game.ui.task_scene import Answer, TaskScene
from game.ui.widgets import Target

FIVE = 5
LOOK = "look"
LOOK_SIDE = 176.0
LOOK_BOX = Box(CENTRE[0] - LOOK_SIDE / 2, CENTRE[1] - LOOK_SIDE / 2, LOOK_SIDE, LOOK_SIDE)


class SeeAtOnceScene(TaskScene):
    """The moment ends by itself; answering never does. One more look is free to take, and is told to the log."""

    def __init__(self, kit: Kit, task: SeeAtOnce, answer: Answer) -> None:
        super().__init__(kit, task, answer)
        self.glimpse = Glimpse(task, kit.settings.finger_way, self.calm)
        self.answers_shown = False
        self.looked_again = False
        self._look_button = PictureButton(LOOK, LOOK_BOX, "icons/look_again", ("l",))

    @property
    def _may_look(self) -> bool:
        return self.answers_shown and self.glimpse.hidden and not self.looked_again

    def material_targets(self) -> list[Target]:
        return [self._look_button.target] if self._may_look else []

    def touch(self, name: str) -> None:
        if name == LOOK and self._may_look:
            self.looked_again = True
            self.run(self._look_again())

    def _look_again(self) -> Script:
        yield from self._show_a_moment()
        yield self.say(phrases.ASK_SEEN)
        return None

    def _show_a_moment(self) -> Script:
        """The curtain fades away, all is seen for the moment, the curtain fades in."""
        yield from self._uncover()
        yield self.task.glance_s
        self.glimpse.covered = True
        yield self.glimpse.still
        return None

    def _uncover(self) -> Script:
        self.glimpse.covered = False
        yield self.glimpse.still
        return None

    def ask(self) -> Script:
        self.showing = True
        self.mole_pose = "point"
        yield self.say(self.task.prompt[0])
        yield from self._show_a_moment()
        self.asking = self.task.prompt[1:]
        self.mole_pose = "stand"
        self.showing = False
        self.answers_shown = True
        yield self.say(*self.asking)
        return None

    def response(self, number: int) -> SeeResponse:
        return SeeResponse(number, self.looked_again)

    def show_hint(self, outcome: Outcome) -> Script:
        """The set comes back and stays: the five first, then the rest. Later looks are part of the hint."""
        self.looked_again = False
        said = self.say(*outcome.say)
        yield from self._uncover()
        yield from self._shine_in_parts()
        yield said
        return None

    def _shine_in_parts(self) -> Script:
        for lit in sorted({min(FIVE, self.task.number), self.task.number}):
            self.glimpse.lit = lit
            yield look.SETTLE_S
        return None

    def show_way(self) -> Script:
        """Up to five one by one; six to ten as five, and on from there."""
        yield from self._uncover()
        self.glimpse.lit = 0
        number = self.task.number
        for lit in range(FIVE if number > FIVE else min(1, number), number + 1):
            self.glimpse.lit = lit
            yield self.say(phrases.number(lit))
            yield look.SHOW_BEAT_S
        self.asking = self.task.prompt[1:]
        return None

    def _finish(self, outcome: Outcome) -> Script:
        """It is seen once more while it is named."""
        self.glimpse.covered = False
        self.glimpse.lit = self.task.number
        following = yield from super()._finish(outcome)
        return following

    def move(self, dt_s: float) -> None:
        self.glimpse.update(dt_s)
        self.glimpse.frame.update(dt_s)

    def draw_material(self, page: Page) -> None:
        self.glimpse.draw(page)
        if self._may_look and not self.done:
            self._look_button.draw(page, self.targets)
