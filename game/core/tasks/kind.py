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

    `likely` are wrong answers worth offering (the other part, the whole set). With `near` the rest are the
    numerals next to the answer, else they lie further off. The place of the answer tells nothing: how many of
    the others lie below it is left to chance. Returns no choices for the constructed form.
    """
    if form == "constructed":
        return ()
    wanted = 3 if form == "choice3" else 4
    chosen = [answer]
    for wrong in likely:
        if 0 <= wrong <= 10 and wrong not in chosen and len(chosen) < min(wanted, 3):
            chosen.append(wrong)
    others = [n for n in range(11) if n not in chosen]
    rng.shuffle(others)
    if near:
        others.sort(key=lambda n: abs(n - answer) > 2)
    else:
        others.sort(key=lambda n: not 2 <= abs(n - answer) <= 5)
    chosen.extend(others[: wanted - len(chosen)])
    return tuple(sorted(chosen))


def off_by(answered: int, answer: int) -> str:
    """How a wrong numeral lies to the right one, in words for the log; "" when it is right."""
    if answered == answer:
        return ""
    if answered == answer + 1:
        return "one too many"
    if answered == answer - 1:
        return "one too few"
    return "another number"
