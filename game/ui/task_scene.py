"""What all task pages share: the card, the answers, the mole, and the way from the first answer to the lit lamp.

A page of one kind of task adds its material: `material_targets`, `touch`, `response`, `draw_material`, and the two
scripts `show_hint` and `show_way`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from game.core import phrases
from game.core.records import Outcome, Task
from game.ui import look
from game.ui.answers import Answers, number_of
from game.ui.draw import Page
from game.ui.input import Event
from game.ui.scene import Kit, Next, Scene, Script
from game.ui.widgets import Target

Answer = Callable[[object, float], Outcome]
"""Judges a response (and the seconds it took) and logs it."""


class TaskScene(Scene):
    """A task on the page. `answer` takes each response to where it is judged and logged."""

    name = "task"
    backdrop = "lane/task_background"
    card_shown = True

    def __init__(self, kit: Kit, task: Any, answer: Answer) -> None:
        super().__init__(kit)
        self.task: Any = task
        self.answers = self.make_answers(task)
        self.answers_shown = True
        self.asking: tuple[str, ...] = task.prompt
        self.showing = False
        self.done = False
        self._answer = answer
        self._deaf_s = look.DEAF_S
        self._thinking_s: float | None = None

    def make_answers(self, task: Task) -> Answers:
        return Answers.below(task.choices, self.kit.left, self.calm)

    # ------------------------------------------------------------------ what a kind of task adds
    def material_targets(self) -> list[Target]:
        """What can be touched on the card just now."""
        return []

    def touch(self, name: str) -> None:
        """Something on the card was touched."""

    def miss(self, x: float, y: float) -> None:
        """A touch beside all targets."""

    def move(self, dt_s: float) -> None:
        """Time for what moves on the card."""

    def response(self, number: int) -> object:
        """The response record of this kind that gives `number` as the answer."""
        raise NotImplementedError

    def ask(self) -> Script:
        """Present the task: usually just say the prompt."""
        yield self.say(*self.task.prompt)
        return None

    def show_hint(self, outcome: Outcome) -> Script:
        """Say the hint, and show it on the material."""
        yield self.say(*outcome.say)
        return None

    def show_way(self) -> Script:
        """Show slowly how it is done; the right numeral glows afterwards."""
        raise NotImplementedError

    def draw_material(self, page: Page) -> None:
        raise NotImplementedError

    def draw_above(self, page: Page) -> None:
        """What is in front of the mole."""

    # ------------------------------------------------------------------ the life of the page
    def enter(self) -> None:
        self._set_targets()
        self.run(self._begin())

    def handle(self, event: Event) -> Next | None:
        following = super().handle(event)
        if self.targets.missed is not None and self._listening:
            self.miss(*self.targets.missed)
        return following

    def update(self, dt_s: float) -> Next | None:
        self._deaf_s = max(0.0, self._deaf_s - dt_s)
        if self._thinking_s is not None:
            self._thinking_s += dt_s
        self.answers.update(dt_s)
        self.move(dt_s)
        following = super().update(dt_s)
        self._set_targets()
        return following

    def pick(self, name: str) -> Next | None:
        if not self._listening:
            return None
        number = number_of(name)
        if number is None:
            self.touch(name)
        elif self._deaf_s <= 0:
            self._give(number)
        return None

    def hear_again(self) -> None:
        if self._listening:
            self.say(*self.asking)

    def draw(self, page: Page) -> None:
        page.backdrop(self.backdrop)
        if self.card_shown:
            page.panel(look.CARD, radius=40, drop=9)
        self.draw_material(page)
        if self.answers_shown:
            self.answers.draw(page, self.targets)
        self.draw_mole(page)
        self.draw_above(page)
        self.draw_leave(page)
        self.draw_focus(page)

    def think_from_now(self) -> None:
        """The prompt has ended: the seconds until the answer count from here."""
        self._thinking_s = 0.0

    # ------------------------------------------------------------------ from answer to answer
    @property
    def _listening(self) -> bool:
        return not self.showing and not self.done

    def _set_targets(self) -> None:
        found: list[Target] = []
        if self._listening:
            found += self.answers.targets() if self.answers_shown else []
            found += self.material_targets()
        self.targets.set([*found, self.mole_target(), self.leave_target()])

    def _begin(self) -> Script:
        if self.task.worked:
            yield from self._together((phrases.TOGETHER_LOOK,))
        else:
            yield from self.ask()
        self.think_from_now()
        return None

    def _give(self, number: int) -> None:
        outcome = self._answer(self.response(number), self._thinking_s or 0.0)
        if outcome.stage == "done":
            self.done = True
            self.answers.right = number
            self.mole_pose = "cheer"
            self.run(self._finish(outcome))
            return
        self._deaf_s = look.SETTLE_S
        self._thinking_s = None
        self.answers.settle(number)
        self.play("soft")
        if outcome.stage == "together":
            self.run(self._show_again(outcome))
        else:
            self.run(self._help(outcome))

    def _finish(self, outcome: Outcome) -> Script:
        yield self.say(*outcome.say)
        if outcome.praise:
            yield self.say(*outcome.praise)
        yield look.SHOW_BEAT_S
        return Next("lane")

    def _help(self, outcome: Outcome) -> Script:
        self.mole_pose = "think"
        yield look.SETTLE_S / 2
        yield from self.show_hint(outcome)
        self._thinking_s = 0.0
        return None

    def _show_again(self, outcome: Outcome) -> Script:
        yield from self._together(outcome.say)
        self._thinking_s = 0.0
        return None

    def _together(self, clips: tuple[str, ...]) -> Script:
        """Show the way, then let the child do it after."""
        self.showing = True
        self.mole_pose = "point"
        yield look.SETTLE_S / 2
        yield self.say(*clips)
        yield from self.show_way()
        self.answers.right = self.task.answer
        self.answers_shown = True
        self.showing = False
        yield self.say(phrases.TOGETHER_TURN)
        return None
