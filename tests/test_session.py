"""A whole lane: ten tasks, the ladder of help, and a log that rebuilds to the same mastery."""

from __future__ import annotations

from datetime import timedelta
from random import Random

import pytest

from game.core import mastery as mastery_
from game.core import phrases
from game.core.levels import Levels
from game.core.mastery import ChildMastery, Neighbours, evidence_of, rebuild
from game.core.records import TASKS_A_LANE
from game.core.session import Session, Where
from game.core.tasks import KINDS
from tests.conftest import EVENING, MIRA, Clock, play, play_days, right, wrong_once, wrong_twice


def test_ten_right_answers_light_ten_lamps(shipped):
    session, lines = play(shipped)
    assert session.lit == TASKS_A_LANE
    assert len(lines) == TASKS_A_LANE
    assert all(a.right and a.first_try and a.help == "none" for a in lines)


def test_a_wrong_answer_brings_a_hint_then_the_lamp(shipped):
    _, lines = play(shipped, wrong_once)
    assert [a.help for a in lines] == ["none", "hint"] * TASKS_A_LANE
    assert [a.right for a in lines] == [False, True] * TASKS_A_LANE
    assert [a.first_try for a in lines] == [True, False] * TASKS_A_LANE


def test_two_wrong_answers_are_done_together_and_light_the_lamp_too(shipped):
    session, lines = play(shipped, wrong_twice)
    assert session.lit == TASKS_A_LANE
    assert [a.help for a in lines] == ["none", "hint", "together"] * TASKS_A_LANE


def test_same_seed_same_log(shipped):
    assert play(shipped, wrong_once, seed=5)[1] == play(shipped, wrong_once, seed=5)[1]
    assert play(shipped, seed=5)[1] != play(shipped, seed=6)[1]


def test_the_log_rebuilds_to_the_live_mastery(shipped):
    rng = Random(3)
    live, lines = play_days(
        shipped, [0, 1, 2, 4, 9, 30, 31, 60], lambda t, n: t.answer if n or rng.random() < 0.6 else 0
    )
    seen = [e for e in map(evidence_of, lines) if e is not None]
    again = rebuild(seen, shipped.skills)[MIRA.id]
    names = list(mastery_.StepState.__slots__)
    assert set(again.steps) == set(live.steps)
    for key, state in live.steps.items():
        assert [getattr(again.steps[key], n) for n in names] == [getattr(state, n) for n in names], key
    assert again.lanes == live.lanes == 8


def test_the_attempt_is_written_before_the_lamp_is_told_to_light(shipped):
    lit_at_write: list[int] = []
    known = ChildMastery(Neighbours(shipped.skills))
    session = Session(shipped, known, MIRA, Where(), Random(1), Clock(), lambda a: lit_at_write.append(session.lit))
    while (task := session.next_task()) is not None:
        session.answer(KINDS[task.kind].respond(task, task.answer), 1.0)
    assert lit_at_write == list(range(TASKS_A_LANE))


def test_a_right_answer_names_the_number(shipped):
    known = ChildMastery(Neighbours(shipped.skills))
    session = Session(shipped, known, MIRA, Where(), Random(1), Clock(), lambda a: None)
    while (task := session.next_task()) is not None:
        outcome = session.answer(KINDS[task.kind].respond(task, task.answer), 1.0)
        assert outcome.stage == "done"
        assert outcome.say and all(clip in phrases.all_clips() for clip in outcome.say + outcome.praise)
        assert str(task.number) in outcome.say[0] or str(task.answer) in outcome.say[0]


def test_answering_with_no_task_open_is_told_to_the_developer(shipped):
    session, _ = play(shipped)
    with pytest.raises(RuntimeError, match="next_task"):
        session.answer(None, 1.0)


def test_a_clock_that_is_set_back_never_turns_the_order_of_attempts_round(shipped):
    times = iter([EVENING + timedelta(minutes=m) for m in (0, 5, 3, -600, 7)] + [EVENING] * 50)
    lines = play(shipped, clock=lambda: next(times))[1]
    assert [a.at for a in lines] == sorted(a.at for a in lines)
    assert [a.attempt_id for a in lines] == sorted(a.attempt_id for a in lines)


def test_no_two_tasks_of_a_step_running_show_the_same_number(shipped):
    known = ChildMastery(Neighbours(shipped.skills))
    session = Session(shipped, known, MIRA, Where(), Random(8), Clock(), lambda a: None)
    last: dict[str, int] = {}
    while (task := session.next_task()) is not None:
        assert last.get(task.step.key) != task.number
        last[task.step.key] = task.number
        session.answer(KINDS[task.kind].respond(task, task.answer), 1.0)


def test_a_step_that_stays_stuck_rests_and_comes_back_with_the_way_shown_first(shipped: Levels):
    def stuck_on_first_step(task, tries):
        return task.answer if tries > 1 or task.step.key != "count_set.three_in_a_line" else (task.answer + 1) % 11

    mastery, lines = play_days(shipped, list(range(12)), stuck_on_first_step, seed=2)
    lanes = [a.lane for a in lines]
    order = sorted(set(lanes), key=lanes.index)
    missed = [order.index(a.lane) for a in lines if a.key == "count_set.three_in_a_line" and a.first_try]
    state = mastery.steps["count_set.three_in_a_line"]
    assert state.tries >= mastery_.STUCK_TRIES
    stuck_in = missed[mastery_.STUCK_TRIES - 1]
    resting = {stuck_in + 1, stuck_in + 2}
    others = [a for a in lines if order.index(a.lane) in resting and a.key == "count_set.three_in_a_line"]
    assert others == []
    back = next(a for a in lines if order.index(a.lane) > stuck_in and a.key == "count_set.three_in_a_line")
    assert back.reason == "after a rest"
    assert back.help == "together" and not back.first_try


def test_right_and_slow_is_as_good_as_right_and_quick(shipped):
    def lane(seconds):
        known = ChildMastery(Neighbours(shipped.skills))
        session = Session(shipped, known, MIRA, Where(), Random(1), Clock(), lambda a: None)
        while (task := session.next_task()) is not None:
            session.answer(KINDS[task.kind].respond(task, right(task, 0)), seconds)
        return {k: s.known for k, s in known.steps.items()}

    assert lane(0.4) == lane(400.0)
