"""Number words: read a word and find its numeral, or see a numeral and find its word.

Ways: `heard` (the word is seen and spoken), `read` (it is only seen), `word` (the numeral is seen, the choices are
words). Words are drawn from the stroke forms that writing uses, so that a child reads what it will write.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from game.core import phrases
from game.core.records import Form, Step, Task, Verdict
from game.core.tasks.kind import NOTHING, Clips, Kind, Past, choices, off_by, pick_number

HEARD, READ, WORD = "heard", "read", "word"
WORDS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
SAME_BEGINNING = "another word with the same first letter"


@dataclass(frozen=True, kw_only=True)
class NumberWord(Task):
    """`word` is the written word of `number`; with `to_word` the choices stand for words, else for numerals."""

    word: str

    @property
    def to_word(self) -> bool:
        return self.step.way == WORD


@dataclass(frozen=True, slots=True)
class WordResponse:
    """`answer`: the number whose numeral or word was chosen."""

    answer: int


def alike(number: int) -> tuple[int, ...]:
    """The numbers whose words begin with the same letter: those are taken for each other first."""
    return tuple(n for n, word in enumerate(WORDS) if n != number and word[0] == WORDS[number][0])


def make(step: Step, form: Form, reason: str, rng: Random, last: Task | None, past: Past = NOTHING) -> NumberWord:
    number = pick_number(step, rng, last, past)
    offered: Form = "choice3" if step.way == WORD and form == "constructed" else form
    prompts = {HEARD: phrases.ask_find(number), READ: phrases.ASK_READ, WORD: phrases.ASK_FIND_WORD}
    return NumberWord(
        step=step,
        form=offered,
        reason=reason,
        number=number,
        answer=number,
        choices=choices(number, offered, step.near, rng, alike(number), step.numbers),
        prompt=(prompts[step.way],),
        shown=f"numeral {number}" if step.way == WORD else f"word {WORDS[number]}",
        asked="which word" if step.way == WORD else "which numeral",
        word=WORDS[number],
    )


def judge(task: NumberWord, response: WordResponse) -> Verdict:
    given = response.answer
    error = SAME_BEGINNING if given in alike(task.number) else off_by(given, task.answer)
    answered = WORDS[given] if task.to_word and 0 <= given <= 10 else str(given)
    return Verdict(given == task.answer, answered, error)


def hint(task: NumberWord, verdict: Verdict) -> Clips:
    return (phrases.HINT_FIRST_LETTER, phrases.number(task.number))


def confirm(task: NumberWord) -> Clips:
    return (phrases.it_is(task.number),)


def respond(task: NumberWord, answer: int) -> WordResponse:
    return WordResponse(answer)


KIND = Kind(
    id="number_words",
    title="Number words",
    forms=("choice3", "choice4", "constructed"),
    ways=(HEARD, READ, WORD),
    lowest=0,
    highest=10,
    needs_arrangement=False,
    make=make,
    judge=judge,
    hint=hint,
    confirm=confirm,
    respond=respond,
    praise=(phrases.PRAISE_CAREFUL, phrases.PRAISE_LISTENED),
)
