"""Take a number apart: fill up the ten frame, find what is under the cloth, or move the gap to another place."""

from __future__ import annotations

from game.core import phrases
from game.core.layout import Box
from game.core.records import Outcome, Task
from game.core.tasks.take_apart import ANOTHER, PAIR, PART, ApartResponse, TakeApart, own_way
from game.ui import look
from game.ui.answers import Answers
from game.ui.draw import Page
from game.ui.gap_row import GapRow
from game.ui.hidden_part import HiddenPart
from game.ui.picture_button import PictureButton
from game.ui.scene import Kit, Next, Script
from game.ui.task_scene import Answer, TaskScene
from game.ui.ten_frame import TenFrame, cell_centre, counter_of
from game.ui.widgets import Target, round_target

DROP = 70.0
"""A counter comes in from so far above its place."""
DONE = "done"
DONE_BOX = Box(556, 642, 168, 138)


class PairScene(TaskScene):
    """How many more make ten? Moons may be put into the empty places, to be counted."""

    def __init__(self, kit: Kit, task: TakeApart, answer: Answer) -> None:
        super().__init__(kit, task, answer)
        self.frame = TenFrame(task.part, self.mole_at, self.calm)

    def material_targets(self) -> list[Target]:
        """The empty places and the moons."""
        places = [place for place in range(10) if place >= self.task.part]
        return [round_target(f"counter_{place}", cell_centre(place), look.TARGET_LEAST) for place in places]

    def touch(self, name: str) -> None:
        """Whichever empty place is touched, the next one is filled; whichever moon, the last one goes."""
        place = counter_of(name)
        if place is None:
            return
        self.frame.lit.clear()
        if place in self.frame.moons:
            last = max(self.frame.moons)
            self.frame.moons.remove(last)
            self.frame.places.remove(last)
            self.play("lift")
        else:
            self._put_moon()
        self.say(phrases.number(len(self.frame.moons)))

    def _put_moon(self) -> None:
        x, y = cell_centre(self.frame.free[0])
        self.frame.moons.add(self.frame.put((x, y - DROP)))
        self.play("place")

    def response(self, number: int) -> ApartResponse:
        return ApartResponse(number)

    def show_hint(self, outcome: Outcome) -> Script:
        """The places that make up ten shine one by one, to be counted."""
        said = self.say(*outcome.say)
        for place in range(self.task.part, 10):
            self.frame.lit.add(place)
            yield look.HOP_S
        yield said
        return None

    def show_way(self) -> Script:
        """Moons come into the empty places one by one, each with its number word."""
        self.frame.lit.clear()
        for place in sorted(self.frame.moons):
            self.frame.places.remove(place)
        self.frame.moons.clear()
        if not self.frame.free:
            yield self.say(phrases.number(0))
        while self.frame.free:
            self._put_moon()
            yield self.say(phrases.number(len(self.frame.moons)))
            yield lambda: self.frame.still
        return None

    def _finish(self, outcome: Outcome) -> Script:
        self.frame.lit.clear()
        while self.frame.free:
            self._put_moon()
        following = yield from super()._finish(outcome)
        return following

    def move(self, dt_s: float) -> None:
        self.frame.update(dt_s)

    def draw_material(self, page: Page) -> None:
        self.frame.draw(page)


