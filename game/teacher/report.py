"""The report: one HTML file with the class, a page for each child and a sheet for each child's parents."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from pathlib import Path

from game.core import log, roster
from game.core.errors import Trouble
from game.core.files import finish_swaps
from game.core.levels import Levels
from game.core.mastery import NEARLY, TOGETHER_TRIES, ChildMastery, Neighbours
from game.core.records import BADGES, Child
from game.teacher import ink, output, page, plot, standing, words
from game.teacher.child_view import ERROR_WEEKS, ChildView, child_view
from game.teacher.class_view import class_view
from game.teacher.gather import ChildRecord, Gathered, Progress, gather, nothing
from game.teacher.ideas import load_ideas

FILE_NAME = "report.html"
MOLE = "stand"


def build(
    home: Path, day: date, levels: Levels, art: Path, child: str | None = None, progress: Progress = nothing
) -> str:
    """The report on the data folder `home` as of `day`, as the text of one HTML file.

    `art` is the folder of our pictures. `child`: only the pages of the child with that nickname or id.
    Raises Trouble when the log cannot be read or the child is not there.
    """
    output.data_folder(home)
    today = day.toordinal()
    try:
        finish_swaps(home)
        listed = roster.load(home)
        only = _child_named(listed, child, home) if child is not None else None
        book = ink.InkBook(home / ink.FILE_NAME, lambda done: progress(0.05 * done))
        found = gather(home / log.FILE_NAME, levels.skills, book.ids, lambda done: progress(0.05 + 0.75 * done))
    except OSError as error:
        raise output.unreadable(home, error) from error
    except ValueError as error:
        raise Trouble(f"{error}.") from error
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
            views.append(child_view(f"child-{number}", child, child.id in known, record, levels, today, book, ideas))
    return views


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
    )


def _badges(views: Iterable[ChildView]) -> list[str]:
    return sorted({view.child.badge for view in views if view.child.badge in BADGES})
