"""The report: one HTML file with the class, a page for each child and a sheet for each child's parents."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from markupsafe import Markup

from game.core import log, planner, roster
from game.core.errors import Trouble
from game.core.levels import Levels
from game.core.mastery import NEARLY, TOGETHER_TRIES, ChildMastery, Neighbours
from game.core.records import BADGES, Child, Step
from game.core.tasks import KINDS
from game.teacher import groups, ink, output, page, plot, standing, words
from game.teacher.gather import DAY_SECONDS, ChildRecord, Gathered, Progress, errors_since, gather, nothing
from game.teacher.ideas import Ideas, load_ideas

FILE_NAME = "report.html"
MOLE = "stand"
QUIET_DAYS = 7
"""After so many days without play the report names the child."""
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


def build(
    home: Path, day: date, levels: Levels, art: Path, child: str | None = None, progress: Progress = nothing
) -> str:
    """The report on the data folder `home` as of `day`, as the text of one HTML file.

    `art` is the folder of our pictures. `child`: only the pages of the child with that nickname or id.
    Raises Trouble when the log cannot be read or the child is not there.
    """
    output.data_folder(home)
    today = day.toordinal()
    listed = roster.load(home)
    only = _child_named(listed, child, home) if child is not None else None
    try:
        book = ink.InkBook(home / ink.FILE_NAME, lambda done: progress(0.05 * done))
        found = gather(home / log.FILE_NAME, levels.skills, book.ids, lambda done: progress(0.05 + 0.75 * done))
    except OSError as error:
        raise Trouble(f"{home} cannot be read ({error.strerror}); check the folder and try again.") from error
    except ValueError as error:
        raise Trouble(str(error)) from error
    views = _views(listed, found, levels, today, book, only)
    progress(0.9)
    text = _render(views, listed, found, levels, today, art, only)
    progress(1.0)
    return text


def _child_named(listed: roster.Roster, name: str, home: Path) -> str:
    """The id of that child; a child that only the log knows is found by its id."""
    try:
        return listed.named(name).id
    except Trouble:
        path = home / log.FILE_NAME
        if path.exists() and any(len(row) > 2 and log.as_meant(row[2]) == name for row in log.rows_of(path)):
            return name
        raise


def _views(
    listed: roster.Roster, found: Gathered, levels: Levels, today: int, book: ink.InkBook, only: str | None
) -> list[ChildView]:
    """The children of the list in its order, those away last, then those that only the log knows."""
    ideas = load_ideas()
    neighbours = Neighbours(levels.skills)
    children = [*listed.playing, *(c for c in listed.children if c.away)]
    known = {c.id for c in children}
    children.extend(Child(i, i, "") for i in sorted(found.children) if i not in known)
    views: list[ChildView] = []
    for number, child in enumerate(children, 1):
        if only is None or child.id == only:
            record = found.children.get(child.id) or ChildRecord(child.id, ChildMastery(neighbours))
            views.append(_view(f"child-{number}", child, child.id in known, record, levels, today, book, ideas))
    return views


def _view(
    anchor: str,
    child: Child,
    is_listed: bool,
    record: ChildRecord,
    levels: Levels,
    today: int,
    book: ink.InkBook,
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


def _ink(record: ChildRecord, book: ink.InkBook) -> tuple[InkView, ...]:
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


@dataclass(frozen=True, slots=True)
class GroupView:
    number: int
    members: tuple[ChildView, ...]
    joining: tuple[ChildView, ...]


@dataclass(frozen=True, slots=True)
class CardView:
    """A step and the groups that share it, with one activity for all of them."""

    step: Step
    groups: tuple[GroupView, ...]
    activity: str


@dataclass(frozen=True, slots=True)
class ClassView:
    """What the first page tells besides the grid."""

    cards: tuple[CardView, ...]
    alone: tuple[tuple[ChildView, Step], ...]
    look: tuple[ChildView, ...]
    quiet: tuple[ChildView, ...]
    away: tuple[ChildView, ...]
    unlisted: tuple[ChildView, ...]

    @property
    def count(self) -> int:
        return sum(len(card.groups) for card in self.cards)


def class_view(views: Sequence[ChildView], levels: Levels, today: int) -> ClassView:
    by_id = {view.child.id: view for view in views}
    playing = [view for view in views if view.listed and not view.child.away]
    made, left = groups.form_groups({v.child.id: v.wished for v in playing}, levels.steps)
    return ClassView(
        cards=_cards(made, left, by_id),
        alone=tuple((by_id[e.child], e.step) for e in left if e.joins is None),
        look=tuple(v for v in views if v.together and not v.child.away),
        quiet=tuple(v for v in playing if v.record.last_day is None or today - v.record.last_day >= QUIET_DAYS),
        away=tuple(v for v in views if v.child.away),
        unlisted=tuple(v for v in views if not v.listed),
    )


def _cards(
    made: Sequence[groups.Group], left: Sequence[groups.LeftOver], by_id: Mapping[str, ChildView]
) -> tuple[CardView, ...]:
    ideas = load_ideas()
    cards: dict[str, list[GroupView]] = {}
    for place, group in enumerate(made):
        joining = tuple(by_id[entry.child] for entry in left if entry.joins == place)
        view = GroupView(place + 1, tuple(by_id[i] for i in group.children), joining)
        cards.setdefault(group.step.key, []).append(view)
    steps = {group.step.key: group.step for group in made}
    return tuple(CardView(steps[key], tuple(held), ideas.table(steps[key])) for key, held in cards.items())


def _render(
    views: Sequence[ChildView],
    listed: roster.Roster,
    found: Gathered,
    levels: Levels,
    today: int,
    art: Path,
    only: str | None,
) -> str:
    return page.render(
        "report.html.j2",
        style=page.style("paper.css", "report.css"),
        symbols=page.symbols(art, "badges", _badges(views), "badge") + page.symbols(art, "mole", [MOLE], "mole"),
        pictured={name for name in BADGES if (art / "badges" / f"{name}.svg").is_file()},
        views=views,
        group_page=None if only is not None else class_view(views, levels, today),
        mole=MOLE if (art / "mole" / f"{MOLE}.svg").is_file() else "",
        levels=levels,
        today=today,
        words=words,
        statuses=standing.STATUSES,
        plot=plot,
        guest_lanes=found.guest_lanes,
        unreadable=found.unreadable,
        troubles=[*listed.troubles, *map(str, levels.faults)],
        nearly=NEARLY,
        together_tries=TOGETHER_TRIES,
        error_weeks=ERROR_WEEKS,
        quiet_days=QUIET_DAYS,
    )


def _badges(views: Iterable[ChildView]) -> list[str]:
    return sorted({view.child.badge for view in views if view.child.badge in BADGES})
