"""Write the number word: along the dotted way, beside a model, or from memory."""

from __future__ import annotations

from random import Random

from game.core import phrases
from game.core.records import Form, Step, Task
from game.core.tasks import writing
from game.core.tasks.kind import NOTHING, Kind, Past
from game.core.tasks.writing import WriteResponse, WriteTask


def make(step: Step, form: Form, reason: str, rng: Random, last: Task | None, past: Past = NOTHING) -> WriteTask:
    return writing.make_task(step, form, reason, rng, last, past, writing.WORDS)


def respond(task: WriteTask, answer: int) -> WriteResponse:
    return writing.sample(task, writing.WORDS[answer])


KIND = Kind(
    id="write_word",
    title="Write the number word",
    forms=("constructed",),
    ways=writing.WAYS,
    lowest=0,
    highest=10,
    needs_arrangement=False,
    make=make,
    judge=writing.judge,
    hint=writing.hint,
    confirm=writing.confirm,
    respond=respond,
    praise=(phrases.PRAISE_STEADY, phrases.PRAISE_READ),
    with_pen=True,
)
