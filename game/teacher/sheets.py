"""Paper for the table: for each child a page or two from its own next steps, and a page of answers for the teacher."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from random import Random

from markupsafe import Markup

from game.core import log, replay, roster
from game.core.errors import Trouble
from game.core.files import finish_swaps
from game.core.levels import Levels
from game.core.mastery import ChildMastery, Neighbours, rebuild
from game.core.records import BADGES, Child, Step
from game.core.writing.forms import Forms
from game.teacher import groups, output, page, paper, words
from game.teacher.exercises import (
    SHEET_THINGS,
    Exercise,
    Maker,
    makers_for,
    numerals_to_write,
    words_to_write,
    writing_row,
)
from game.teacher.gather import Progress, nothing

MOST_STEPS = 6
WRITING = (numerals_to_write, words_to_write)
PAGES = 2
ROOM = 222.0
"""Millimetres for exercises on a page: what A4 and Letter both hold, less margins and the line for the name."""
SAYS = 9.0
"""Millimetres that an exercise takes besides its drawing."""
MOST_SEED = 999_999


@dataclass(frozen=True, slots=True)
class Sheet:
    """One page for a child."""

    child: Child
    number: int
    exercises: tuple[Exercise, ...]


def build(
    home: Path,
    names: Sequence[str],
    day: date,
    levels: Levels,
    art: Path,
    forms: Forms,
    seed: int,
    progress: Progress = nothing,
) -> str:
    """The sheets of the children with these nicknames or ids (all who play, when none is named) as one HTML page.

    The same `seed` gives the same sheets as long as the next steps are the same. Raises Trouble.
    """
    output.data_folder(home)
    try:
        finish_swaps(home)
        listed = roster.load(home)
        children = _wanted(listed, names)
        known = rebuild(replay.evidence(home / log.FILE_NAME), levels.skills)
    except OSError as error:
        raise output.unreadable(home, error) from error
    except ValueError as error:
        raise Trouble(f"{error}.") from error
    neighbours = Neighbours(levels.skills)
    sheets: list[Sheet] = []
    for done, child in enumerate(children, 1):
        mastery = known.get(child.id) or ChildMastery(neighbours)
        sheets.extend(sheets_of(child, next_steps(levels, mastery, day.toordinal()), forms, seed))
        progress(done / len(children))
    return _render(sheets, day, art, seed, listed)


def _wanted(listed: roster.Roster, names: Sequence[str]) -> list[Child]:
    children = [listed.named(name) for name in names] or list(listed.playing)
    if not children and listed.troubles:
        raise Trouble(listed.troubles[0])
    if not children:
        raise Trouble(f"No child is in {roster.FILE_NAME} yet; add the children first.")
    return children


def next_steps(levels: Levels, mastery: ChildMastery, day: int) -> tuple[Step, ...]:
    """What is begun, new and fading, of different kinds first, at most MOST_STEPS."""
    begun, new, again = groups.wishes(levels, mastery, day)
    pool = list(dict.fromkeys((*begun, *new, *again)))
    first = list({step.task: step for step in reversed(pool)}.values())[::-1]
    return tuple([*first, *(step for step in pool if step not in first)][:MOST_STEPS])


def sheets_of(child: Child, steps: Sequence[Step], forms: Forms, seed: int) -> list[Sheet]:
    """A page or two: the exercises of the steps, none of a kind twice, then rows to write as they fit."""
    made: dict[object, Exercise] = {}
    for step in steps:
        maker = Maker(child, forms, Random(f"{seed}:{child.id}:{step.key}"))
        for one in makers_for(step):
            made.setdefault((one, step.key if one in WRITING else ""), one(step, maker))
    rng = Random(f"{seed}:{child.id}:writing")
    rows = [writing_row(str(n), Maker(child, forms, rng)) for n in rng.sample(range(10), 10)]
    pages: list[list[Exercise]] = []
    for exercise in made.values():
        fitting = next((p for p in pages if _height(p) + _height([exercise]) <= ROOM), None)
        if fitting is not None:
            fitting.append(exercise)
        elif len(pages) < PAGES:
            pages.append([exercise])
    for held in pages:
        while rows and _height(held) + _height(rows[:1]) <= ROOM:
            held.append(rows.pop(0))
    return [Sheet(child, number, tuple(held)) for number, held in enumerate(pages, 1)]


def _height(exercises: Sequence[Exercise]) -> float:
    return sum(exercise.height + SAYS for exercise in exercises)


def _render(sheets: Sequence[Sheet], day: date, art: Path, seed: int, listed: roster.Roster) -> str:
    return page.render(
        "sheets.html.j2",
        style=page.style("paper.css", "sheets.css"),
        symbols=_symbols(sheets, art),
        sheets=sheets,
        seed=seed,
        today=day.toordinal(),
        words=words,
        badges=set(BADGES),
        troubles=listed.troubles,
    )


def _symbols(sheets: Sequence[Sheet], art: Path) -> Markup:
    """The badges as they are; things and hand as outlines to be coloured."""
    drawn = page.symbols(art, "badges", sorted({s.child.badge for s in sheets if s.child.badge in BADGES}), "badge")
    for thing in SHEET_THINGS:
        drawn += paper.outline(art / "things" / f"{thing}.svg", f"thing-{thing}")
    names = ("left_palm", *(f"left_finger_{n}_up" for n in (2, 3, 4, 5, 1)))
    hand = Markup("").join(paper.inside(paper.outline(art / "hands" / f"{name}.svg", name)) for name in names)
    return drawn + Markup('<symbol id="hand" viewBox="0 0 300 340">') + hand + Markup("</symbol>")
