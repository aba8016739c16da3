"""What a kind of mini-task must offer, and the helpers that the kinds share."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from random import Random
from typing import Any

from game.core.records import THINGS, Form, Step, Task, Verdict

Clips = tuple[str, ...]


@dataclass(frozen=True)
class Kind:
    """One kind of mini-task: what its level files may say, and its functions.

    make(step, form, reason, rng, last) -> Task      `last` is the task of the same step that came before, or None
    judge(task, response) -> Verdict                  changes nothing
    hint(task, verdict) -> clips                      after the first wrong answer
    confirm(task) -> clips                            names the number when it is right
    respond(task, answer) -> response                 a whole response that gives `answer`; for rehearsal and tests
    """

    id: str
    title: str
    forms: tuple[Form, ...]
    ways: tuple[str, ...]
    lowest: int
    highest: int
    needs_arrangement: bool
    make: Callable[[Step, Form, str, Random, Task | None], Task]
    judge: Callable[[Any, Any], Verdict]
    hint: Callable[[Any, Verdict], Clips]
    confirm: Callable[[Any], Clips]
    respond: Callable[[Any, int], object]
    praise: Clips
    """Fitting praise about the work, for an answer that was right at once."""


def pick_number(step: Step, rng: Random, last: Task | None) -> int:
    """A number of the step, another one than last time where the step has more than one."""
    numbers: Sequence[int] = step.numbers
    if last is not None and len(set(numbers)) > 1:
        numbers = [n for n in numbers if n != last.number]
    return rng.choice(numbers)


def pick_thing(rng: Random, last: Task | None) -> str:
    """A thing to count, another one than last time."""
    return rng.choice([t for t in THINGS if last is None or t != last.thing])


def choices(answer: int, form: Form, near: bool, rng: Random, likely: Sequence[int] = ()) -> tuple[int, ...]:
    """The numerals to choose from, in rising order: the answer and the errors that children make.

    `likely` is the wrong answer most worth offering (the other part, the whole set), if it can be. With `near` the
    rest are next to the answer, else further off. How many of them lie below the answer is drawn first, so that its
    place tells nothing. Returns no choices for the constructed form.
    """
    if form == "constructed":
        return ()
    others = 2 if form == "choice3" else 3
    must = [n for n in likely if 0 <= n <= 10 and n != answer][:1]
    must_below = sum(n < answer for n in must)
    lowest = max(must_below, others - (10 - answer))
    highest = min(others - (len(must) - must_below), answer)
    below = min(max(rng.randrange(others + 1), lowest), highest)
    chosen = [answer, *must]
    chosen += _side([n for n in range(answer - 1, -1, -1) if n not in must], below - must_below, near, rng)
    more_above = others - below - (len(must) - must_below)
    chosen += _side([n for n in range(answer + 1, 11) if n not in must], more_above, near, rng)
    return tuple(sorted(chosen))


def _side(nearest_first: Sequence[int], wanted: int, near: bool, rng: Random) -> list[int]:
    """`wanted` numerals of one side of the answer: the nearest ones, or any of those up to five away."""
    reach = wanted if near else max(wanted, min(5, len(nearest_first)))
    return rng.sample(list(nearest_first[:reach]), wanted)


def off_by(answered: int, answer: int) -> str:
    """How a wrong numeral lies to the right one, in words for the log; "" when it is right."""
    if answered == answer:
        return ""
    if answered == answer + 1:
        return "one too many"
    if answered == answer - 1:
        return "one too few"
    return "another number"
