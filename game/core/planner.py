"""Chooses the next step: what is new and ready, what fades, what rests. Pure: state and chance come in.

Frontier: steps not yet nearly there whose needs are, picked at random. Review: steps that were, and fade below DUE,
lowest first, at most three in a lane. After a first answer that was not right comes something that the child can do:
that keeps up heart, and is practice on a later day, too. A step that stays stuck rests for two lanes; meanwhile each
of its needs comes once a lane, and when it is back, the way is shown first. An answer that the child makes becomes
1 of 3 while the step is still unlikely known. No step comes three times running while there is another.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random
from typing import Literal, Protocol

from game.core.levels import Levels
from game.core.mastery import DUE, START, ChildMastery
from game.core.records import Form, Step
from game.core.tasks import KINDS

Reason = Literal["new", "practise", "review", "step back", "after a rest", "a sure one", "keep", "mixed"]

REASON_WORDS: dict[str, str] = {
    "new": "it was new, and all that it needs was there",
    "practise": "it was begun and not sure yet, and all that it needs was there",
    "review": "it had been there and was fading, so it was looked at again",
    "step back": "a step that needs it was stuck and resting, so this one was strengthened",
    "after a rest": "it came back after a rest, so the way was shown first",
    "a sure one": "the task before had not gone well, so one came that the child can do",
    "keep": "nothing new was open, so something done before was kept fresh",
    "mixed": "it was a mixed evening: something of everything done before",
}
"""What the last word of the log's task cell means, for a teacher."""


NEVER = 99
"""More misses than a lane has tasks."""


@dataclass(frozen=True, slots=True)
class Rules:
    """What the planner goes by.

    `review_turns`: the turns of a lane (from 0) at which a fading step is looked at, spread over the lane.
    `easy_below`: P(known) under which an answer to make becomes 1 of 3. `sure_after_misses`: after how many wrong
    first answers running a sure one comes, of P(known) `sure_from` or more. `kept_fresh`: how many steps to keep up.
    """

    most_reviews: int = 3
    review_turns: tuple[int, ...] = (1, 4, 7)
    easy_below: float = 0.6
    sure_after_misses: int = 1
    sure_from: float = 0.75
    kept_fresh: int = 6


RULES = Rules()


@dataclass(frozen=True, slots=True)
class Choice:
    """A step to do next, in which form of answer, and why. `worked`: show the way first."""

    step: Step
    form: Form
    reason: Reason

    @property
    def worked(self) -> bool:
        return self.reason == "after a rest"


class Chooser(Protocol):
    """A way to choose the next step: `choose` or `mixed`."""

    def __call__(
        self, levels: Levels, mastery: ChildMastery, day: int, lane_number: int, done: Sequence[Choice], rng: Random
    ) -> Choice: ...


@dataclass(frozen=True, slots=True)
class Outlook:
    """How the steps stand for one child on one day.

    `ready`: not yet nearly there, all needs are. `resting`: the same, but stuck and left alone for now.
    `fading`: was nearly there or secure and is due again, the lowest first. `held`: the same, not due.
    `waiting`: something that the step needs is missing.
    """

    ready: tuple[Step, ...]
    resting: tuple[Step, ...]
    fading: tuple[Step, ...]
    held: tuple[Step, ...]
    waiting: tuple[Step, ...]


def chance(mastery: ChildMastery, key: str, day: int) -> float:
    """P(known) of a step on `day`, START when it was never met."""
    state = mastery.steps.get(key)
    return START if state is None else state.chance(day)


def mastered(mastery: ChildMastery, key: str, day: int) -> bool:
    """Nearly there or secure, and not lost since."""
    state = mastery.steps.get(key)
    return state is not None and state.mastered(day)


def outlook(levels: Levels, mastery: ChildMastery, day: int, lane_number: int) -> Outlook:
    """Sorts all steps as they stand for the child's `lane_number`-th lane."""
    steps = {step.key: step for step in levels.steps}
    there = {key for key in steps if mastered(mastery, key, day)}
    ready, resting, held, waiting = [], [], [], []
    fading: list[tuple[float, Step]] = []
    for key, step in steps.items():
        if key in there:
            known = chance(mastery, key, day)
            if known < DUE:
                fading.append((known, step))
            else:
                held.append(step)
        elif not there.issuperset(step.needs):
            waiting.append(step)
        elif mastery.resting(key, lane_number):
            resting.append(step)
        else:
            ready.append(step)
    fading.sort(key=lambda entry: entry[0])
    lowest_first = tuple(step for _, step in fading)
    return Outlook(tuple(ready), tuple(resting), lowest_first, tuple(held), tuple(waiting))


