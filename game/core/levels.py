"""Reads the level files (TOML, one skill a file) and checks them once, at the door, all faults together."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from game.core.errors import near
from game.core.layout import ARRANGEMENTS
from game.core.records import FORM_WORDS, Form, Skill, Step
from game.core.standards import STANDARDS
from game.core.tasks import KINDS

FORMS: dict[str, Form] = {word: form for form, word in FORM_WORDS.items()}
SKILL_KEYS = ("skill", "title", "order", "step")
STEP_KEYS = (
    "id", "title", "task", "way", "numbers", "arrangement", "answer", "near", "needs", "standard",
)  # fmt: skip
MOST_BYTES = 1_000_000


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in a level file; its text is the sentence that a teacher reads."""

    file: str
    place: str
    says: str

    def __str__(self) -> str:
        return f"{self.file}{', ' + self.place if self.place else ''}: {self.says}"


@dataclass(frozen=True, slots=True)
class Levels:
    """The skills of all faultless files, in order, and the faults of the others."""

    skills: tuple[Skill, ...]
    faults: tuple[Fault, ...] = ()

    @property
    def steps(self) -> tuple[Step, ...]:
        return tuple(step for skill in self.skills for step in skill.steps)

    def step(self, key: str) -> Step:
        """The step with that key; KeyError when no level has it."""
        for step in self.steps:
            if step.key == key:
                return step
        raise KeyError(key)

    def without_pen(self) -> Levels:
        """The steps that a child can do by key or switch."""
        kept = [(skill, tuple(s for s in skill.steps if not KINDS[s.task].with_pen)) for skill in self.skills]
        return Levels(tuple(replace(skill, steps=steps) for skill, steps in kept if steps), self.faults)


