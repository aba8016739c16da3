"""How sure the app is that a child can do a step: Bayesian knowledge tracing, computed from the log alone.

For each step the app keeps one number, how sure it is that the child can do it. A right first answer raises it,
less if it could be a guess; a wrong one lowers it, not to zero, because small children slip. Days without practice
lower it slowly. At 90 % the step is nearly there; one right answer on a later day makes it secure.

Update: Corbett & Anderson 1995 (from memory); guess rates by form, decay and review were chosen by simulation.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Literal, NamedTuple

from game.core.records import Attempt, Form, Skill

GUESS: dict[Form, float] = {"choice3": 0.38, "choice4": 0.30, "constructed": 0.08}
"""Chance that a child who cannot do the step is right all the same: pure chance plus a little partial knowledge."""
SLIP, LEARN, START = 0.15, 0.12, 0.20
NEARLY = 0.90
DUE, LOST = NEARLY, 0.30
STABILITY_DAYS, STABILITY_MOST, STABILITY_LEAST = 20.0, 365.0, 3.0
STABILITY_UP, STABILITY_DOWN = 2.0, 0.6
SUPPORT_BELOW = 0.25
"""Share of the doubt about lower steps of the skill that a right answer on a higher step takes away."""
DOUBT_ABOVE = 0.95
"""What a wrong answer multiplies the higher steps of the skill by."""
RECENT, RECENT_RIGHT = 6, 5
_RECENT_BITS = (1 << RECENT) - 1
STUCK_TRIES, REST_LANES, TOGETHER_TRIES = 15, 2, 25

Status = Literal["not met", "practising", "resting", "nearly", "secure"]


class Evidence(NamedTuple):
    """What mastery takes from one line of the log: a first try. `day` is a proleptic ordinal."""

    day: int
    child: str
    key: str
    form: Form
    right: bool
    lane: str


def trace(known: float, unknown: float, right: bool, guess: float, slip: float) -> tuple[float, float]:
    """P(known) and P(unknown) given one more answer, before the learning step; both in, both out, sum 1.

    Two numbers, not one and its complement: near 1 the complement would lose its digits.
    """
    if right:
        k, u = known * (1.0 - slip), unknown * guess
    else:
        k, u = known * slip, unknown * (1.0 - guess)
    total = k + u
    return k / total, u / total


def learn(known: float, unknown: float, rate: float) -> tuple[float, float]:
    """The learning step: a share `rate` of what is unknown becomes known."""
    return known + unknown * rate, unknown * (1.0 - rate)


class StepState:
    """What is held about one child and one step. `known` and `unknown` are as of `day` (None: never met).

    `recent` holds the last RECENT first tries as bits, 1 for right, the newest lowest.
    """

    __slots__ = (
        "day", "known", "nearly_day", "recent", "rest_from", "secure_day", "stability",
        "tries", "tries_since_rest", "unknown",
    )  # fmt: skip

    def __init__(self) -> None:
        self.known, self.unknown = START, 1.0 - START
        self.stability = STABILITY_DAYS
        self.day: int | None = None
        self.tries = 0
        self.tries_since_rest = 0
        self.recent = 0
        self.nearly_day: int | None = None
        self.secure_day: int | None = None
        self.rest_from: int | None = None

    def chance(self, day: int) -> float:
        """P(known) on `day`, after the forgetting since the last attempt."""
        if self.day is None or day <= self.day:
            return self.known
        return self.known * math.exp((self.day - day) / self.stability)

    def mastered(self, day: int) -> bool:
        """Nearly or secure, and not faded below LOST."""
        return self.nearly_day is not None and self.chance(day) >= LOST

    def observe(self, day: int, form: Form, right: bool, lane_number: int) -> None:
        """Take in one first try on `day`, made in the child's `lane_number`-th lane."""
        later_day = self.day is not None and day > self.day
        if later_day:
            self._forget(day)
        known, unknown = trace(self.known, self.unknown, right, GUESS[form], SLIP)
        self.known, self.unknown = learn(known, unknown, LEARN)
        if not right:
            self.stability = max(STABILITY_LEAST, self.stability * STABILITY_DOWN)
        elif later_day:
            self.stability = min(STABILITY_MOST, self.stability * STABILITY_UP)
        if later_day or self.day is None:
            self.day = day
        self.tries += 1
        self.recent = (self.recent << 1 | right) & _RECENT_BITS
        self._settle(day, form, right)
        if self.nearly_day is None:
            self._rest_when_stuck(lane_number)

    def support(self) -> None:
        """A right answer higher up in the skill: a share of the doubt goes."""
        moved = self.unknown * SUPPORT_BELOW
        self.known, self.unknown = self.known + moved, self.unknown - moved

    def doubt(self) -> None:
        """A wrong answer lower down in the skill."""
        lost = self.known * (1.0 - DOUBT_ABOVE)
        self.known, self.unknown = self.known - lost, self.unknown + lost

    def _forget(self, day: int) -> None:
        """What is known fades over the days since the last attempt; `day` is later than that."""
        assert self.day is not None
        lost = -self.known * math.expm1((self.day - day) / self.stability)
        self.known, self.unknown = self.known - lost, self.unknown + lost

    def _settle(self, day: int, form: Form, right: bool) -> None:
        if self.known < LOST:
            self.nearly_day = self.secure_day = None
        elif self.known >= NEARLY:
            if self.nearly_day is None:
                self.nearly_day, self.tries_since_rest = day, 0
            elif right and self.secure_day is None and day > self.nearly_day and self._steady(form):
                self.secure_day = day

    def _steady(self, form: Form) -> bool:
        """Answers that the child makes are few enough to be chance: five of the last six must be right."""
        return form != "constructed" or self.recent.bit_count() >= RECENT_RIGHT

    def _rest_when_stuck(self, lane_number: int) -> None:
        self.tries_since_rest += 1
        if self.tries_since_rest >= STUCK_TRIES:
            self.rest_from, self.tries_since_rest = lane_number, 0


