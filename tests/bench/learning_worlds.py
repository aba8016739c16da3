"""Simulated learners for the learning bench: two kinds of truth, neither knows how the app models a child.

`Tracing`: each step is known or not; a task may make it known, days may lose it again.
`Gradual`: each step has a strength (log-odds) that grows with every task and sinks over days.
Every number here is invented, stated below, and the same for all ways of planning; nothing was fitted to children.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from random import Random
from typing import Literal, Protocol

from game.core.records import Form, Step

GUESS: dict[Form, float] = {"choice3": 1 / 3 + 0.05, "choice4": 1 / 4 + 0.05, "constructed": 0.05}
"""Chance of a right answer without knowing: pure chance plus .05 for what a child half knows."""
EASY_TEACHES = 0.9
"""A step practised as 1 of 3 although the child should make the answer teaches nine tenths as much."""
SAVED = 3.0
"""Tracing truth: what was known before and got lost comes back at three times the odds."""
WITHOUT_NEEDS = 0.25
"""Share of the learning that is left while something that the step needs is not known."""
STABILITY_MOST = 365.0
KNOWN_AT = math.log(0.8 / 0.2)
"""Gradual truth: a step is known when four of five answers come from knowing."""


@dataclass(frozen=True)
class World:
    """How the children of a world differ. Rates are medians over children; spreads are of the log-odds or logs."""

    name: str
    truth: Literal["tracing", "gradual"]
    entry: float = 0.45
    """Chance that a step without needs is known at the start."""
    entry_next: float = 0.5
    """The same for a step with needs, when all of those are known."""
    learn: float = 0.2
    gain: float = 0.6
    child_spread: float = 0.5
    step_spread: float = 0.4
    slip: float = 0.12
    keep_days: float = 20.0
    keep_spread: float = 0.5
    stuck: float = 0.0
    """Share of a child's steps that are learnt at a fifth of the pace."""


def worlds() -> tuple[World, ...]:
    """The two main worlds, then the same with one thing changed."""
    main = (World("main", "tracing"), World("main", "gradual"))
    changes: tuple[tuple[str, dict[str, float]], ...] = (
        ("harsh forgetting", {"keep_days": 8.0}),
        ("mild forgetting", {"keep_days": 60.0}),
        ("a fifth stuck", {"stuck": 0.2}),
        ("high entry", {"entry": 0.9, "entry_next": 0.8}),
    )
    return main + tuple(replace(w, name=name, **change) for name, change in changes for w in main)  # type: ignore[arg-type]


class Learner(Protocol):
    """What a way of planning may do with a learner: give a task and see whether the first answer was right."""

    def answer(self, place: int, form: Form, worked: bool) -> bool: ...
    def rest(self, days: int) -> None: ...
    def knows(self, place: int) -> bool: ...
    def keeps(self, place: int) -> float: ...


