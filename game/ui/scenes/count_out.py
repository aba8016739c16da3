"""Count out: touch a thing of the pile and it goes onto the tray, touch it there and it goes back; then say done."""

from __future__ import annotations

from game.core import phrases
from game.core.layout import Box
from game.core.records import Outcome, Task
from game.core.tasks.count_out import CountOut, CountOutResponse
from game.ui import look
from game.ui.answers import Answers
from game.ui.draw import Page
from game.ui.picture_button import PictureButton
from game.ui.scene import Kit, Next, Script
from game.ui.task_scene import Answer, TaskScene
from game.ui.thing_set import thing_of
from game.ui.tray import Tray
from game.ui.widgets import Target

DONE = "done"
DONE_BOX = Box(556, 642, 168, 138)


class CountOutScene(TaskScene):
    """The tray is the answer; done may be said at any time, for none is a number, too."""

    def __init__(self, kit: Kit, task: CountOut, answer: Answer) -> None:
        super().__init__(kit, task, answer)
        self.tray = Tray(task.thing, task.pile, task.slots, self.calm)
        self._done_button = PictureButton(DONE, DONE_BOX, "icons/done", ("d",))

    def make_answers(self, task: Task) -> Answers:
        return Answers({}, look.ANSWER_CARD)

    def material_targets(self) -> list[Target]:
        return [*self.tray.targets(), self._done_button.target]

    def touch(self, name: str) -> None:
        thing = thing_of(name)
        if thing is not None:
            self._move_one(thing)
        elif name == DONE and self._deaf_s <= 0:
            self._give(len(self.tray))

    def _move_one(self, thing: int) -> None:
        """Tell how many lie on the tray now."""
        self.tray.lit.clear()
        self.play("place" if self.tray.toggle(thing) else "lift")
        self.say(phrases.number(len(self.tray)))

    def response(self, number: int) -> CountOutResponse:
        return CountOutResponse(number)

    def show_hint(self, outcome: Outcome) -> Script:
        """What lies on the tray is counted, so that the child hears how many there are."""
        yield self.say(*outcome.say)
        yield from self._count_tray()
        return None

    def _count_tray(self) -> Script:
        self.tray.lit.clear()
        for count, thing in enumerate(self.tray.in_order, 1):
            self.tray.lit.add(thing)
            yield self.say(phrases.number(count))
            yield look.SHOW_BEAT_S
        return None

    def show_way(self) -> Script:
        """Things go onto the tray one by one, and back; the child follows the marks that stay."""
        self.tray.empty()
        yield self.tray.still
        if self.task.number == 0:
            yield self.say(phrases.number(0))
        for count in range(1, self.task.number + 1):
            self.tray.marks = count
            self.tray.toggle(self.tray.waiting[0])
            self.play("place")
            yield self.say(phrases.number(count))
            yield self.tray.still
        yield look.SETTLE_S
        self.tray.empty()
        yield self.tray.still
        return None

    def _finish(self, outcome: Outcome) -> Script:
        self.tray.lit = set(self.tray.in_order)
        following: Next | None = yield from super()._finish(outcome)
        return following

    def move(self, dt_s: float) -> None:
        self.tray.update(dt_s)

    def draw_material(self, page: Page) -> None:
        self.tray.draw(page, self.targets)
        self._done_button.draw(page, self.targets, chosen=self._shown and len(self.tray) == self.task.number)

    @property
    def _shown(self) -> bool:
        """Whether the way has been shown: then done shines as soon as the tray is right."""
        return self.answers.right is not None and not self.showing
