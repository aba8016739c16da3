"""What a kind of mini-task must offer, and the helpers that the kinds share."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from random import Random
from typing import Any, NamedTuple, Protocol

from game.core.layout import ARRANGEMENTS
from game.core.records import THINGS, Form, Step, Task, Verdict

Clips = tuple[str, ...]
WITHIN_TEN = range(11)


class Past(NamedTuple):
    """The numbers that a child's step was about before, oldest first, and those of them that were missed."""

    shown: tuple[int, ...] = ()
    missed: tuple[int, ...] = ()


NOTHING = Past()


class Make(Protocol):
    """Makes a task of a step. `last` is the task of the same step that came before, or None."""

    def __call__(
        self, step: Step, form: Form, reason: str, rng: Random, last: Task | None, past: Past = NOTHING
    ) -> Task: ...


@dataclass(frozen=True)
class Kind:
    """One kind of mini-task: what its level files may say, and its functions.

    make(step, form, reason, rng, last, past) -> Task
    judge(task, response) -> Verdict                  changes nothing
    hint(task, verdict) -> clips                      after the first wrong answer
    confirm(task) -> clips                            names the number when it is right
    respond(task, answer) -> response                 a whole response that gives `answer`, a wrong one for any other
                                                      than the task's; for rehearsal and tests
    """

    id: str
    title: str
    forms: tuple[Form, ...]
    ways: tuple[str, ...]
    lowest: int
    highest: int
    needs_arrangement: bool
    make: Make
    judge: Callable[[Any, Any], Verdict]
    hint: Callable[[Any, Verdict], Clips]
    confirm: Callable[[Any], Clips]
    respond: Callable[[Any, int], object]
    praise: Clips
    """Fitting praise about the work, for an answer that was right at once."""
    with_pen: bool = False
    """Only a pen or a finger can do it, no key and no switch."""
    spans: Mapping[str, tuple[int, int]] = field(default_factory=dict)
    """The lowest and highest number of the ways that allow less than the whole kind."""

    arrangements: tuple[str, ...] = ARRANGEMENTS
    """The arrangements that its sets fit into."""

    def span(self, way: str) -> tuple[int, int]:
        """The lowest and highest number that a step of this way may name."""
        return self.spans.get(way, (self.lowest, self.highest))


def pick_number(step: Step, rng: Random, last: Task | None, past: Past = NOTHING, met_now: bool = False) -> int:
    """The number of the step that came least often, one that was missed counting as twice less; not the last one.

    A step that is `met_now`, for the first time, begins with something to see: not with 0 where it has others.
    """
    numbers: Sequence[int] = step.numbers
    if met_now and any(numbers):
        numbers = [n for n in numbers if n != 0]
    if last is not None and len(set(numbers)) > 1:
        numbers = [n for n in numbers if n != last.number]
    turns = {n: past.shown.count(n) - 2 * past.missed.count(n) for n in numbers}
    fewest = min(turns.values())
    return rng.choice([n for n in numbers if turns[n] == fewest])


def several(number: int, thing: str) -> str:
    """The set in words for the log: "1 kite", "0 kites", "7 kites"."""
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


def pick_thing(rng: Random, last: Task | None) -> str:
    """A thing to count, another one than last time."""
    return rng.choice([t for t in THINGS if last is None or t != last.thing])


def choices(
    answer: int,
    form: Form,
    near: bool,
    rng: Random,
    likely: Sequence[int] = (),
    answers: Sequence[int] = WITHIN_TEN,
) -> tuple[int, ...]:
    """The numerals to choose from, in rising order: the answer and the errors that children make.

    `likely` are wrong answers worth offering (the other part, the whole set), `answers` those that the step can
    have: the others come from them, so that no numeral is never right. With `near` they are next to the answer,
    else further off. How many lie below the answer is left to chance, so that its place tells nothing.
    Returns no choices for the constructed form.
    """
    if form == "constructed":
        return ()
    others = 2 if form == "choice3" else 3
    pool = sorted(set(answers) if len(set(answers)) > others else WITHIN_TEN)
    lower, higher = [n for n in pool if n < answer], [n for n in pool if n > answer]
    below = rng.randint(max(0, others - len(higher)), min(others, len(lower)))
    chosen = _wrong(lower, below, answer, near, likely, rng) + _wrong(higher, others - below, answer, near, likely, rng)
    return tuple(sorted([answer, *chosen]))


def _wrong(pool: Sequence[int], count: int, answer: int, near: bool, likely: Sequence[int], rng: Random) -> list[int]:
    """`count` of the pool: likely errors first, then by the distance from the answer, chance among equals."""

    def rank(n: int) -> tuple[int, float]:
        apart = abs(n - answer)
        far = apart > 2 if near else not 2 <= apart <= 5
        return (0 if n in likely else 1 + far, rng.random())

    return sorted(pool, key=rank)[:count]


def off_by(answered: int, answer: int) -> str:
    """How a wrong numeral lies to the right one, in words for the log; "" when it is right."""
    if answered == answer:
        return ""
    if answered == answer + 1:
        return "one too many"
    if answered == answer - 1:
        return "one too few"
    return "another number"