class _Child:
    """What both truths share: the steps by place, and one child's own pace, slips and keeping."""

    def __init__(self, steps: tuple[Step, ...], world: World, traits: Random, chance: Random) -> None:
        self.steps, self.world, self.chance = steps, world, chance
        place = {step.key: i for i, step in enumerate(steps)}
        self.needs = [tuple(place[need] for need in step.needs) for step in steps]
        self.pace = traits.gauss(0, world.child_spread)
        self.slip = min(0.4, world.slip * math.exp(traits.gauss(0, 0.4)))
        self.keep = [world.keep_days * math.exp(traits.gauss(0, world.keep_spread))] * len(steps)
        self.step_pace = [traits.gauss(0, world.step_spread) for _ in steps]
        self.stuck = [traits.random() < world.stuck for _ in steps]
        self.luck = [traits.random() for _ in steps]
        self.start = self._start()
        self.fresh = [False] * len(steps)
        """Whether the step was practised already since the last days off."""

    def _start(self) -> list[bool]:
        """What is known before the first session: by luck, and only when all needs are."""
        known: dict[int, bool] = {}

        def look(place: int) -> bool:
            if place not in known:
                needs = self.needs[place]
                lucky = self.luck[place] < (self.world.entry_next if needs else self.world.entry)
                known[place] = lucky and all(look(need) for need in needs)
            return known[place]

        return [look(place) for place in range(len(self.steps))]

    def knows(self, place: int) -> bool:
        raise NotImplementedError

    def keeps(self, place: int) -> float:
        """For how many days the step is kept, as things stand."""
        return self.keep[place]

    def teaching(self, place: int, form: Form) -> float:
        """The share of the full learning that this task gives."""
        share = 0.2 if self.stuck[place] else 1.0
        if not all(self.knows(need) for need in self.needs[place]):
            share *= WITHOUT_NEEDS
        return share * (EASY_TEACHES if form != self.steps[place].form else 1.0)

    def practised(self, place: int) -> None:
        """The first practice after days off, of something still known, makes it last twice as long."""
        if not self.fresh[place]:
            self.fresh[place] = True
            if self.knows(place):
                self.keep[place] = min(STABILITY_MOST, 2 * self.keep[place])


class Tracing(_Child):
    """Known or not known."""

    def __init__(self, steps: tuple[Step, ...], world: World, traits: Random, chance: Random) -> None:
        super().__init__(steps, world, traits, chance)
        self.known = list(self.start)
        odds = math.log(world.learn / (1 - world.learn))
        self.first_odds = [math.exp(odds + self.pace + own) for own in self.step_pace]
        self.odds = list(self.first_odds)

    def knows(self, place: int) -> bool:
        return self.known[place]

    def answer(self, place: int, form: Form, worked: bool) -> bool:
        chance = 1 - self.slip if self.known[place] else GUESS[form]
        right = self.chance.random() < chance
        self.practised(place)
        odds = self.odds[place]
        if not self.known[place] and self.chance.random() < odds / (1 + odds) * self.teaching(place, form):
            self.known[place] = True
        return right

    def rest(self, days: int) -> None:
        for i, known in enumerate(self.known):
            if known and self.chance.random() < -math.expm1(-days / self.keep[i]):
                self.known[i] = False
                self.odds[i] = SAVED * self.first_odds[i]
        self.fresh = [False] * len(self.steps)


class Gradual(_Child):
    """A strength that grows and sinks; answers by the three-parameter logistic (Birnbaum 1968, from memory)."""

    BASE = -2.0
    STRONG = 2.5
    MOST = 3.0

    def __init__(self, steps: tuple[Step, ...], world: World, traits: Random, chance: Random) -> None:
        super().__init__(steps, world, traits, chance)
        self.strength = [self.STRONG if known else self.BASE for known in self.start]
        self.gain = [world.gain * math.exp(self.pace + own) for own in self.step_pace]

    def knows(self, place: int) -> bool:
        return self.strength[place] >= KNOWN_AT

    def answer(self, place: int, form: Form, worked: bool) -> bool:
        able = 1 / (1 + math.exp(-self.strength[place]))
        guess = GUESS[form]
        right = self.chance.random() < able + (1 - able) * guess
        self.practised(place)
        grown = self.strength[place] + self.gain[place] * self.teaching(place, form)
        self.strength[place] = min(self.MOST, grown)
        return right

    def rest(self, days: int) -> None:
        base = self.BASE
        self.strength = [
            base + (s - base) * math.exp(-days / (4 * keep)) for s, keep in zip(self.strength, self.keep, strict=True)
        ]
        self.fresh = [False] * len(self.steps)


def learner(steps: tuple[Step, ...], world: World, number: int) -> Tracing | Gradual:
    """The `number`-th child of a world: the same traits and the same luck for every way of planning."""
    traits, chance = Random(f"traits {world.name} {number}"), Random(f"luck {world.name} {number}")
    kind = Tracing if world.truth == "tracing" else Gradual
    return kind(steps, world, traits, chance)
