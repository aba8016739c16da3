"""The shipped levels as a whole: the order of needs, the standards, the README, fair numbers and choices."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from itertools import pairwise
from random import Random

import pytest

from game import paths
from game.core import planner
from game.core.levels import Levels, load_levels
from game.core.mastery import ChildMastery, Evidence, Neighbours
from game.core.session import Session, Where
from game.core.standards import STANDARDS
from game.core.tasks import KINDS
from game.core.tasks.kind import Past
from tests.conftest import MIRA, Clock

README = paths.data("levels") / "README.md"


def rows(heading: str) -> list[list[str]]:
    """The cells of the first table below a heading of the README."""
    text = README.read_text(encoding="utf-8").split(f"## {heading}\n")[1].split("\n## ")[0]
    lines = [line for line in text.splitlines() if line.startswith("|")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines[2:]]


def test_the_shipped_levels_have_no_fault(shipped):
    assert [str(fault) for fault in shipped.faults] == []


def test_needs_have_no_circle_and_every_step_can_be_reached(shipped):
    reached: set[str] = set()
    for _ in shipped.steps:
        reached |= {step.key for step in shipped.steps if reached.issuperset(step.needs)}
    assert reached == {step.key for step in shipped.steps}


def test_a_child_who_answers_everything_right_meets_every_step(shipped):
    known, day = ChildMastery(Neighbours(shipped.skills)), 739_000
    for lane in range(1, 120):
        done: list[planner.Choice] = []
        for turn in range(10):
            choice = planner.choose(shipped, known, day, lane, done, Random(f"{lane} {turn}"))
            done.append(choice)
            known.observe(Evidence(day, "Mira", choice.step.key, choice.form, True, str(lane)))
        day += 1
    assert set(known.steps) == {step.key for step in shipped.steps}


def test_each_step_but_the_first_needs_one_of_its_own_skill(shipped):
    for skill in shipped.skills:
        for step in skill.steps[1:]:
            assert any(need.startswith(f"{skill.id}.") for need in step.needs), step.key


def test_no_step_goes_beyond_ten(shipped):
    assert all(0 <= number <= 10 for step in shipped.steps for number in step.numbers)


def test_every_standard_is_served_or_left_out_with_a_reason(shipped):
    # Common Core State Standards for Mathematics (2010), kindergarten, A.2 to OA.A.5 (seen; A.2, A.3 copy); England:
    # EYFS early learning goal Number (2021, seen), Year 1 mathematics and handwriting (2013, copy)
    table = [
        "K.CC.A.2", "K.CC.A.3", "K.CC.B.4a", "K.CC.B.4b", "K.CC.B.4c", "K.CC.B.5", "K.CC.C.6", "K.CC.C.7",
        "K.OA.A.3", "K.OA.A.4", "K.OA.A.5", "EYFS Number", "Y1 number", "Y1 handwriting",
    ]  # fmt: skip
    assert set(table) == set(STANDARDS)
    served = {step.standard for step in shipped.steps}
    left_out = {row[0]: row[1] for row in rows("Left out")}
    for standard in table:
        assert (standard in served) != (standard in left_out), standard
    assert all(len(reason) > 10 for reason in left_out.values())


def test_the_readme_names_every_skill_and_step(shipped):
    told = {row[0].split(",")[0]: re.findall(r"\w+", row[1]) for row in rows("The order of needs")}
    assert told == {skill.id: [step.id for step in skill.steps] for skill in shipped.skills}


def test_the_readme_tells_which_steps_serve_a_standard(shipped):
    told: dict[str, set[str]] = {}
    for standard, _, where in rows("Standards and the steps that serve them"):
        for part in where.split(";"):
            skill, _, names = part.strip().partition(": ")
            told.setdefault(standard, set()).update(f"{skill}.{name}" for name in re.findall(r"\w+", names))
    served: dict[str, set[str]] = {}
    for step in shipped.steps:
        served.setdefault(step.standard, set()).add(step.key)
    assert told == served


def test_the_readmes_own_level_has_no_fault(tmp_path):
    text = README.read_text(encoding="utf-8").split("```toml\n")[1].split("```")[0]
    (tmp_path / "market.toml").write_text(text, encoding="utf-8")
    together = load_levels([paths.data("levels"), tmp_path])
    assert together.faults == () and together.step("market.pears_in_rows")


def test_a_faulty_level_of_a_teacher_is_told_and_left_out(tmp_path):
    text = README.read_text(encoding="utf-8").split("```toml\n")[1].split("```")[0]
    (tmp_path / "market.toml").write_text(text.replace("[4, 5, 6]", "[4, 5, 16]"), encoding="utf-8")
    (tmp_path / "stall.toml").write_text(text.replace('"market"', '"stall"'), encoding="utf-8")
    together = load_levels([paths.data("levels"), tmp_path])
    assert len(together.faults) == 1 and "numbers go to 16" in str(together.faults[0])
    assert together.step("stall.pears_in_rows")
    with pytest.raises(KeyError):
        together.step("market.pears_in_rows")


def test_the_readme_tells_the_kinds_as_they_are():
    told = {row[0]: row[1:] for row in rows("Write a level of your own")}
    assert set(told) == set(KINDS)
    for name, kind in KINDS.items():
        assert [way for way in kind.ways if way] == re.findall(r"[a-z_]+", re.sub(r"\(.*?\)", "", told[name][0])), name


def tasks_of(step, count: int, form=None):
    """Tasks of a step one after another, as a lane makes them, all answered right at once."""
    last, shown = None, []
    for seed in range(count):
        past = Past(tuple(shown[-10:]))
        last = KINDS[step.task].make(step, form or step.form, "practise", Random(f"{step.key} {seed}"), last, past)
        shown.append(last.number)
        yield last


def test_a_step_never_shows_the_same_numbers_things_and_places_twice_running(shipped):
    for step in shipped.steps:
        before = None
        for task in tasks_of(step, 60):
            now = (task.number, task.thing, getattr(task, "places", ()), task.shown)
            assert now != before, step.key
            assert len(step.numbers) == 1 or before is None or task.number != before[0], step.key
            before = now


def test_the_numbers_of_a_step_come_evenly(shipped):
    for step in shipped.steps:
        counts = Counter(task.number for task in tasks_of(step, 10 * len(step.numbers)))
        assert set(counts) == set(step.numbers), step.key
        assert max(counts.values()) - min(counts.values()) <= 5, (step.key, counts)


def test_a_missed_number_comes_more_often(shipped):
    step = shipped.step("count_set.ten_in_rows")
    for missed in step.numbers:
        counts: Counter[int] = Counter()
        for seed in range(300):
            past = Past(step.numbers, (missed,))
            counts[KINDS[step.task].make(step, step.form, "practise", Random(seed), None, past).number] += 1
        assert counts.most_common(1)[0][0] == missed


def tasks_with_choices(step, count: int):
    """Tasks of a step in its own form of choice, or in the easy one; none when it has no choices."""
    form = "choice3" if step.form == "constructed" else step.form
    return [task for task in tasks_of(step, count, form) if task.choices]


def test_always_the_same_place_is_no_way_to_be_right(shipped):
    for step in shipped.steps:
        tasks = tasks_with_choices(step, 600)
        wins = Counter(task.choices.index(task.answer) for task in tasks)
        assert all(count / len(tasks) < 1 / len(tasks[0].choices) + 0.1 for count in wins.values()), (step.key, wins)


def test_no_numeral_is_offered_that_is_never_right(shipped):
    for step in shipped.steps:
        tasks = tasks_with_choices(step, 300)
        rights = {task.answer for task in tasks}
        offered = Counter(n for task in tasks for n in task.choices)
        never = sum(count for n, count in offered.items() if n not in rights)
        assert never <= 0.12 * offered.total(), (step.key, rights, offered)


def test_numbers_go_on_changing_from_lane_to_lane(shipped):
    one_step = Levels((replace(shipped.skills[0], steps=shipped.skills[0].steps[:1]),))
    known, lanes = ChildMastery(Neighbours(one_step.skills)), []
    for seed in range(6):
        lane = Session(
            one_step, known, MIRA, Where(), Random(seed), Clock(), lambda attempt: None, after=(lanes or [None])[-1]
        )
        lanes.append(lane)
        while (task := lane.next_task()) is not None:
            lane.answer(KINDS[task.kind].respond(task, task.answer), 2.0)
    numbers = lanes[-1]._shown[one_step.steps[0].key]
    assert len(numbers) == 60
    assert all(a != b for a, b in pairwise(numbers))
    counts = Counter(numbers)
    assert max(counts.values()) - min(counts.values()) <= 3