def choose(
    levels: Levels,
    mastery: ChildMastery,
    day: int,
    lane_number: int,
    done: Sequence[Choice],
    rng: Random,
    rules: Rules = RULES,
) -> Choice:
    """The next step of the child's `lane_number`-th lane, of which the choices `done` were made already.

    Raises ValueError when there is no step at all.
    """
    if not levels.steps:
        raise ValueError("no level has a step; put back the level files")
    seen = outlook(levels, mastery, day, lane_number)
    sure = _sure_one(mastery, day, lane_number, seen, done, rules)
    if sure is not None:
        return _choice(sure, "a sure one", mastery, day, rules)
    due = _due(seen, done, rules)
    if due is not None:
        return _choice(due, "review", mastery, day, rules)
    pool: list[tuple[Step, Reason]] = [(step, _why(step, mastery, done)) for step in seen.ready]
    pool.extend((step, "step back") for step in _steps_back(levels, seen, done))
    if not pool:
        pool = [(step, "keep") for step in _to_keep(levels, mastery, day, seen, rules)]
    step, reason = rng.choice(_not_thrice(pool, done))
    return _choice(step, reason, mastery, day, rules)


def mixed(
    levels: Levels, mastery: ChildMastery, day: int, lane_number: int, done: Sequence[Choice], rng: Random
) -> Choice:
    """The next step of a mixed evening: of all that was done before, kinds in turn, what was longest ago first.

    A child who has done too little for a whole lane of it gets the steps of `choose`.
    """
    met = [(state.day, step) for step in levels.steps if (state := mastery.steps.get(step.key)) and state.day]
    counts = {step.task: sum(choice.step.task == step.task for choice in done) for _, step in met}
    used = {choice.step.key for choice in done}
    fresh = [(counts[step.task], last, rng.random(), step) for last, step in met if step.key not in used]
    if not fresh:
        return choose(levels, mastery, day, lane_number, done, rng)
    return _choice(min(fresh, key=lambda entry: entry[:3])[3], "mixed", mastery, day, RULES)


def _sure_one(
    mastery: ChildMastery, day: int, lane_number: int, seen: Outlook, done: Sequence[Choice], rules: Rules
) -> Step | None:
    """After a miss in this lane: what the child can do, each step once a lane, what fades most first."""
    if mastery.misses < rules.sure_after_misses or mastery.lanes != lane_number or not done:
        return None
    used = {choice.step.key for choice in done}
    known = ((chance(mastery, step.key, day), step) for step in (*seen.fading, *seen.held) if step.key not in used)
    sure = [(share, step) for share, step in known if share >= rules.sure_from]
    return min(sure, key=lambda entry: entry[0])[1] if sure else None


def _due(seen: Outlook, done: Sequence[Choice], rules: Rules) -> Step | None:
    """The fading step to look at now, if it is the turn for one."""
    reviewed = {choice.step.key for choice in done if choice.reason == "review"}
    if len(reviewed) >= rules.most_reviews or (seen.ready and len(done) not in rules.review_turns):
        return None
    return next((step for step in seen.fading if step.key not in reviewed), None)


def _steps_back(levels: Levels, seen: Outlook, done: Sequence[Choice]) -> tuple[Step, ...]:
    """The needs of what rests, each once a lane."""
    been = {choice.step.key for choice in done if choice.reason == "step back"}
    needs = {need for step in seen.resting for need in step.needs} - been
    return tuple(step for step in levels.steps if step.key in needs) if needs else ()


def _to_keep(levels: Levels, mastery: ChildMastery, day: int, seen: Outlook, rules: Rules) -> tuple[Step, ...]:
    """The lowest of what was done before; when that is nothing, even what rests."""
    kept = sorted((*seen.fading, *seen.held), key=lambda step: (chance(mastery, step.key, day), step.key))
    return tuple(kept[: rules.kept_fresh]) or seen.resting or levels.steps


def _not_thrice(pool: list[tuple[Step, Reason]], done: Sequence[Choice]) -> list[tuple[Step, Reason]]:
    if len(done) < 2 or done[-1].step != done[-2].step:
        return pool
    return [entry for entry in pool if entry[0] != done[-1].step] or pool


def _why(step: Step, mastery: ChildMastery, done: Sequence[Choice]) -> Reason:
    state = mastery.steps.get(step.key)
    if state is None or state.tries == 0:
        return "new"
    rested = state.rest_from is not None and state.tries_since_rest == 0
    shown = any(choice.step == step and choice.worked for choice in done)
    return "after a rest" if rested and not shown else "practise"


def _choice(step: Step, reason: Reason, mastery: ChildMastery, day: int, rules: Rules) -> Choice:
    can_be_easy = step.form == "constructed" and "choice3" in KINDS[step.task].forms
    easy = can_be_easy and chance(mastery, step.key, day) < rules.easy_below
    return Choice(step, "choice3" if easy else step.form, reason)
