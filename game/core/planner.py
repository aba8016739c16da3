"""Chooses the next step: what is new and ready, what fades, what rests. Pure: state and chance come in.

Frontier: steps not yet nearly there whose needs are. Review: steps that were, and fade below DUE, lowest first, at
most three in a lane. A step that stays stuck rests for two lanes, and its needs are practised instead; when it comes
back, the way is shown first. An answer that the child makes becomes 1 of 3 while the step is still unlikely known.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random
from typing import Literal

from game.core.levels import Levels
from game.core.mastery import DUE, START, ChildMastery
from game.core.records import Form, Step

Reason = Literal["new", "practise", "review", "step back", "after a rest", "keep"]

MOST_REVIEWS = 3
REVIEW_TURNS = (1, 4, 7)
"""The turns of a lane (from 0) at which a fading step is looked at, so that reviews are spread over it."""
EASY_BELOW = 0.5


@dataclass(frozen=True, slots=True)
class Choice:
    """A step to do next, in which form of answer, and why. `worked`: show the way first."""

    step: Step
    form: Form
    reason: Reason

    @property
    def worked(self) -> bool:
        return self.reason == "after a rest"


def chance(mastery: ChildMastery, key: str, day: int) -> float:
    """P(known) of a step on `day`, START when it was never met."""
    state = mastery.steps.get(key)
    return START if state is None else state.chance(day)


def mastered(mastery: ChildMastery, key: str, day: int) -> bool:
    state = mastery.steps.get(key)
    return state is not None and state.mastered(day)


def frontier(levels: Levels, mastery: ChildMastery, day: int) -> tuple[Step, ...]:
    """Steps that are not nearly there and whose needs all are, resting ones included."""
    return tuple(
        step
        for step in levels.steps
        if not mastered(mastery, step.key, day) and all(mastered(mastery, need, day) for need in step.needs)
    )


def fading(levels: Levels, mastery: ChildMastery, day: int) -> tuple[Step, ...]:
    """Steps that were nearly there or secure and are due again, the lowest first."""
    due = [
        (chance(mastery, step.key, day), step)
        for step in levels.steps
        if mastered(mastery, step.key, day) and chance(mastery, step.key, day) < DUE
    ]
    return tuple(step for _, step in sorted(due, key=lambda entry: entry[0]))


def choose(
    levels: Levels,
    mastery: ChildMastery,
    day: int,
    lane_number: int,
    done: Sequence[Choice],
    rng: Random,
) -> Choice:
    """The next step of the child's `lane_number`-th lane, of which the choices `done` were made already.

    Raises ValueError when there is no step at all.
    """
    if not levels.steps:
        raise ValueError("no level has a step; put back the level files")
    seen = {choice.step.key for choice in done if choice.reason == "review"}
    due = [step for step in fading(levels, mastery, day) if step.key not in seen]
    open_steps = frontier(levels, mastery, day)
    resting = [s for s in open_steps if mastery.resting(s.key, lane_number)]
    ready = [s for s in open_steps if s not in resting]
    reviews = sum(choice.reason == "review" for choice in done)
    if due and reviews < MOST_REVIEWS and (len(done) in REVIEW_TURNS or not ready):
        return _choice(due[0], "review", mastery, day)
    back = [levels.step(need) for s in resting for need in s.needs]
    pool: list[tuple[Step, Reason]] = [(s, _why(s, mastery, done)) for s in ready]
    pool.extend((s, "step back") for s in back if s not in ready)
    if not pool:
        by_chance = sorted(levels.steps, key=lambda s: (chance(mastery, s.key, day), s.key))
        pool = [(s, "keep") for s in by_chance if not mastery.resting(s.key, lane_number)][:6]
        pool = pool or [(s, "keep") for s in by_chance]
    last = done[-1].step if done else None
    if len(pool) > 1 and len(done) > 1 and done[-2].step == last:
        pool = [entry for entry in pool if entry[0] != last]
    step, reason = rng.choice(pool)
    return _choice(step, reason, mastery, day)


def _why(step: Step, mastery: ChildMastery, done: Sequence[Choice]) -> Reason:
    state = mastery.steps.get(step.key)
    if state is None or state.tries == 0:
        return "new"
    if state.rest_from is not None and state.tries_since_rest == 0:
        back_already = any(c.step == step and c.reason == "after a rest" for c in done)
        return "practise" if back_already else "after a rest"
    return "practise"


def _choice(step: Step, reason: Reason, mastery: ChildMastery, day: int) -> Choice:
    easy = step.form == "constructed" and chance(mastery, step.key, day) < EASY_BELOW
    return Choice(step, "choice3" if easy else step.form, reason)
