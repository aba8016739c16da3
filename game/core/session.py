"""One lane: ten tasks for one child, each led from the first answer to the lit lamp, each attempt logged."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from random import Random

from game import __version__
from game.core import phrases, planner
from game.core.ink import Ink
from game.core.levels import Levels
from game.core.mastery import ChildMastery, evidence_of
from game.core.records import TASKS_A_LANE, Attempt, Child, Help, Outcome, Task, Verdict
from game.core.tasks import KINDS
from game.core.tasks.kind import Kind, Past
from game.core.tasks.writing import WriteResponse, WriteTask

SECONDS_MOST = 3600.0
UNSURE_MOST = 2
"""So often in one task an answer that could not be judged asks for another; then it is a try, so that help comes."""


@dataclass(frozen=True, slots=True)
class Where:
    """What stands beside each attempt in the log: where it was made and on which device."""

    place: str = "centre"
    device: str = "here"


class Session:
    """One child's lane. `now` gives local time; `write` gets each attempt, and `keep_ink` what was written with the
    pen, before the lamp is told to light. `choose` is the planner's way: the usual one, or a mixed evening.
    `after` is the same child's lane before, so that numbers and things go on changing from lane to lane."""

    def __init__(
        self,
        levels: Levels,
        mastery: ChildMastery,
        child: Child,
        where: Where,
        rng: Random,
        now: Callable[[], datetime],
        write: Callable[[Attempt], None],
        keep_ink: Callable[[Ink], None] = lambda ink: None,
        choose: planner.Chooser = planner.choose,
        after: Session | None = None,
    ) -> None:
        self.levels, self.mastery, self.child, self.where = levels, mastery, child, where
        self._rng, self._now, self._write, self._keep_ink = rng, now, write, keep_ink
        self._choose = choose
        self._began = self._last_at = now()
        # the time is part of it: the same seed on another evening must not give the ids of that evening again
        self._lane_id = f"{where.device}-{self._began:%y%m%d%H%M%S}{rng.getrandbits(24):06x}"
        self._lane_number = mastery.lanes + 1
        self._done: list[planner.Choice] = []
        self._last_of_step: dict[str, Task] = dict(after._last_of_step) if after else {}
        self._shown: dict[str, list[int]] = (
            {key: list(numbers) for key, numbers in after._shown.items()} if after else {}
        )
        self._missed: dict[str, list[int]] = (
            {key: list(numbers) for key, numbers in after._missed.items()} if after else {}
        )
        self._tries = self._unsure = 0
        self.task: Task | None = None
        self.lit = 0

    @property
    def over(self) -> bool:
        return self.lit >= TASKS_A_LANE

    def next_task(self) -> Task | None:
        """The next task, the same one until it is done; None when all ten lamps are lit."""
        if self.over:
            return None
        if self.task is None:
            day = self._began.toordinal()
            choice = self._choose(self.levels, self.mastery, day, self._lane_number, self._done, self._rng)
            kind = KINDS[choice.step.task]
            key = choice.step.key
            past = Past(tuple(self._shown.get(key, ())), tuple(self._missed.get(key, ())))
            task = kind.make(choice.step, choice.form, choice.reason, self._rng, self._last_of_step.get(key), past)
            self.task = replace(task, worked=choice.worked)
            self._done.append(choice)
            self._last_of_step[key] = self.task
            self._shown.setdefault(key, []).append(task.number)
            self._tries = self._unsure = 0
        return self.task

    def answer(self, response: object, seconds: float) -> Outcome:
        """Judge an answer to the task, log it, and tell what follows. `seconds` since the prompt ended.

        Raises RuntimeError when no task is open.
        """
        task = self.task
        if task is None:
            raise RuntimeError("no task is open; call next_task first")
        kind = KINDS[task.kind]
        verdict = kind.judge(task, response)
        if verdict.right is None and self._unsure >= UNSURE_MOST:
            verdict = replace(verdict, right=False)
        helped = self._help(task)
        attempt = self._attempt(task, verdict, helped, seconds)
        seen = evidence_of(attempt)
        if seen is not None:
            attempt = replace(attempt, chance_known=self.mastery.observe(seen))
        self._write(attempt)
        if isinstance(task, WriteTask) and isinstance(response, WriteResponse):
            self._keep_ink(response.ink(attempt))
        return self._follow(task, kind, verdict, helped, attempt)

    def _help(self, task: Task) -> Help:
        if task.worked or self._tries >= 2:
            return "together"
        return "hint" if self._tries == 1 else "none"

    def _attempt(self, task: Task, verdict: Verdict, helped: Help, seconds: float) -> Attempt:
        self._last_at = max(self._last_at, self._now())
        return Attempt(
            at=self._last_at.replace(microsecond=0),
            child=self.child.id,
            place=self.where.place,
            hand=self.child.hand,
            skill=task.step.skill,
            step=task.step.id,
            task=task.kind,
            form=task.form,
            reason=task.reason,
            shown=task.shown,
            asked=task.asked,
            answered=verdict.answered,
            right=verdict.right,
            first_try=helped == "none",
            help=helped,
            error=verdict.error,
            seconds=round(min(max(seconds, 0.0), SECONDS_MOST), 1),
            chance_known=planner.chance(self.mastery, task.step.key, self._began.toordinal()),
            device=self.where.device,
            attempt_id=f"{self._lane_id}-{self.lit + 1:02}-{self._tries + self._unsure + 1}",
            version=__version__,
        )

    def _follow(self, task: Task, kind: Kind, verdict: Verdict, helped: Help, attempt: Attempt) -> Outcome:
        if verdict.right is None:
            self._unsure += 1
            return Outcome("again", verdict, kind.hint(task, verdict), self.lit, attempt)
        self._tries += 1
        if not verdict.right and self._tries == 1:
            self._missed.setdefault(task.step.key, []).append(task.number)
        if verdict.right:
            self.lit += 1
            self.task = None
            praise = self._praise(kind, helped)
            return Outcome("done", verdict, kind.confirm(task), self.lit, attempt, praise)
        if self._tries == 1 and not task.worked:
            return Outcome("hint", verdict, kind.hint(task, verdict), self.lit, attempt)
        return Outcome("together", verdict, (phrases.TOGETHER_LOOK,), self.lit, attempt)

    def _praise(self, kind: Kind, helped: Help) -> tuple[str, ...]:
        """About the work: always after a second try, now and then when it was right at once."""
        if helped == "hint":
            return (phrases.PRAISE_KEPT,)
        if helped == "none" and self._rng.random() < 0.5:
            return (self._rng.choice(kind.praise),)
        return ()
