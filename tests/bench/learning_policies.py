"""Ways of planning that the learning bench compares, each on the same learners: ours, parts of ours, and rivals.

All give ten tasks a session. `next` names a step by its place, the form of answer and whether the way is shown first;
`told` hears how the first answer went; `secure` are the steps that the way calls mastered at the end.
"""

from __future__ import annotations

from random import Random

from game.core import planner
from game.core.levels import Levels
from game.core.mastery import ChildMastery, Evidence, Neighbours
from game.core.records import Form
from tests.bench.learning_worlds import Learner

Turn = tuple[int, Form, bool]
IN_A_ROW = 3
FIXED_TASKS = 5


def in_order(levels: Levels) -> list[int]:
    """The places of all steps in the order of the list, each put off until its needs have come."""
    place = {step.key: i for i, step in enumerate(levels.steps)}
    order: list[int] = []
    while len(order) < len(place):
        nxt = next(
            i for i, step in enumerate(levels.steps) if i not in order and all(place[n] in order for n in step.needs)
        )
        order.append(nxt)
    return order


class InARow:
    """Three right in a row, then the next step of the list; from the last one to the first. No review."""

    def __init__(self, levels: Levels, learner: Learner, rng: Random) -> None:
        self.steps, self.learner, self.rng = levels.steps, learner, rng
        self.order = in_order(levels)
        self.turn, self.run = 0, 0
        self.passed: set[int] = set()

    def begin(self, day: int) -> None:
        """A new session."""

    def next(self) -> Turn:
        return self.as_it_is(self.order[self.turn])

    def as_it_is(self, place: int) -> Turn:
        """The step in its own form."""
        return place, self.steps[place].form, False

    def told(self, turn: Turn, right: bool) -> None:
        self.run = self.run + 1 if right else 0
        if self.run == IN_A_ROW:
            self.passed.add(turn[0])
            self.go_on()

    def go_on(self) -> None:
        self.turn, self.run = (self.turn + 1) % len(self.order), 0

    def secure(self, day: int) -> set[int]:
        return self.passed


class FixedOrder(InARow):
    """Like a workbook: five tasks of each step in the order of the list, over and over; nothing is called mastered."""

    def told(self, turn: Turn, right: bool) -> None:
        self.run += 1
        if self.run == FIXED_TASKS:
            self.go_on()


class AnyStep(InARow):
    """Any step at random."""

    def next(self) -> Turn:
        return self.as_it_is(self.rng.randrange(len(self.steps)))

    def told(self, turn: Turn, right: bool) -> None:
        """Takes no notice."""


class AllSeeing(AnyStep):
    """Sees what the learner knows: a step not known whose needs are, at random; when there is none, any step."""

    reviews = 0

    def __init__(self, levels: Levels, learner: Learner, rng: Random) -> None:
        super().__init__(levels, learner, rng)
        place = {step.key: i for i, step in enumerate(self.steps)}
        self.needs = [tuple(place[need] for need in step.needs) for step in self.steps]
        self.reviewed: set[int] = set()

    def begin(self, day: int) -> None:
        self.reviewed = set()

    def next(self) -> Turn:
        known = [self.learner.knows(place) for place in range(len(self.steps))]
        ready = [i for i, k in enumerate(known) if not k and all(known[need] for need in self.needs[i])]
        if len(self.reviewed) < self.reviews or not ready:
            weak = [i for i, k in enumerate(known) if k and i not in self.reviewed]
            if weak:
                self.reviewed.add(weakest := min(weak, key=self.learner.keeps))
                return self.as_it_is(weakest)
        return self.as_it_is(self.rng.choice(ready or range(len(self.steps))))

    def secure(self, day: int) -> set[int]:
        return {place for place in range(len(self.steps)) if self.learner.knows(place)}


class AllSeeingWithReview(AllSeeing):
    """The same, and each session begins with the three known steps that would be lost first."""

    reviews = 3


class Ours:
    """The app's own planner and mastery."""

    rules = planner.Rules()

    def __init__(self, levels: Levels, learner: Learner, rng: Random) -> None:
        self.levels, self.rng = levels, rng
        self.place = {step.key: i for i, step in enumerate(levels.steps)}
        self.mastery = ChildMastery(Neighbours(levels.skills))
        self.day, self.lane = 0, 0
        self.done: list[planner.Choice] = []

    def begin(self, day: int) -> None:
        self.day, self.done = day, []
        self.lane = self.mastery.lanes + 1

    def next(self) -> Turn:
        choice = planner.choose(self.levels, self.mastery, self.day, self.lane, self.done, self.rng, self.rules)
        self.done.append(choice)
        return self.place[choice.step.key], choice.form, choice.worked

    def told(self, turn: Turn, right: bool) -> None:
        place, form, worked = turn
        if not worked:
            key = self.levels.steps[place].key
            self.mastery.observe(Evidence(self.day, "learner", key, form, right, str(self.lane)))

    def secure(self, day: int) -> set[int]:
        return {self.place[key] for key in self.place if self.mastery.status(key, day) == "secure"}


class OursWithoutReview(Ours):
    """Ours, never looking back: neither at what fades nor, after a miss, at what the child can do."""

    rules = planner.Rules(most_reviews=0, sure_after_misses=planner.NEVER)


class OursWithoutSure(Ours):
    """Ours, going on as usual after a miss."""

    rules = planner.Rules(sure_after_misses=planner.NEVER)


class OursWithoutEasy(Ours):
    """Ours, always in the step's own form of answer."""

    rules = planner.Rules(easy_below=0.0)


POLICIES: dict[str, type[InARow] | type[Ours]] = {
    "three in a row": InARow,
    "fixed order": FixedOrder,
    "at random": AnyStep,
    "ours": Ours,
    "ours, no review": OursWithoutReview,
    "ours, no easy form": OursWithoutEasy,
    "ours, no sure one": OursWithoutSure,
    "all-seeing": AllSeeing,
    "all-seeing, review": AllSeeingWithReview,
}
