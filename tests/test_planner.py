"""The planner: what is open, what fades, what rests, each choice for a reason that a teacher can read."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest
from hmmlearn.hmm import CategoricalHMM
from hypothesis import given, settings
from hypothesis import strategies as st

from game.commands import explain
from game.core import mastery, planner
from game.core.levels import Levels
from game.core.mastery import ChildMastery, Evidence, Neighbours, learn, trace
from game.core.records import Skill, Step
from tests.conftest import MIRA, play_days, right, wrong_twice

DAY = 739_000


def step(skill: str, name: str, *needs: str, form="choice3", task="count_set") -> Step:
    return Step(skill, name, f"{skill} {name}", task, form, (1, 2, 3), "", "K.CC.B.5", ("line",), needs=needs)


LEVELS = Levels(
    (
        Skill("count", "Count", (step("count", "a"), step("count", "b", "count.a"), step("count", "c", "count.b"))),
        Skill("words", "Words", (step("words", "a", "count.a"), step("words", "b", "words.a", form="constructed"))),
        Skill("tray", "Tray", (step("tray", "a", "count.b", form="constructed", task="count_out"),)),
    )
)


def child() -> ChildMastery:
    return ChildMastery(Neighbours(LEVELS.skills))


def tell(known: ChildMastery, key: str, answers: str, day: int = DAY, lane: str = "one", form="choice3") -> None:
    """`answers`: + for right, - for wrong."""
    for sign in answers:
        known.observe(Evidence(day, "Mira", key, form, sign == "+", lane))


def lane_of(known: ChildMastery, day: int = DAY, number: int = 1, seed: int = 1) -> list[planner.Choice]:
    done: list[planner.Choice] = []
    for _ in range(10):
        done.append(planner.choose(LEVELS, known, day, number, done, Random(seed + len(done))))
    return done


def keys(steps) -> list[str]:
    return [s.key for s in steps]


def test_only_steps_whose_needs_are_there_are_open():
    known = child()
    assert keys(planner.outlook(LEVELS, known, DAY, 1).ready) == ["count.a"]
    tell(known, "count.a", "+++++")
    assert keys(planner.outlook(LEVELS, known, DAY, 1).ready) == ["count.b", "words.a"]


def test_a_first_lane_is_new_then_practised():
    choices = lane_of(child())
    assert {c.step.key for c in choices} == {"count.a"}
    assert {c.reason for c in choices} == {"new"}, "nothing was observed, so it stays new"
    known = child()
    tell(known, "count.a", "-")
    assert lane_of(known)[0].reason == "practise"


def test_what_fades_comes_back_three_times_a_lane_and_the_lowest_first():
    known = child()
    for key in ("count.a", "words.a", "count.b"):
        tell(known, key, "+++++++")
    tell(known, "count.a", "+", DAY + 1, "two")
    later = DAY + 12
    fading = planner.outlook(LEVELS, known, later, 3).fading
    assert len(fading) == 3 and fading[-1].key == "count.a", "practice on a later day made it last"
    reviewed = [c.step.key for c in lane_of(known, later, 3) if c.reason == "review"]
    assert reviewed == keys(fading)


def test_reviews_are_spread_over_the_lane():
    known = child()
    for key in ("count.a", "words.a", "count.b"):
        tell(known, key, "+++++++")
    turns = [i for i, c in enumerate(lane_of(known, DAY + 12, 3)) if c.reason == "review"]
    assert turns == [1, 4, 7]


def test_a_stuck_step_rests_two_lanes_and_then_the_way_is_shown_first():
    known = child()
    tell(known, "count.a", "++++++")
    tell(known, "count.b", "-" * mastery.STUCK_TRIES, lane="two")
    for number in (2, 3, 4):
        assert keys(planner.outlook(LEVELS, known, DAY, number).resting) == ["count.b"]
        chosen = lane_of(known, DAY, number)
        assert "count.b" not in {c.step.key for c in chosen}
        assert [c.step.key for c in chosen if c.reason == "step back"] == ["count.a"], "its need, once a lane"
    back = [c for c in lane_of(known, DAY, 5) if c.step.key == "count.b"]
    assert back[0].worked and back[0].reason == "after a rest"
    assert not any(c.worked for c in back[1:]), "shown once a lane"


def test_a_child_for_whom_all_that_is_open_rests_is_not_sent_to_what_it_cannot_begin():
    known = child()
    tell(known, "count.a", "-" * mastery.STUCK_TRIES)
    assert {c.step.key for c in lane_of(known, DAY, 2)} == {"count.a"}


def test_an_answer_to_make_is_one_of_three_while_it_is_unlikely_known():
    known = child()
    for key in ("count.a", "count.b", "count.c", "words.a"):
        tell(known, key, "+++++++")
    forms = {c.step.key: c.form for seed in range(9) for c in lane_of(known, DAY, 2, seed)}
    assert forms["words.b"] == "choice3"
    tell(known, "words.b", "+++")
    choice = planner._choice(LEVELS.step("words.b"), "practise", known, DAY, planner.RULES)
    assert choice.form == "constructed"


def test_a_kind_without_choices_stays_as_it_is():
    choice = planner._choice(LEVELS.step("tray.a"), "new", child(), DAY, planner.RULES)
    assert choice.form == "constructed"


def test_no_step_comes_three_times_running_while_there_is_another():
    known = child()
    tell(known, "count.a", "+++++")
    for seed in range(200):
        chosen = keys(c.step for c in lane_of(known, DAY, 2, seed))
        assert not any(a == b == c for a, b, c in zip(chosen, chosen[1:], chosen[2:], strict=False))


def next_after(known: ChildMastery, *sofar: planner.Choice, day: int = DAY, number: int = 1) -> planner.Choice:
    return planner.choose(LEVELS, known, day, number, sofar, Random(1))


def test_after_a_miss_comes_what_the_child_can_do_each_step_once_a_lane():
    known = child()
    tell(known, "count.a", "++++++")
    tell(known, "words.a", "+++++++")
    first = next_after(known)
    tell(known, "count.b", "-")
    sure = next_after(known, first)
    assert sure.reason == "a sure one" and sure.step.key == "count.a", "what fades most of what is sure"
    tell(known, "count.a", "+")
    assert next_after(known, first, sure).reason != "a sure one", "a right answer ends it"
    tell(known, "count.b", "-")
    other = next_after(known, first, sure)
    assert other.reason == "a sure one" and other.step.key == "words.a"
    assert next_after(known, first, sure, other).reason != "a sure one", "nothing else is sure"


def test_a_miss_of_the_lane_before_is_forgotten():
    known = child()
    tell(known, "count.a", "++++++")
    tell(known, "count.b", "-", lane="one")
    assert next_after(known, number=2).reason != "a sure one"


def test_when_all_is_there_it_is_kept_fresh():
    known = child()
    for key in [s.key for s in LEVELS.steps]:
        tell(known, key, "++++++++", form=LEVELS.step(key).form)
    assert {c.reason for c in lane_of(known)} == {"keep"}
    assert len({c.step.key for c in lane_of(known)}) > 2


def test_no_levels_is_one_clear_sentence():
    with pytest.raises(ValueError, match="no level has a step"):
        planner.choose(Levels(()), child(), DAY, 1, [], Random(1))


def test_a_mixed_evening_takes_every_step_done_before_once_and_kinds_in_turn():
    known = child()
    for day, key in enumerate(["count.a", "count.b", "count.c", "tray.a"]):
        tell(known, key, "+++++", DAY + day)
    done: list[planner.Choice] = []
    for turn in range(4):
        done.append(planner.mixed(LEVELS, known, DAY + 9, 5, done, Random(turn)))
    assert sorted(c.step.key for c in done) == ["count.a", "count.b", "count.c", "tray.a"]
    assert {c.reason for c in done} == {"mixed"}
    assert "tray.a" in keys(c.step for c in done[:2]), "another kind comes before the same kind again"
    assert done[0].step.key == "count.a", "what was longest ago comes first"


def test_a_mixed_evening_of_a_new_child_is_a_usual_one():
    assert planner.mixed(LEVELS, child(), DAY, 1, [], Random(1)).reason == "new"


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 5), st.booleans(), st.integers(0, 3)), max_size=80), st.integers(0, 30))
def test_whatever_the_log_holds_every_choice_can_be_explained(answers, later):
    known, day = child(), DAY
    for place, was_right, days in answers:
        day += days
        tell(known, LEVELS.steps[place].key, "+" if was_right else "-", day, str(day))
    for choice in lane_of(known, day + later, known.lanes + 1):
        assert choice.reason in planner.REASON_WORDS
        if choice.reason in ("new", "practise", "after a rest"):
            assert all(planner.mastered(known, need, day + later) for need in choice.step.needs)
        if choice.reason == "review":
            assert planner.chance(known, choice.step.key, day + later) < mastery.DUE
        if choice.reason == "step back":
            resting = planner.outlook(LEVELS, known, day + later, known.lanes + 1).resting
            assert any(choice.step.key in stuck.needs for stuck in resting)
    parts = planner.outlook(LEVELS, known, day + later, known.lanes + 1)
    sorted_out = [*parts.ready, *parts.resting, *parts.fading, *parts.held, *parts.waiting]
    assert sorted(keys(sorted_out)) == sorted(keys(LEVELS.steps)), "each step stands in one list"


def test_a_teacher_reads_why_each_task_of_the_last_lane_came(shipped):
    _, lines = play_days(shipped, [0, 2, 9], right)
    told = list(explain.last_lane(shipped, lines))
    chosen = [line for line in told if "Chosen because" in line]
    assert len(chosen) == 10
    assert any(planner.REASON_WORDS["review"] in line for line in chosen)
    titles = {s.title for s in shipped.steps}
    assert all(any(title in line for title in titles) for line in told[1::2])


def test_a_teacher_reads_what_rests_and_what_waits(shipped):
    _, lines = play_days(shipped, list(range(8)), wrong_twice)
    evenings = sorted({a.at.date() for a in lines})
    told = ["\n".join(explain.standing(MIRA.nickname, shipped, lines, evening)) for evening in evenings]
    assert told[0].startswith("Mira, 2026-03-02: 1 lane so far.")
    assert any("Resting: many tries" in text and "more lane" in text for text in told)
    assert all("waits for" in text for text in told)


FORMS = ("choice3", "choice4", "constructed")


def chances(answers, start: float, rate: float, guess: dict[str, float], slip: float) -> list[float]:
    """P(known) before each answer."""
    known, unknown, out = start, 1 - start, []
    for form, was_right in answers:
        out.append(known)
        known, unknown = learn(*trace(known, unknown, was_right, guess[form], slip), rate)
    return out


def test_mixed_forms_agree_with_a_reference():
    # reference: pyBKT 1.4.3 (PyPI; computed): Model with multigs by form and these parameters set, state_predictions.
    # Over 120 random sequences with random parameters the largest difference was 2.3e-16.
    guess = {"choice3": 0.38, "choice4": 0.30, "constructed": 0.08}
    table = [
        (
            "3+ 4- o+ 3- 4+ o+ o- 3-",
            [0.2, 0.4356118143459915, 0.2448893858025257, 0.8020597565962977, 0.5556295679610733, 0.8062838208454173,
             0.9805409973992402, 0.9045115723781989],
        ),
        (
            "3- 4+ o- 4+ o- 4- 4+ o+",
            [0.2, 0.17019011406844106, 0.4434266504376051, 0.22116870888541976, 0.512356274586452, 0.24870194620084937,
             0.17828807700554822, 0.45502487929113944],
        ),
        (
            "3+ 4+ o- 3+ o- 4- 4+ 4+",
            [0.2, 0.4356118143459915, 0.723865438451072, 0.38349701070230624, 0.6320197116933064, 0.3125178234718975,
             0.19811241358999315, 0.48235187592063516],
        ),
    ]  # fmt: skip
    form_of = {"3": "choice3", "4": "choice4", "o": "constructed"}
    for answers, expected in table:
        told = [(form_of[a[0]], a[1] == "+") for a in answers.split()]
        assert chances(told, 0.2, 0.12, guess, 0.15) == pytest.approx(expected, abs=1e-12)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.sampled_from(FORMS), st.booleans()), min_size=1, max_size=25),
    st.floats(0.05, 0.6),
    st.floats(0.02, 0.4),
    st.tuples(st.floats(0.2, 0.45), st.floats(0.15, 0.35), st.floats(0.02, 0.15)),
    st.floats(0.05, 0.3),
)
def test_mixed_forms_agree_with_hmmlearn(answers, start, rate, guesses, slip):
    # reference: hmmlearn (PyPI); a form and its answer make one of six symbols, each form a third of the time
    guess = dict(zip(FORMS, guesses, strict=True))
    model = CategoricalHMM(2, n_features=6, init_params="", params="")
    model.startprob_ = np.array([1 - start, start])
    model.transmat_ = np.array([[1 - rate, rate], [0.0, 1.0]])
    unknown = [p / 3 for f in FORMS for p in (1 - guess[f], guess[f])]
    model.emissionprob_ = np.array([unknown, [slip / 3, (1 - slip) / 3] * 3])
    symbols = np.array([[2 * FORMS.index(form) + was_right] for form, was_right in answers])
    filtered = [model.predict_proba(symbols[:n])[-1, 1] for n in range(1, len(symbols) + 1)]
    before_next = [start, *(p + (1 - p) * rate for p in filtered[:-1])]
    assert chances(answers, start, rate, guess, slip) == pytest.approx(before_next, abs=1e-12)


def test_simulated_learners_know_nothing_of_the_model_and_are_the_same_for_every_way():
    import ast
    import inspect

    from tests.bench import learning_worlds

    tree = ast.parse(inspect.getsource(learning_worlds))
    modules = {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    assert not modules & {"game.core.mastery", "game.core.planner"}
    for world in learning_worlds.worlds():
        one, same = (learning_worlds.learner(LEVELS.steps, world, 7) for _ in range(2))
        turns = [(place % 6, "choice3", False) for place in range(60)]
        assert [one.answer(*turn) for turn in turns] == [same.answer(*turn) for turn in turns]


def test_in_every_world_a_learner_learns_and_forgets():
    from tests.bench import learning_worlds

    for world in learning_worlds.worlds():
        learners = [learning_worlds.learner(LEVELS.steps, world, n) for n in range(60)]
        known = []
        for practice, away in ((0, 0), (30, 0), (0, 60)):
            for child in learners:
                for _ in range(practice):
                    child.answer(0, "choice3", False)
                child.rest(away)
            known.append(sum(child.knows(0) for child in learners))
        assert known[0] < known[1] > known[2], (world.name, world.truth, known)