class _Reader:
    """Reads one file's table and collects its faults."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.faults: list[Fault] = []
        self.place = ""

    def fault(self, says: str) -> None:
        self.faults.append(Fault(self.file, self.place, says))

    def unknown_keys(self, table: Mapping[str, Any], allowed: Sequence[str]) -> None:
        for key in table:
            if key not in allowed:
                self.fault(f'"{key}" is not a known entry; use {", ".join(allowed)}{near(key, allowed)}')

    def text(self, table: Mapping[str, Any], key: str, default: str | None = None) -> str:
        value = table.get(key, default)
        if value is None:
            self.fault(f'"{key}" is missing; give it a text')
        elif not isinstance(value, str) or (not value.strip() and default is None):
            self.fault(f'"{key}" is {value!r}; use a text in quotes')
        else:
            return value
        return ""

    def one_of(self, value: str, key: str, allowed: Iterable[str]) -> str:
        words = list(allowed)
        if value and value not in words:
            self.fault(f'"{key}" is "{value}"; use {", ".join(words)}{near(value, words)}')
        return value

    def texts(self, table: Mapping[str, Any], key: str) -> tuple[str, ...]:
        value = table.get(key, [])
        if not isinstance(value, list) or not all(isinstance(v, str) for v in value):
            self.fault(f'"{key}" is {value!r}; use a list of texts, like ["line"]')
            return ()
        return tuple(value)


def load_levels(folders: Iterable[Path]) -> Levels:
    """All level files (*.toml) directly in `folders`; those with a fault are left out and told."""
    return load_files([path for folder in folders for path in sorted(folder.glob("*.toml"))])


def load_files(paths: Sequence[Path]) -> Levels:
    """The levels of these files: each checked alone, then together (twice-given ids, needs, circles)."""
    read: list[tuple[float, str, Skill]] = []
    faults: list[Fault] = []
    for path in paths:
        name = f"{path.parent.name}/{path.name}"
        skill, order, found = _load(path, name)
        faults.extend(found)
        if skill is not None:
            read.append((order, name, skill))
    read.sort(key=lambda entry: entry[0])
    kept, more = _together(read)
    return Levels(tuple(kept), (*faults, *more))


def _load(path: Path, name: str) -> tuple[Skill | None, float, list[Fault]]:
    reader = _Reader(name)
    try:
        if path.stat().st_size > MOST_BYTES:
            reader.fault(f"the file is over {MOST_BYTES // 1000} kB; a level file is much smaller")
            return None, 0, reader.faults
        table = tomllib.loads(path.read_text(encoding="utf-8-sig"))
    except OSError as error:
        reader.fault(f"the file cannot be read ({error.strerror}); check its name and rights")
        return None, 0, reader.faults
    except UnicodeDecodeError:
        reader.fault("the file is not UTF-8 text; save it as UTF-8")
        return None, 0, reader.faults
    except tomllib.TOMLDecodeError as error:
        reader.fault(f"this is not TOML: {error}; mend that line")
        return None, 0, reader.faults
    skill, order = _skill(reader, table)
    return (None if reader.faults else skill), order, reader.faults


def _skill(reader: _Reader, table: Mapping[str, Any]) -> tuple[Skill, float]:
    reader.unknown_keys(table, SKILL_KEYS)
    name = reader.text(table, "skill")
    if name and not name.replace("_", "").isalnum():
        reader.fault(f'"skill" is "{name}"; use letters, digits and _ only')
    title = reader.text(table, "title")
    order = table.get("order", 100)
    if isinstance(order, bool) or not isinstance(order, (int, float)):
        reader.fault(f'"order" is {order!r}; use a number')
        order = 100
    entries = table.get("step", [])
    if not isinstance(entries, list) or not entries or not all(isinstance(e, dict) for e in entries):
        reader.fault("there is no [[step]]; a skill needs at least one")
        entries = []
    steps: list[Step] = []
    for number, entry in enumerate(entries, 1):
        reader.place = f'step "{entry["id"]}"' if isinstance(entry.get("id"), str) else f"step {number}"
        step = _step(reader, name, entry)
        if any(step.id == other.id for other in steps):
            reader.fault(f'the id "{step.id}" stands twice; give each step its own')
        steps.append(step)
    reader.place = ""
    return Skill(name, title, tuple(steps)), float(order)


def _step(reader: _Reader, skill: str, entry: Mapping[str, Any]) -> Step:
    reader.unknown_keys(entry, STEP_KEYS)
    step_id = reader.text(entry, "id")
    if step_id and not step_id.replace("_", "").isalnum():
        reader.fault(f'"id" is "{step_id}"; use letters, digits and _ only')
    task = reader.one_of(reader.text(entry, "task"), "task", KINDS)
    kind = KINDS.get(task)
    way, form = "", "choice3"
    numbers: tuple[int, ...] = (0,)
    arrangements = reader.texts(entry, "arrangement")
    for value in arrangements:
        reader.one_of(value, "arrangement", kind.arrangements if kind else ARRANGEMENTS)
    if kind is not None:
        default = kind.ways[0] if len(kind.ways) == 1 else None
        way = reader.text(entry, "way", default)
        if way or default is None:
            reader.one_of(way, "way", kind.ways)
        form = reader.one_of(reader.text(entry, "answer"), "answer", [FORM_WORDS[f] for f in kind.forms])
        numbers = _numbers(reader, entry, *kind.span(way))
        if kind.needs_arrangement and not arrangements:
            reader.fault(f'"arrangement" is missing; use a list of {", ".join(ARRANGEMENTS)}')
    near_by = entry.get("near", False)
    if not isinstance(near_by, bool):
        reader.fault(f'"near" is {near_by!r}; use true or false')
    return Step(
        skill=skill,
        id=step_id,
        title=reader.text(entry, "title"),
        task=task,
        form=FORMS.get(form, "choice3"),
        numbers=numbers,
        way=way,
        standard=reader.one_of(reader.text(entry, "standard"), "standard", STANDARDS),
        arrangements=arrangements,
        near=bool(near_by),
        needs=reader.texts(entry, "needs"),
    )


def _numbers(reader: _Reader, entry: Mapping[str, Any], lowest: int, highest: int) -> tuple[int, ...]:
    value = entry.get("numbers")
    allowed = range(lowest, highest + 1)
    if not isinstance(value, list) or not value:
        reader.fault(f'"numbers" is {value!r}; use a list of {lowest} to {highest}, like [{lowest}, {lowest + 1}]')
        return (lowest,)
    for number in value:
        if isinstance(number, bool) or not isinstance(number, int):
            reader.fault(f'"numbers" holds {number!r}; use whole numbers {lowest} to {highest}')
        elif number not in allowed:
            reader.fault(f"numbers go to {number}; use {lowest} to {highest}{near(number, allowed)}")
    if len(set(map(str, value))) < len(value):
        reader.fault(f'"numbers" names one twice: {value}; name each once')
    return tuple(n for n in value if isinstance(n, int))


def _together(read: Sequence[tuple[float, str, Skill]]) -> tuple[list[Skill], list[Fault]]:
    """Leaves out skills whose id comes again, whose needs no file has, or whose needs run in a circle."""
    faults: list[Fault] = []
    kept: dict[str, tuple[str, Skill]] = {}
    for _, file, skill in read:
        if skill.id in kept:
            other = kept[skill.id][0]
            faults.append(Fault(file, "", f'the skill "{skill.id}" is also in {other}; give it another id'))
        else:
            kept[skill.id] = (file, skill)
    while True:
        wrong = _unknown_needs(kept) or _circle(kept)
        if not wrong:
            return [skill for _, skill in kept.values()], faults
        faults.extend(fault for fault, _ in wrong)
        for _, skill_id in wrong:
            kept.pop(skill_id, None)


def _unknown_needs(kept: Mapping[str, tuple[str, Skill]]) -> list[tuple[Fault, str]]:
    keys = [step.key for _, skill in kept.values() for step in skill.steps]
    known = set(keys)
    return [
        (
            Fault(
                file,
                f'step "{step.id}"',
                f'it needs "{need}", which no level has; use a step like "skill.step"{near(need, keys)}',
            ),
            skill.id,
        )
        for file, skill in kept.values()
        for step in skill.steps
        for need in step.needs
        if need not in known
    ]


def _circle(kept: Mapping[str, tuple[str, Skill]]) -> list[tuple[Fault, str]]:
    """The first step found that waits for itself, if any."""
    steps = {step.key: (file, step) for file, skill in kept.values() for step in skill.steps}
    waiting = dict(steps)
    while True:
        free = [key for key, (_, step) in waiting.items() if not any(n in waiting for n in step.needs)]
        if not free:
            break
        for key in free:
            del waiting[key]
    if not waiting:
        return []
    file, step = next(iter(waiting.values()))
    names = ", ".join(sorted(waiting))
    says = f"its needs run in a circle ({names}), so it could never begin; take one of them out"
    return [(Fault(file, f'step "{step.id}"', says), step.skill)]
