"""The exercises on a sheet, by kind of next step: what is drawn, what the grown-up reads aloud, the answer."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from random import Random

from markupsafe import Markup

from game.core.records import THINGS, Child, Step
from game.core.writing.forms import Form, Forms
from game.teacher import paper

WIDTH = 180.0
HALF = 92.0
NUMBER_WORDS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
SHEET_THINGS = tuple(thing for thing in THINGS if thing != "spoon")
"""A spoon is hard to tell from a bell pull once its colours are gone."""


@dataclass(frozen=True, slots=True)
class Exercise:
    """One strip of a sheet. `height` in millimetres; `answer` is for the teacher's page."""

    says: str
    drawn: Markup
    height: float
    answer: str


@dataclass(frozen=True, slots=True)
class Maker:
    """What an exercise is made with: for whom, by which forms, with which chance."""

    child: Child
    forms: Forms
    rng: Random

    def form(self, symbol: str) -> Form:
        return self.forms.taught(symbol, self.child.hand, self.child.id)

    def some(self, numbers: Sequence[int], count: int) -> list[int]:
        """`count` numbers of these, all different while there are enough."""
        pool = list(dict.fromkeys(numbers))
        self.rng.shuffle(pool)
        return (pool * count)[:count]


def sets_to_count(step: Step, maker: Maker) -> Exercise:
    numbers = maker.some(step.numbers, 2)
    parts: list[str] = []
    for column, (number, thing) in enumerate(zip(numbers, maker.rng.sample(SHEET_THINGS, 2), strict=True)):
        x = column * HALF
        arrangement = maker.rng.choice(step.arrangements or ("array", "circle"))
        spots = paper.places(arrangement, number, 66, 40, maker.rng)
        parts.append(f'<rect class="tray" x="{x + 0.3:.2f}" y="0.5" width="87.6" height="44" rx="4"/>')
        parts.append(paper.thing_set(thing, spots, x + 2, 2.5) + paper.answer_box(x + 70, 14))
    says = "How many are there? Touch each thing once, then write how many."
    return Exercise(says, Markup("".join(parts)), 46, " and ".join(map(str, numbers)))


def frame_and_one(step: Step, maker: Maker) -> Exercise:
    more = step.task == "one_more"
    numbers = maker.some([n for n in step.numbers if (n <= 9 if more else n >= 1)] or [5], 2)
    parts: list[str] = []
    for column, number in enumerate(numbers):
        x = column * HALF
        parts.append(paper.ten_frame(x + 1, 1, number) + paper.answer_box(x + 66, 3.5))
    says = "Draw one more. How many are there now? Write it." if more else "Cross one out. How many are left? Write it."
    answers = [str(n + 1 if more else n - 1) for n in numbers]
    return Exercise(says, Markup("".join(parts)), 25, " and ".join(answers))


def frames_to_fill(step: Step, maker: Maker) -> Exercise:
    numbers = maker.some(step.numbers, 2)
    parts: list[str] = []
    for column, number in enumerate(numbers):
        x = column * HALF
        parts.append(paper.numeral(maker.form(str(number)), x + 10, 6, 12) + paper.ten_frame(x + 26, 1, 0))
    says = "Read the numeral. Draw that many rings into the frame, the row above first."
    return Exercise(says, Markup("".join(parts)), 25, " and ".join(map(str, numbers)))


def frames_to_read(step: Step, maker: Maker) -> Exercise:
    numbers = maker.some(step.numbers, 2)
    parts = [
        paper.ten_frame(column * HALF + 1, 1, number) + paper.answer_box(column * HALF + 66, 3.5)
        for column, number in enumerate(numbers)
    ]
    says = "How many are there? See five and some more. Write how many."
    return Exercise(says, Markup("".join(parts)), 25, " and ".join(map(str, numbers)))


def words_to_read(step: Step, maker: Maker) -> Exercise:
    numbers = maker.some(step.numbers, 2)
    parts: list[str] = []
    for column, number in enumerate(numbers):
        x = column * HALF
        parts.append(paper.numeral(maker.form(NUMBER_WORDS[number]), x + 15, 6, 8) + paper.ten_frame(x + 32, 1, 0))
    says = "Read the word, sound by sound. Draw that many rings into the frame, the row above first."
    return Exercise(says, Markup("".join(parts)), 25, " and ".join(map(str, numbers)))


def hands_to_colour(step: Step, maker: Maker) -> Exercise:
    (number,) = maker.some([n for n in step.numbers if 1 <= n <= 9] or [5], 1)
    drawn = paper.numeral(maker.form(str(number)), 12, 18, 14) + paper.two_hands(30, 1, 48) + paper.answer_box(140, 16)
    says = f"Colour {number} fingers, a full hand first. How many stay white? Write it."
    return Exercise(says, Markup(drawn), 51, f"{10 - number} stay white")


