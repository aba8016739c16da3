"""Mastery against an outside reference (hmmlearn), a worked example by hand, and its own rules."""

from __future__ import annotations

import numpy as np
import pytest
from hmmlearn.hmm import CategoricalHMM
from hypothesis import given, settings
from hypothesis import strategies as st

from game.core import mastery
from game.core.mastery import ChildMastery, Evidence, Neighbours, StepState, learn, trace
from game.core.records import Skill, Step


def hmm(start: float, rate: float, guess: float, slip: float, forget: float = 0.0) -> CategoricalHMM:
    """The same model as a hidden Markov chain of two states; column 0 of the emissions is a wrong answer."""
    model = CategoricalHMM(2, n_features=2, init_params="", params="")
    model.startprob_ = np.array([1 - start, start])
    model.transmat_ = np.array([[1 - rate, rate], [forget, 1 - forget]])
    model.emissionprob_ = np.array([[1 - guess, guess], [slip, 1 - slip]])
    return model


def filtered(model: CategoricalHMM, answers: list[bool]) -> list[float]:
    """P(known | answers so far) before the learning step, for each prefix (only the last row is filtered)."""
    column = np.array([[int(a)] for a in answers])
    return [model.predict_proba(column[: n + 1])[-1, 1] for n in range(len(answers))]


def traced(answers: list[bool], start: float, rate: float, guess: float, slip: float) -> list[float]:
    known, unknown, out = start, 1.0 - start, []
    for answer in answers:
        known, unknown = trace(known, unknown, answer, guess, slip)
        out.append(known)
        known, unknown = learn(known, unknown, rate)
    return out


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.booleans(), min_size=1, max_size=30),
    st.floats(0.05, 0.9),
    st.floats(0.02, 0.5),
    st.floats(0.05, 0.45),
    st.floats(0.05, 0.3),
)
def test_the_update_agrees_with_hmmlearn(answers, start, rate, guess, slip):
    # reference: hmmlearn (PyPI), forward filtering of a two-state chain
    assert traced(answers, start, rate, guess, slip) == pytest.approx(
        filtered(hmm(start, rate, guess, slip), answers), abs=1e-12
    )


def test_the_worked_example():
    # Worked by hand (computed): L0 .2, T .15, s .15, g .25; the first: .2 x .15 = .03; .8 x .75 = .60; .03 / .63
    answers = [False, True, True, False, True, True]
    after_answer, after_learning = [], []
    known, unknown = 0.2, 0.8
    for answer in answers:
        known, unknown = trace(known, unknown, answer, 0.25, 0.15)
        after_answer.append(known)
        known, unknown = learn(known, unknown, 0.15)
        after_learning.append(known)
    assert after_answer == pytest.approx([0.047619, 0.444444, 0.791667, 0.481707, 0.811947, 0.947007], abs=5e-7)
    assert after_learning == pytest.approx([0.190476, 0.527778, 0.822917, 0.559451, 0.840155, 0.954956], abs=5e-7)


def test_a_day_of_forgetting_is_a_step_back_of_the_chain():
    # reference: hmmlearn; forgetting between two days is a transition with [F, 1-F] and no learning
    days, state = 7, StepState()
    state.observe(100, "choice3", True, 1)
    forget = 1.0 - np.exp(-days / mastery.STABILITY_DAYS)
    before = state.known
    state.observe(100 + days, "choice4", True, 2)
    faded = before * (1.0 - forget)
    model = hmm(faded, mastery.LEARN, mastery.GUESS["choice4"], mastery.SLIP)
    assert state.known == pytest.approx(filtered(model, [True])[0] * (1 - mastery.LEARN) + mastery.LEARN, abs=1e-12)


def test_known_and_unknown_always_make_one():
    state = StepState()
    for n in range(2000):
        state.observe(n // 10, "constructed", n % 7 != 0, 1)
        assert state.known + state.unknown == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize("form", ["choice3", "choice4", "constructed"])
def test_right_raises_and_wrong_lowers_but_never_to_zero(form):
    up, down = StepState(), StepState()
    up.observe(1, form, True, 1)
    down.observe(1, form, False, 1)
    assert 0 < down.known < mastery.START < up.known < 1


def test_a_likely_guess_raises_less():
    known = {}
    for form in ("choice3", "choice4", "constructed"):
        state = StepState()
        state.observe(1, form, True, 1)
        known[form] = state.known
    assert known["choice3"] < known["choice4"] < known["constructed"]


def test_nearly_becomes_secure_only_on_a_later_day():
    state = StepState()
    for _ in range(12):
        state.observe(10, "choice3", True, 1)
    assert state.nearly_day == 10 and state.secure_day is None
    state.observe(12, "choice3", True, 2)
    assert state.secure_day == 12


def test_made_answers_need_five_of_the_last_six():
    state = StepState()
    state.observe(1, "constructed", True, 1)
    state.observe(1, "constructed", True, 1)
    assert state.nearly_day == 1
    state.observe(2, "constructed", True, 2)
    assert state.secure_day is None, "three rights are not five of six"
    for day in (3, 4):
        state.observe(day, "constructed", True, day)
    assert state.secure_day == 4


def test_time_lowers_slowly_and_practice_on_later_days_makes_it_last():
    fresh, kept = StepState(), StepState()
    for _ in range(10):
        fresh.observe(1, "choice3", True, 1)
    for day in range(1, 11):
        kept.observe(day, "choice3", True, day)
    assert fresh.chance(1 + 14) < kept.chance(10 + 14)
    assert fresh.chance(15) == pytest.approx(fresh.known * np.exp(-14 / 20))


def test_a_step_that_faded_far_is_practised_anew():
    state = StepState()
    for _ in range(10):
        state.observe(1, "choice3", True, 1)
    assert state.mastered(1) and not state.mastered(1 + 60)


def test_a_clock_set_back_neither_crashes_nor_raises():
    state = StepState()
    state.observe(50, "choice3", True, 1)
    before = state.chance(40)
    assert before == state.known
    state.observe(40, "choice3", True, 2)
    assert state.day == 50


def two_steps() -> list[Skill]:
    made = [Step("s", i, i, "count_set", "choice3", (1,), "", "K.CC.B.5") for i in ("low", "high")]
    return [Skill("s", "S", tuple(made))]


def test_a_right_answer_higher_up_supports_the_steps_below_and_a_wrong_one_doubts_those_above():
    child = ChildMastery(Neighbours(two_steps()))
    for key in ("s.low", "s.high"):
        child.observe(Evidence(1, "a", key, "choice3", True, "lane1"))
    low, high = child.steps["s.low"].known, child.steps["s.high"].known
    child.observe(Evidence(1, "a", "s.high", "choice3", True, "lane1"))
    assert child.steps["s.low"].known > low
    high = child.steps["s.high"].known
    child.observe(Evidence(1, "a", "s.low", "choice3", False, "lane1"))
    assert child.steps["s.high"].known == pytest.approx(high * mastery.DOUBT_ABOVE)


def test_twenty_five_tries_ask_the_teacher_to_look_together():
    child = ChildMastery(Neighbours(two_steps()))
    for n in range(25):
        child.observe(Evidence(n, "a", "s.low", "choice3", n % 3 == 0, f"lane{n}"))
    assert mastery.together_please(child.steps) == ("s.low",)
