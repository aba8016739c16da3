"""The class list, children.csv: nickname, badge, hand, notes; a teacher may also edit it in a spreadsheet.

A bad row is named and left in the file, the rest is used. `id` stays when the nickname changes; a row written by hand
without one takes its nickname as its id.
"""

from __future__ import annotations

import csv
import io
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from random import Random
from typing import cast

from game.core.errors import Trouble, near
from game.core.files import swap_in
from game.core.log import as_meant, harmless, line_of
from game.core.records import BADGES, GUEST_ID, Child, Hand

FILE_NAME = "children.csv"
COLUMNS = ("id", "nickname", "badge", "hand", "notes", "away")
NICKNAME_MOST = 200
ID_NAME_MOST = 40
_ID_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"


@dataclass(frozen=True, slots=True)
class Roster:
    """The children of the list, the rows that could not be used, and a sentence about each of those."""

    children: tuple[Child, ...] = ()
    left: tuple[tuple[str, ...], ...] = ()
    troubles: tuple[str, ...] = ()

    def child(self, child_id: str) -> Child | None:
        return next((c for c in self.children if c.id == child_id), None)

    def named(self, name: str) -> Child:
        """The child with that id or nickname.

        Raises Trouble when there is none or more than one, or when the list or the child's row cannot be used.
        """
        if self.unread:
            raise Trouble(self.troubles[0])
        found = [c for c in self.children if name in (c.id, c.nickname)]
        exact = [c for c in found if c.id == name]
        if len(exact) == 1 or len(found) == 1:
            return (exact or found)[0]
        if found:
            ids = ", ".join(c.id for c in found)
            raise Trouble(f'"{name}" is the nickname of more than one child; say which by id: {ids}.')
        for row, trouble in zip(self.left, self.troubles, strict=False):
            if name and name in row[:2]:
                raise Trouble(trouble)
        names = [c.nickname for c in self.children]
        raise Trouble(f'There is no child "{name}" in {FILE_NAME}{near(name, names)}; check the name.')

    @property
    def unread(self) -> bool:
        """Whether the file could not be used at all: then it must not be written over."""
        return bool(self.troubles) and not self.children and not self.left

    @property
    def playing(self) -> tuple[Child, ...]:
        return tuple(c for c in self.children if not c.away)


def clean(text: str) -> str:
    """One line of any script, without control characters, at most NICKNAME_MOST letters."""
    kept = "".join(" " if unicodedata.category(c) == "Cc" else c for c in unicodedata.normalize("NFC", text))
    return " ".join(kept.split())[:NICKNAME_MOST]


def load(folder: Path) -> Roster:
    """The class list in `folder`; an empty one when there is none."""
    path = folder / FILE_NAME
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        return Roster()
    except OSError as error:
        return Roster(troubles=(f"{path} cannot be read ({error.strerror}); close it elsewhere and try again.",))
    except UnicodeDecodeError:
        return Roster(troubles=(f"{path} is not UTF-8 text; save it as CSV UTF-8 from the spreadsheet.",))
    return _parse(path, text)


def _parse(path: Path, text: str) -> Roster:
    lines = text.splitlines(keepends=True)
    if not lines or not lines[0].strip():
        return Roster()
    separator = next((s for s in (",", ";", "\t") if s in lines[0]), ",")
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    header = [cell.strip().lower() for cell in next(rows)]
    if "nickname" not in header:
        return Roster(troubles=(f'{path}: the first line must name the columns, among them "nickname".',))
    children: list[Child] = []
    left: list[tuple[str, ...]] = []
    troubles: list[str] = []
    for number, row in enumerate(rows, 2):
        if not any(cell.strip() for cell in row):
            continue
        cells = dict(zip(header, map(as_meant, row), strict=False))
        try:
            children.append(_child(cells, children))
        except ValueError as error:
            left.append(tuple(cells.get(name, "") for name in COLUMNS))
            troubles.append(f"{path}, row {number}: {error}; the row is left as it is, the rest is used.")
    return Roster(tuple(children), tuple(left), tuple(troubles))


def _child(cells: dict[str, str], before: Sequence[Child]) -> Child:
    nickname = clean(cells.get("nickname", ""))
    if not nickname:
        raise ValueError("the nickname is empty")
    child_id = clean(cells.get("id", "")) or nickname
    if child_id == GUEST_ID or any(child_id == other.id for other in before):
        raise ValueError(f'the id "{child_id}" is taken; give this child another one')
    badge = cells.get("badge", "").strip().lower()
    if badge and badge not in BADGES:
        raise ValueError(f'the badge is "{badge}"; use {", ".join(BADGES)}{near(badge, BADGES)}')
    hand = cells.get("hand", "").strip().lower() or "right"
    if hand not in ("right", "left"):
        raise ValueError(f'the hand is "{hand}"; use right or left')
    away = cells.get("away", "").strip().lower() in ("yes", "true", "1")
    free = [b for b in BADGES if all(b != other.badge for other in before)]
    return Child(
        child_id,
        nickname,
        badge or (free or list(BADGES))[0],
        cast(Hand, hand),
        cells.get("notes", ""),
        away,
    )


def text(roster: Roster) -> str:
    """The list as it is written, the rows that could not be used behind the others."""
    lines = [line_of(COLUMNS)]
    for child in roster.children:
        cells = (
            child.id,
            child.nickname,
            child.badge,
            child.hand,
            child.notes,
            "yes" if child.away else "",
        )
        lines.append(line_of(harmless(cell) for cell in cells))
    lines.extend(line_of(harmless(cell) for cell in row) for row in roster.left)
    return "\ufeff" + "".join(lines)


def save(folder: Path, roster: Roster) -> None:
    """Write the whole list in one step. Raises OSError."""
    swap_in(folder / FILE_NAME, text(roster).encode("utf-8"))


def new_child(roster: Roster, nickname: str, badge: str, hand: Hand, rng: Random) -> Child:
    """A child with an id of its own: the nickname and four letters, so that two devices never give the same.

    Raises Trouble when the nickname is empty.
    """
    name = clean(nickname)
    if not name:
        raise Trouble("The nickname is empty; type one.")
    while True:
        child_id = f"{name[:ID_NAME_MOST]}~{''.join(rng.choices(_ID_LETTERS, k=4))}"
        if roster.child(child_id) is None:
            return Child(child_id, name, badge, hand)


def with_child(roster: Roster, child: Child) -> Roster:
    """The list with this child added, or changed when its id is there already."""
    others = [child if c.id == child.id else c for c in roster.children]
    if roster.child(child.id) is None:
        others.append(child)
    return replace(roster, children=tuple(others))


def holder_of(roster: Roster, badge: str, but: str = "") -> Child | None:
    """Who wears a badge already, apart from the child with the id `but`."""
    return next((c for c in roster.playing if c.badge == badge and c.id != but), None)
