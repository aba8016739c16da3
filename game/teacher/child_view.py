"""What the report shows of one child: next steps, steps, errors in plain words, ink, standards, ideas for home."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from game.core import planner
from game.core.levels import Levels
from game.core.records import Child, Step
from game.core.tasks import KINDS
from game.teacher import groups, plot, standing
from game.teacher.gather import DAY_SECONDS, ChildRecord, errors_since
from game.teacher.ideas import Ideas
from game.teacher.ink import InkBook

ERROR_WEEKS, MOST_ERRORS = 4, 4
MOST_INK = 6
MOST_NEXT = 3


@dataclass(frozen=True, slots=True)
class ErrorView:
    about: str
    says: str
    try_this: str
    times: int
    ever: int


@dataclass(frozen=True, slots=True)
class InkView:
    """One symbol the child wrote: the day and drawing of the first and of the latest time, and of the latest right."""

    asked: str
    first_day: int
    first: Markup
    latest_day: int
    latest: Markup | None
    well_day: int
    well: Markup | None


@dataclass(frozen=True, slots=True)
class ChildView:
    """All that the templates show of one child."""

    anchor: str
    child: Child
    listed: bool
    record: ChildRecord
    cells: tuple[standing.Cell, ...]
    wished: groups.Wishes
    next_steps: tuple[Step, ...]
    fading: tuple[Step, ...]
    resting: tuple[Step, ...]
    together: tuple[Step, ...]
    errors: tuple[ErrorView, ...]
    dots: tuple[plot.Dot, ...]
    ink: tuple[InkView, ...]
    served: tuple[standing.Served, ...]
    at_home: tuple[str, ...]

    @property
    def plot(self) -> Markup:
        return Markup(plot.drawing(self.dots))

    @property
    def all_there(self) -> bool:
        """Nothing is open: what comes next is only kept fresh."""
        return not (self.wished[0] or self.wished[1] or self.resting)

    @property
    def can(self) -> tuple[Step, ...]:
        """The highest step of each skill that is nearly there or secure, and those below it only where it is not."""
        highest = (next((m for m in reversed(c.marks) if m.status in ("secure", "nearly")), None) for c in self.cells)
        return tuple(mark.step for mark in highest if mark is not None)


def child_view(
    anchor: str,
    child: Child,
    is_listed: bool,
    record: ChildRecord,
    levels: Levels,
    today: int,
    book: InkBook,
    ideas: Ideas,
) -> ChildView:
    mastery = record.mastery
    cells = standing.cells(levels, record, today)
    wished = groups.wishes(levels, mastery, today)
    ready = tuple(step for round_ in wished[:2] for step in round_) or wished[2]
    resting = tuple(m.step for c in cells for m in c.marks if m.status == "resting")
    return ChildView(
        anchor=anchor,
        child=child,
        listed=is_listed,
        record=record,
        cells=cells,
        wished=wished,
        next_steps=ready[:MOST_NEXT],
        fading=planner.outlook(levels, mastery, today, mastery.lanes + 1).fading[:MOST_NEXT],
        resting=resting,
        together=standing.together(levels, mastery),
        errors=_errors(record, ideas),
        dots=plot.dots(record.day_tries),
        ink=_ink(record, book),
        served=standing.served(cells),
        at_home=tuple(dict.fromkeys(ideas.home(step) for step in ready))[:2],
    )


def _errors(record: ChildRecord, ideas: Ideas) -> tuple[ErrorView, ...]:
    """The most frequent errors of late; those that say the same of several kinds of task stand together."""
    made: dict[str, ErrorView] = {}
    for kind, error, times, ever in errors_since(record, ERROR_WEEKS):
        found = ideas.error(kind, error)
        about = KINDS[kind].title if kind in KINDS else kind.replace("_", " ")
        held = made.get(found.says)
        if held is not None:
            about, times, ever = f"{held.about}; {about}", held.times + times, held.ever + ever
        made[found.says] = ErrorView(about, found.says, found.try_this, times, ever)
    return tuple(sorted(made.values(), key=lambda e: -e.times)[:MOST_ERRORS])


def _ink(record: ChildRecord, book: InkBook) -> tuple[InkView, ...]:
    newest = sorted(record.writing, key=lambda asked: record.writing[asked].latest, reverse=True)[:MOST_INK]
    made: list[InkView] = []
    for asked in sorted(newest, key=lambda a: (len(a), a)):
        held = record.writing[asked]
        first = book.drawing(held.first[1])
        latest = None if held.latest == held.first else Markup(book.drawing(held.latest[1]))
        if first:
            first_day, latest_day = held.first[0] // DAY_SECONDS, held.latest[0] // DAY_SECONDS
            well = Markup(book.drawing(held.well[1])) if held.well else None
            well_day = held.well[0] // DAY_SECONDS if held.well else 0
            made.append(InkView(asked, first_day, Markup(first), latest_day, latest, well_day, well))
    return tuple(made)
