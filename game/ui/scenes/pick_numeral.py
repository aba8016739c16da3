"""Pick the numeral: for the number word that the mole says, or for a set that is seen."""

from __future__ import annotations

from game.core import phrases
from game.core.records import Outcome, Task
from game.core.tasks.pick_numeral import PickNumeral, PickResponse
from game.ui import look
from game.ui.answers import Answers
from game.ui.draw import Page
from game.ui.scene import Kit, Script
from game.ui.task_scene import Answer, TaskScene
from game.ui.thing_set import ThingSet, thing_of
from game.ui.widgets import Target

LARGE_CARD = 186.0
LARGE_STEP = 212.0
LARGE_CENTRE = (806.0, 372.0)
BIG_MOLE = 290.0
BIG_MOLE_CENTRE = (178.0, 590.0)
EAR_SIZE, EAR_BESIDE = 88.0, 178.0
BIG_MOLE_OVER_PATH = (640.0, 450.0)


class PickNumeralScene(TaskScene):
    """A word that is heard has no card: the mole stands large, the numerals beside it."""

    def __init__(self, kit: Kit, task: PickNumeral, answer: Answer) -> None:
        super().__init__(kit, task, answer)
        self.things = ThingSet(task.thing, task.places, self.calm)
        self.card_shown = not task.heard
        if task.heard:
            self.mole_width = BIG_MOLE
            self.mole_centre = BIG_MOLE_CENTRE if task.choices else BIG_MOLE_OVER_PATH

    def make_answers(self, task: Task) -> Answers:
        if not isinstance(task, PickNumeral) or not task.heard or not task.choices:
            return super().make_answers(task)
        middle, y = self.side(LARGE_CENTRE)
        first = middle - LARGE_STEP * (len(task.choices) - 1) / 2
        spots = {n: (first + LARGE_STEP * i, y) for i, n in enumerate(task.choices)}
        return Answers(spots, LARGE_CARD, calm=self.calm)

    def material_targets(self) -> list[Target]:
        return self.things.targets()

    def touch(self, name: str) -> None:
        thing = thing_of(name)
        if thing is None:
            return
        number = self.things.tag(thing)
        self.play("tag")
        self.say(phrases.HINT_TAGGED if number is None else phrases.number(number))

    def response(self, number: int) -> PickResponse:
        return PickResponse(number)

    def show_hint(self, outcome: Outcome) -> Script:
        """Every numeral gets its dots; the things of a set wait to be counted."""
        self.answers.dots = True
        self.things.clear()
        said = self.say(*outcome.say)
        for thing in self.things.in_order():
            if thing not in self.things.tags:
                self.things.sway(thing)
                yield look.HOP_S
        yield said
        return None

    def show_way(self) -> Script:
        """A set is counted slowly; then the numeral glows over its dots."""
        self.answers.dots = True
        self.things.clear()
        for thing in self.things.in_order():
            self.things.lit.add(thing)
            yield self.say(phrases.number(self.things.tag(thing) or 0))
            yield look.SHOW_BEAT_S
        self.answers.right = self.task.number
        yield self.say(phrases.look_at(self.task.number))
        return None

    def move(self, dt_s: float) -> None:
        self.things.update(dt_s)

    def draw_material(self, page: Page) -> None:
        if not self.task.heard:
            self.things.draw(page)
            return
        x, y = self.mole_at
        ear = (x + (-EAR_BESIDE if self.kit.left else EAR_BESIDE), y - BIG_MOLE * 0.36)
        page.disc(ear, EAR_SIZE, look.CREAM)
        page.picture("icons/hear_again", ear, EAR_SIZE * 0.6, flip=self.kit.left)