def pairs_of_ten(step: Step, maker: Maker) -> Exercise:
    numbers = maker.some(range(1, 10), 4)
    partners = [10 - n for n in numbers]
    maker.rng.shuffle(partners)
    parts: list[str] = []
    for place, (left, right) in enumerate(zip(numbers, partners, strict=True)):
        x = 4 + place * 46
        parts.append(paper.ten_frame(x, 1, left, 7.0))
        parts.append(f'<circle class="pin" cx="{x + 17.5:.2f}" cy="19" r="1"/>')
        parts.append(f'<circle class="pin" cx="{x + 17.5:.2f}" cy="42" r="1"/>')
        parts.append(f'<rect class="box" x="{x + 9.5:.2f}" y="42" width="16" height="15" rx="2"/>')
        parts.append(paper.numeral(maker.form(str(right)), x + 17.5, 44.5, 10))
    says = "Which numeral makes ten? Draw a line from each frame to it."
    answer = ", ".join(f"{n} and {10 - n}" for n in numbers)
    return Exercise(says, Markup("".join(parts)), 58, answer)


def rings_to_split(step: Step, maker: Maker) -> Exercise:
    number = maker.some([n for n in step.numbers if n >= 2] or [5], 1)[0]
    parts: list[str] = []
    for row in range(2):
        y = 2 + row * 21
        parts.extend(
            f'<circle class="ring" cx="{6 + place * 12:.2f}" cy="{y + 8.5:.2f}" r="4.6"/>' for place in range(number)
        )
        parts.append(paper.answer_box(130, y) + paper.answer_box(152, y))
    says = f"Colour some of the {number} rings. How many are coloured, how many are white? Do it another way below."
    pairs = ", ".join(f"{a} and {number - a}" for a in range(number + 1))
    return Exercise(says, Markup("".join(parts)), 43, f"two of: {pairs}")


def which_side(step: Step, maker: Maker) -> Exercise:
    first, second = maker.some([n for n in step.numbers if n >= 1] or [3, 4], 2)
    thing = maker.rng.choice(SHEET_THINGS)
    fewer = step.way == "fewer"
    parts: list[str] = []
    for column, number in enumerate((first, second)):
        x = column * HALF
        spots = paper.places("scattered", number, 80, 36, maker.rng)
        parts.append(f'<rect class="tray" x="{x + 0.3:.2f}" y="0.5" width="87.6" height="40" rx="4"/>')
        parts.append(paper.thing_set(thing, spots, x + 4, 2.5))
    says = f"Where are {'fewer' if fewer else 'more'}? Draw a ring round that side. Both, if it is the same."
    smaller = "left" if first < second else "right"
    larger = "right" if first < second else "left"
    side = "both" if first == second else smaller if fewer else larger
    return Exercise(says, Markup("".join(parts)), 42, f"{side} ({first} and {second})")


def track_with_gaps(step: Step, maker: Maker) -> Exercise:
    gaps = sorted(maker.rng.sample(range(1, 10), 3))
    parts: list[str] = []
    for number in range(11):
        x = number * 16.3
        parts.append(f'<rect class="box" x="{x + 0.5:.2f}" y="1" width="15.3" height="18" rx="2"/>')
        if number not in gaps:
            parts.append(paper.numeral(maker.form(str(number)), x + 8.1, 5, 10))
    says = "Which numerals are missing? Write them."
    return Exercise(says, Markup("".join(parts)), 21, ", ".join(map(str, gaps)))


def numerals_to_write(step: Step, maker: Maker) -> Exercise:
    return writing_row(str(maker.some(step.numbers, 1)[0]), maker)


def words_to_write(step: Step, maker: Maker) -> Exercise:
    return writing_row(NUMBER_WORDS[maker.some(step.numbers, 1)[0]], maker)


def writing_row(symbol: str, maker: Maker) -> Exercise:
    form = maker.form(symbol)
    cues = " ".join(dict.fromkeys(stroke.text for stroke in form.strokes)) if len(symbol) < 3 else ""
    says = f"Go over the dots, then write {symbol}. {cues}".strip()
    return Exercise(
        says,
        Markup(paper.writing_row(form, maker.child.hand, WIDTH)),
        13 + paper.ruling_for(form),
        f"{symbol}, written",
    )


Make = Callable[[Step, Maker], Exercise]
EXERCISES: dict[str, tuple[Make, ...]] = {
    "count_set": (sets_to_count,),
    "pick_numeral": (frames_to_fill, sets_to_count),
    "make_ten": (hands_to_colour, pairs_of_ten),
    "one_fewer": (frame_and_one,),
    "one_more": (frame_and_one,),
    "see_at_once": (frames_to_read,),
    "count_out": (frames_to_fill,),
    "which_more": (which_side,),
    "number_track": (track_with_gaps,),
    "number_words": (words_to_read,),
    "take_apart": (rings_to_split, pairs_of_ten),
    "write_numeral": (numerals_to_write,),
    "write_word": (words_to_write,),
}


def makers_for(step: Step) -> tuple[Make, ...]:
    """The makers of a step's exercises; for a kind that paper does not know, sets to count."""
    return EXERCISES.get(step.task, (sets_to_count,))
