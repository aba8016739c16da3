"""Reads a log once and keeps, child by child, what the report tells. Streams rows: no record per line is built.

The order of events is that of the log's reader: by time, then by attempt id; the first line with an id counts.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import lru_cache
from pathlib import Path

from game.core.log import as_meant, rows_of
from game.core.mastery import ChildMastery, Evidence, Neighbours
from game.core.records import FORM_WORDS, GUEST_ID, Form, Skill, lane_of
from game.core.replay import no_collecting

Progress = Callable[[float], None]
"""Told the share that is done, 0 to 1."""

DAY_SECONDS = 86400
PAUSE_SECONDS = 180
"""A longer gap inside a lane is a pause and not counted as time spent."""
BYTES_A_LINE = 230
ROWS_BETWEEN_NEWS = 20_000
_FORM_OF: dict[str, Form] = {word: form for form, word in FORM_WORDS.items()}
_Seen = tuple[int, str, str, Form, str, bool, str, str, float, str, str, str]
"""stamp in seconds, attempt id, step key, form, right, first try, help, error, seconds, kind, asked, place"""


def nothing(done: float) -> None:
    """A progress that nobody looks at."""


@dataclass(slots=True)
class StepTally:
    """First tries at one step."""

    tries: int = 0
    right: int = 0
    first_day: int = 0


@dataclass(slots=True)
class Writing:
    """Of the attempts at one symbol that have ink the first, the latest, and the latest right one: (stamp, id)."""

    first: tuple[int, str]
    latest: tuple[int, str]
    well: tuple[int, str] | None = None


@dataclass(slots=True)
class ChildRecord:
    """All that the log tells about one child. Days are proleptic ordinals."""

    id: str
    mastery: ChildMastery
    steps: dict[str, StepTally] = field(default_factory=dict)
    day_tries: dict[int, list[int]] = field(default_factory=dict)
    """For each day played: first tries and right first tries."""
    errors: Counter[tuple[int, str, str]] = field(default_factory=Counter)
    """Errors, and slips of right writing, by (week, kind of task, error); week is the ordinal divided by seven."""
    helped: Counter[str] = field(default_factory=Counter)
    places: Counter[str] = field(default_factory=Counter)
    writing: dict[str, Writing] = field(default_factory=dict)
    seconds: float = 0.0
    answers: int = 0

    @property
    def last_day(self) -> int | None:
        return max(self.day_tries, default=None)

    @property
    def first_day(self) -> int | None:
        return min(self.day_tries, default=None)


@dataclass(frozen=True, slots=True)
class Gathered:
    """The records by child id, how many lanes guests played, and how many lines could not be read."""

    children: dict[str, ChildRecord]
    guest_lanes: int
    unreadable: int


@lru_cache(maxsize=20_000)
def day_of(text: str) -> int | None:
    """The ordinal of an ISO date; None when it is none."""
    try:
        return date.fromisoformat(text).toordinal()
    except ValueError:
        return None


@lru_cache(maxsize=90_000)
def second_of(text: str) -> int | None:
    """Seconds since midnight of a time such as 09:15:30; None when it is none."""
    try:
        at = datetime.fromisoformat(f"2000-01-01 {text}")
    except ValueError:
        return None
    return at.hour * 3600 + at.minute * 60 + at.second if at.tzinfo is None else None


def gather(log_path: Path, skills: Sequence[Skill], inked: frozenset[str], progress: Progress = nothing) -> Gathered:
    """Read the log. `inked`: ids of attempts that have ink. Raises ValueError when a column is missing."""
    with no_collecting():
        seen, unreadable = _read(log_path, progress)
    neighbours = Neighbours(skills)
    children: dict[str, ChildRecord] = {}
    guest_lanes = 0
    for done, child_id in enumerate(list(seen)):
        entries = seen.pop(child_id)
        if child_id == GUEST_ID:
            guest_lanes = len({lane_of(entry[1]) for entry in entries})
            continue
        entries.sort()
        children[child_id] = _record(child_id, entries, neighbours, inked)
        progress(0.5 + 0.5 * (done + 1) / (done + 1 + len(seen)))
    return Gathered(children, guest_lanes, unreadable)


def _read(log_path: Path, progress: Progress) -> tuple[dict[str, list[_Seen]], int]:
    """The attempts of each child in the order of the file, and the number of lines that are none."""
    seen: dict[str, list[_Seen]] = defaultdict(list)
    known: set[str] = set()
    words: dict[str, str] = {}
    kinds: dict[str, tuple[str, Form] | None] = {}
    keys: dict[tuple[str, str], str] = {}
    same = words.setdefault
    unreadable = 0
    lines = max(1, (log_path.stat().st_size if log_path.exists() else 0) // BYTES_A_LINE)
    for number, row in enumerate(rows_of(log_path)):
        if number % ROWS_BETWEEN_NEWS == 0:
            progress(min(0.5, 0.5 * number / lines))
        if not row:
            continue
        try:
            (day_text, time_text, child, place, _, skill, step, task, _, asked, _, right,
             first, helped, error, seconds_text, _, _, attempt_id, _) = row  # fmt: skip
            seconds = float(seconds_text)
        except ValueError:
            unreadable += 1
            continue
        day, second = day_of(day_text), second_of(time_text)
        if task not in kinds:
            kinds[task] = _kind_and_form(task)
        kind = kinds[task]
        whole = kind is not None and day is not None and second is not None and attempt_id.strip()
        if not whole or right not in ("yes", "no", "unsure") or first not in ("yes", "no"):
            unreadable += 1
            continue
        if attempt_id[0] == "'":
            attempt_id = as_meant(attempt_id)
        if attempt_id in known:
            continue
        known.add(attempt_id)
        key = keys.get((skill, step)) or keys.setdefault((skill, step), f"{as_meant(skill)}.{as_meant(step)}")
        seen[as_meant(child)].append((
            day * DAY_SECONDS + second, attempt_id, key, kind[1], same(right, right), first == "yes",  # type: ignore
            same(helped, helped), same(error, error), seconds, kind[0], same(asked, asked), same(place, place),  # type: ignore
        ))  # fmt: skip
    return seen, unreadable


def _kind_and_form(task: str) -> tuple[str, Form] | None:
    """The kind and the form in a task cell such as `count_set, 1 of 3, new`."""
    kind, form = ([*as_meant(task).split(", ", 2), ""])[:2]
    return (kind, _FORM_OF[form]) if form in _FORM_OF else None


def _record(child_id: str, entries: Iterable[_Seen], neighbours: Neighbours, inked: frozenset[str]) -> ChildRecord:
    record = ChildRecord(child_id, ChildMastery(neighbours))
    last_stamp: dict[str, int] = {}
    for stamp, attempt_id, key, form, right, first_try, helped, error, seconds, kind, asked, place in entries:
        day = stamp // DAY_SECONDS
        lane = attempt_id.rsplit("-", 2)[0]
        seconds = seconds if math.isfinite(seconds) else 0.0
        record.seconds += min(max(stamp - last_stamp.get(lane, stamp - seconds), 0.0), PAUSE_SECONDS)
        last_stamp[lane] = stamp
        record.answers += 1
        if right == "yes":
            record.helped[helped] += 1
        if error and right != "unsure":
            record.errors[day // 7, kind, error] += 1
        if attempt_id in inked:
            held = record.writing.setdefault(asked, Writing((stamp, attempt_id), (stamp, attempt_id)))
            held.latest = (stamp, attempt_id)
            if right == "yes":
                held.well = held.latest
        if first_try:
            record.places[place] += 1
        if not first_try or right == "unsure":
            record.day_tries.setdefault(day, [0, 0])
            continue
        _first_try(record, Evidence(day, child_id, key, form, right == "yes", lane))
    return record


def _first_try(record: ChildRecord, seen: Evidence) -> None:
    record.mastery.observe(seen)
    tally = record.steps.get(seen.key)
    if tally is None:
        tally = record.steps[seen.key] = StepTally(first_day=seen.day)
    tally.tries += 1
    tally.right += seen.right
    by_day = record.day_tries.setdefault(seen.day, [0, 0])
    by_day[0] += 1
    by_day[1] += seen.right


def errors_since(record: ChildRecord, weeks: int) -> list[tuple[str, str, int, int]]:
    """(kind, error, times in the last `weeks` of the child's play, times in all), the most frequent first."""
    newest = (record.last_day or 0) // 7
    recent: Counter[tuple[str, str]] = Counter()
    ever: Counter[tuple[str, str]] = Counter()
    for (week, kind, error), times in record.errors.items():
        ever[kind, error] += times
        if week > newest - weeks:
            recent[kind, error] += times
    return sorted(
        ((kind, error, times, ever[kind, error]) for (kind, error), times in recent.items()),
        key=lambda entry: (-entry[2], entry[0], entry[1]),
    )
