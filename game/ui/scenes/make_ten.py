"""Make ten with two hands of five: raise the folded fingers, see them, or think of them."""

from __future__ import annotations

from game.core import phrases
from game.core.records import Outcome
from game.core.tasks.make_ten import MakeTen, MakeTenResponse
from game.ui import look
from game.ui.draw import Page
from game.ui.hands import Hands, finger_of
from game.ui.scene import Kit, Script
from game.ui.task_scene import Answer, TaskScene
from game.ui.widgets import Target

HANDS_CENTRE = (640.0, 336.0)
HANDS_WIDTH, HANDS_APART = 430.0, 470.0
NUMERAL_CENTRE, NUMERAL_HEIGHT = (640.0, 336.0), 330.0
SIDE_NUMERAL_CENTRE, SIDE_NUMERAL_HEIGHT = (262.0, 336.0), 170.0
SMALL_HANDS_CENTRE = (742.0, 336.0)
SMALL_HANDS_WIDTH, SMALL_HANDS_APART = 350.0, 380.0


class MakeTenScene(TaskScene):
    """With the numeral alone the hands come in as a hint."""

    def __init__(self, kit: Kit, task: MakeTen, answer: Answer) -> None:
        super().__init__(kit, task, answer)
        self.hands_shown = task.hands_shown
        way = kit.settings.finger_way
        if task.hands_shown:
            self.hands = Hands.side_by_side(task.number, way, HANDS_CENTRE, HANDS_WIDTH, HANDS_APART)
        else:
            self.hands = Hands.side_by_side(task.number, way, SMALL_HANDS_CENTRE, SMALL_HANDS_WIDTH, SMALL_HANDS_APART)
        self.answers_shown = not (task.to_raise and task.answer > 0)

    def material_targets(self) -> list[Target]:
        """The fingers that can be raised; when all are up, those that were, to be counted."""
        if not self.task.to_raise:
            return self.hands.targets(self.hands.raised)
        return self.hands.targets([finger for finger in self.hands.order if finger not in self.hands.up])

    def touch(self, name: str) -> None:
        finger = finger_of(name)
        if finger is None:
            return
        if self.answers_shown:
            number = self.hands.tag(finger)
            self.play("tag")
            self.say(phrases.HINT_TAGGED if number is None else phrases.number(number))
            return
        raised = self.hands.toggle(finger)
        self.play("raise" if raised else "lower")
        self.say(phrases.number(len(self.hands.raised)))
        if not self.hands.folded:
            self.run(self._ask_how_many())

    def _ask_how_many(self) -> Script:
        """All ten are up: now how many were raised?"""
        self.asking = (phrases.ASK_HOW_MANY_MORE,)
        yield self.kit.sound.quiet
        self.answers_shown = True
        yield self.say(phrases.ASK_HOW_MANY_MORE)
        self.think_from_now()
        return None

    def response(self, number: int) -> MakeTenResponse:
        return MakeTenResponse(number, len(self.hands.raised) if self.task.to_raise else None)

    def show_hint(self, outcome: Outcome) -> Script:
        yield self.say(*outcome.say)
        yield from self._raise_one_by_one()
        return None

    def show_way(self) -> Script:
        yield from self._raise_one_by_one()
        return None

    def _raise_one_by_one(self) -> Script:
        """The fingers that make up ten come up slowly, or hop by their marks, each with its number word."""
        self.hands_shown = True
        to_count = list(self.hands.raised) or self.hands.folded
        self.hands.tags.clear()
        if not to_count:
            yield self.say(phrases.number(0))
        for finger in to_count:
            yield look.SHOW_BEAT_S
            if finger not in self.hands.raised:
                self.hands.raised.append(finger)
                self.play("raise")
            yield self.say(phrases.number(self.hands.tag(finger) or 0))
        return None

    def draw_material(self, page: Page) -> None:
        if not self.task.hands_shown:
            if self.hands_shown:
                page.numeral(self.task.number, SIDE_NUMERAL_CENTRE, SIDE_NUMERAL_HEIGHT)
            else:
                page.numeral(self.task.number, NUMERAL_CENTRE, NUMERAL_HEIGHT)
        if self.hands_shown:
            self.hands.draw(page)