class PartScene(TaskScene):
    """So many in all, some of them go under the cloth: how many are hidden?"""

    def __init__(self, kit: Kit, task: TakeApart, answer: Answer) -> None:
        super().__init__(kit, task, answer)
        self.parts = HiddenPart(task.whole, task.part, self.calm)
        self.answers_shown = False

    def ask(self) -> Script:
        yield self.say(*self.task.prompt[:-1])
        yield look.SHOW_BEAT_S
        yield from self._hide()
        self.answers_shown = True
        yield self.say(self.task.prompt[-1])
        return None

    def _hide(self) -> Script:
        self.parts.hide()
        if self.parts.hidden:
            self.play("lift")
        yield self.parts.still
        return None

    def response(self, number: int) -> ApartResponse:
        return ApartResponse(number)

    def show_hint(self, outcome: Outcome) -> Script:
        """Those that are seen shine: the counting begins with them."""
        said = self.say(*outcome.say)
        for counter in range(self.task.part):
            self.parts.lit.add(counter)
            yield look.HOP_S / 2
        yield said
        return None

    def show_way(self) -> Script:
        """The cloth goes away, and the hidden ones are counted."""
        self.parts.lit.clear()
        yield from self._hide()
        self.parts.covered = False
        yield self.parts.still
        if not self.parts.hidden:
            yield self.say(phrases.number(0))
        for count, counter in enumerate(self.parts.hidden, 1):
            self.parts.lit.add(counter)
            yield self.say(phrases.number(count))
            yield look.SHOW_BEAT_S
        return None

    def _finish(self, outcome: Outcome) -> Script:
        self.parts.lit.clear()
        self.parts.covered = False
        following = yield from super()._finish(outcome)
        return following

    def move(self, dt_s: float) -> None:
        self.parts.update(dt_s)

    def draw_material(self, page: Page) -> None:
        self.parts.draw(page)


class AnotherScene(TaskScene):
    """One way is shown; the child moves the gap, hears what it makes, and says done."""

    def __init__(self, kit: Kit, task: TakeApart, answer: Answer) -> None:
        super().__init__(kit, task, answer)
        self.row = GapRow(task.whole, task.part, self.calm)
        self._done_button = PictureButton(DONE, DONE_BOX, "icons/done", ("d",))

    def make_answers(self, task: Task) -> Answers:
        return Answers({}, look.ANSWER_CARD)

    def material_targets(self) -> list[Target]:
        return [*self.row.targets(), self._done_button.target]

    def touch(self, name: str) -> None:
        gap = self.row.gap_after(name)
        if gap is not None:
            self._move(gap)
            self.say(*own_way(self.task, ApartResponse(gap)))
        elif name == DONE and self._deaf_s <= 0:
            self._give(self.row.gap)

    def _move(self, gap: int) -> None:
        self.row.move(gap)
        self.play("place")

    def response(self, number: int) -> ApartResponse:
        return ApartResponse(number)

    def show_hint(self, outcome: Outcome) -> Script:
        """The gap moves by one and comes back: so it goes."""
        said = self.say(*outcome.say)
        here = self.row.gap
        for gap in (here + 1 if here < self.task.whole else here - 1, here):
            self._move(gap)
            yield self.row.still
            yield look.SHOW_BEAT_S
        yield said
        return None

    def show_way(self) -> Script:
        """The gap goes to another place, the parts are said, and it comes back."""
        if self.row.gap != self.task.part:
            self._move(self.task.part)
            yield self.row.still
        self._move(self.task.answer)
        yield self.row.still
        yield self.say(*own_way(self.task, ApartResponse(self.task.answer)))
        yield look.SETTLE_S
        self._move(self.task.part)
        yield self.row.still
        return None

    def _finish(self, outcome: Outcome) -> Script:
        yield self.say(*own_way(self.task, ApartResponse(self.row.gap)))
        following: Next | None = yield from super()._finish(outcome)
        return following

    def move(self, dt_s: float) -> None:
        self.row.update(dt_s)

    def draw_material(self, page: Page) -> None:
        self.row.draw(page, self.targets)
        shown = self.answers.right is not None and not self.showing
        self._done_button.draw(page, self.targets, chosen=shown and self.row.gap != self.task.part)


_WAYS = {PAIR: PairScene, PART: PartScene, ANOTHER: AnotherScene}


def take_apart_scene(kit: Kit, task: TakeApart, answer: Answer) -> TaskScene:
    """The page for the way of this task."""
    return _WAYS[task.step.way](kit, task, answer)
