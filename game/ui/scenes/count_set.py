"""Count the set: the child may touch each thing, then gives the numeral."""

from __future__ import annotations

from game.core import phrases
from game.core.records import Outcome
from game.core.tasks.count_set import CARDINALITY, LEFT_OUT, CountResponse, CountSet
from game.ui import look
from game.ui.draw import Page
from game.ui.scene import Kit, Script
from game.ui.task_scene import Answer, TaskScene
from game.ui.thing_set import ThingSet, thing_of
from game.ui.widgets import Target


class CountSetScene(TaskScene):
    """`_touched` is what the child touched since the last answer, in order; None beside the things."""

    def __init__(self, kit: Kit, task: CountSet, answer: Answer) -> None:
        super().__init__(kit, task, answer)
        self.things = ThingSet(task.thing, task.places, self.calm)
        self._touched: list[int | None] = []

    def material_targets(self) -> list[Target]:
        return self.things.targets()

    def touch(self, name: str) -> None:
        thing = thing_of(name)
        if thing is None:
            return
        self._touched.append(thing)
        number = self.things.tag(thing)
        self.play("tag")
        self.say(phrases.HINT_TAGGED if number is None else phrases.number(number))

    def miss(self, x: float, y: float) -> None:
        """Counting went on past the last thing."""
        if len(self.things) and self.things.all_tagged and look.CARD.inside((x, y)):
            self._touched.append(None)

    def response(self, number: int) -> CountResponse:
        return CountResponse(number, tuple(self._touched))

    def show_hint(self, outcome: Outcome) -> Script:
        """What was left out wiggles; else the things wait to be counted once more, each wiggling in turn."""
        self._touched = []
        if outcome.verdict.error in (LEFT_OUT, CARDINALITY):
            self._touched = list(self.things.tags)
        else:
            self.things.clear()
        said = self.say(*outcome.say)
        for thing in self.things.in_order():
            if thing not in self.things.tags:
                self.things.sway(thing)
                yield look.HOP_S
        yield said
        return None

    def show_way(self) -> Script:
        self.things.clear()
        self._touched = []
        yield self.say(phrases.TOGETHER_COUNT if self.task.number else phrases.HINT_NOTHING_HERE)
        if not len(self.things):
            yield self.say(phrases.number(0))
        for thing in self.things.in_order():
            number = self.things.tag(thing)
            self.things.lit.add(thing)
            if number is not None:
                yield self.say(phrases.number(number))
                yield look.SHOW_BEAT_S
        self._touched = []
        return None

    def move(self, dt_s: float) -> None:
        self.things.update(dt_s)

    def draw_material(self, page: Page) -> None:
        self.things.draw(page)