class Neighbours:
    """For each step key: the keys below it and above it in its skill."""

    def __init__(self, skills: Iterable[Skill]) -> None:
        self.below: dict[str, tuple[str, ...]] = {}
        self.above: dict[str, tuple[str, ...]] = {}
        for skill in skills:
            keys = tuple(step.key for step in skill.steps)
            for i, key in enumerate(keys):
                self.below[key], self.above[key] = keys[:i], keys[i + 1 :]


class ChildMastery:
    """All that the log tells about one child, step by step. `misses`: wrong first tries in a row, in the last lane."""

    def __init__(self, neighbours: Neighbours) -> None:
        self._neighbours = neighbours
        self.steps: dict[str, StepState] = {}
        self.lanes = 0
        self.misses = 0
        self.last_day: int | None = None
        self._lane = ""

    def state(self, key: str) -> StepState:
        found = self.steps.get(key)
        if found is None:
            found = self.steps[key] = StepState()
        return found

    def observe(self, seen: Evidence) -> float:
        """Take in one first try; returns P(known) of its step afterwards."""
        if seen.lane != self._lane:
            self._lane = seen.lane
            self.lanes += 1
            self.misses = 0
        if self.last_day is None or seen.day > self.last_day:
            self.last_day = seen.day
        state = self.state(seen.key)
        state.observe(seen.day, seen.form, seen.right, self.lanes)
        if seen.right:
            self.misses = 0
            for key in self._neighbours.below.get(seen.key, ()):
                if key in self.steps:
                    self.steps[key].support()
        else:
            self.misses += 1
            for key in self._neighbours.above.get(seen.key, ()):
                if key in self.steps:
                    self.steps[key].doubt()
        return state.known

    def resting(self, key: str, lane_number: int) -> bool:
        """Whether the step rests in the `lane_number`-th lane: the one in which it got stuck, and two more."""
        state = self.steps.get(key)
        return (
            state is not None
            and state.rest_from is not None
            and state.nearly_day is None
            and state.rest_from <= lane_number <= state.rest_from + REST_LANES
        )

    def status(self, key: str, day: int) -> Status:
        """One word for the teacher about one step on `day`."""
        state = self.steps.get(key)
        if state is None or state.day is None:
            return "not met"
        if state.mastered(day):
            return "secure" if state.secure_day is not None else "nearly"
        return "resting" if self.resting(key, self.lanes + 1) else "practising"


def evidence_of(attempt: Attempt) -> Evidence | None:
    """The part of an attempt that mastery reads; None for a second try or one that could not be judged."""
    if not attempt.first_try or attempt.right is None:
        return None
    return Evidence(attempt.at.toordinal(), attempt.child, attempt.key, attempt.form, attempt.right, attempt.lane)


def rebuild(evidence: Iterable[Evidence], skills: Sequence[Skill]) -> dict[str, ChildMastery]:
    """The mastery of every child from the first tries of the log, in the order in which they happened."""
    neighbours = Neighbours(skills)
    children: dict[str, ChildMastery] = {}
    for seen in evidence:
        child = children.get(seen.child)
        if child is None:
            child = children[seen.child] = ChildMastery(neighbours)
        child.observe(seen)
    return children


def together_please(mastery: Mapping[str, StepState]) -> tuple[str, ...]:
    """Steps with TOGETHER_TRIES first tries or more that are not nearly there: look at them with the child."""
    return tuple(key for key, s in mastery.items() if s.tries >= TOGETHER_TRIES and s.nearly_day is None)
