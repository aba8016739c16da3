"""The first four kinds of mini-task: what they ask, how they judge, which error they name."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words

from game.core import phrases
from game.core.records import Step, Verdict
from game.core.tasks import KINDS, count_set, make_ten, one_fewer, pick_numeral
from game.core.tasks.count_set import CountResponse
from game.core.tasks.kind import choices

FORMS = st.sampled_from(["choice3", "choice4", "constructed"])


def step(kind: str, numbers=(0, 1, 2, 3), form="choice3", way="", near=False, arrangements=("line",)) -> Step:
    return Step("s", "x", "X", kind, form, tuple(numbers), way, "K.CC.B.5", arrangements, near)


def set_of(n: int, seed: int = 1, arrangement: str = "scattered") -> count_set.CountSet:
    return count_set.make(step("count_set", [n], arrangements=(arrangement,)), "choice3", "new", Random(seed), None)


@given(st.integers(0, 10), st.integers(0, 999), st.randoms())
def test_neither_order_nor_place_changes_a_count(n, seed, shuffler):
    # K.CC.B.4b (Common Core State Standards for Mathematics, 2010; seen): the number is the same whatever the
    # arrangement or the order in which the objects were counted
    order = list(range(n))
    shuffler.shuffle(order)
    for arrangement in ("line", "array", "circle", "scattered"):
        task = set_of(n, seed, arrangement)
        assert len(task.places) == task.answer == n
        assert count_set.judge(task, CountResponse(n, tuple(order))) == Verdict(True, str(n))


def test_a_set_is_within_ten():
    # K.CC.B.5 (seen): to 10 in a scattered configuration
    with pytest.raises(ValueError):
        set_of(11)


@pytest.mark.parametrize(
    ("n", "touched", "answer", "error"),
    [
        # each error breaks one counting principle (Gelman & Gallistel 1978; copy)
        (4, (0, 1, 2, 1, 3), 5, count_set.TWICE),
        (4, (0, 1, 2), 3, count_set.LEFT_OUT),
        (4, (0, 1, 2, 3), 3, count_set.CARDINALITY),
        (4, (0, 1, 2, 3, None), 5, count_set.WENT_ON),
        (4, (0, 1, 2, 3), 6, count_set.WENT_ON),
        (4, (), 5, "one too many"),
        (4, (), 3, "one too few"),
        (4, (), 9, "another number"),
        (0, (), 1, "one too many"),
        (0, (None,), 1, count_set.WENT_ON),
        (1, (), 0, "one too few"),
    ],
)
def test_kinds_of_counting_error_are_told_apart(n, touched, answer, error):
    assert count_set.judge(set_of(n), CountResponse(answer, touched)) == Verdict(False, str(answer), error)


def test_zero_is_a_number():
    empty = set_of(0)
    assert empty.places == () and empty.answer == 0
    assert count_set.judge(empty, CountResponse(0)).right
    assert empty.prompt and count_set.confirm(empty) == (phrases.total(0, empty.thing),)
    one = one_fewer.make(step("one_fewer", [1], way="take"), "choice3", "new", Random(1), None)
    assert one.answer == 0 and 0 in one.choices
    ten = make_ten.make(step("make_ten", [10], way="folded"), "choice3", "new", Random(1), None)
    assert ten.answer == 0 and make_ten.judge(ten, make_ten.MakeTenResponse(0)).right
    zero = pick_numeral.make(step("pick_numeral", [0], way="heard"), "choice3", "new", Random(1), None)
    assert pick_numeral.judge(zero, pick_numeral.PickResponse(0)).right


def test_a_step_that_is_met_for_the_first_time_begins_with_something_to_see():
    wide = step("count_set", [0, 1, 2])
    first = {count_set.make(wide, "choice3", "new", Random(n), None).number for n in range(40)}
    later = {count_set.make(wide, "choice3", "practise", Random(n), None).number for n in range(40)}
    assert first == {1, 2} and later == {0, 1, 2}


def test_nine_pairs_make_ten():
    # K.OA.A.4 (seen): for any number from 1 to 9, find the number that makes 10
    pairs = set()
    for n in range(1, 10):
        for way in ("raise", "folded", "numeral"):
            task = make_ten.make(step("make_ten", [n], way=way), "choice4", "new", Random(n), None)
            assert task.number + task.answer == 10 and task.answer in task.choices
            assert make_ten.judge(task, make_ten.MakeTenResponse(task.answer)).right
            pairs.add((task.number, task.answer))
    assert len(pairs) == 9


@pytest.mark.parametrize(
    ("answer", "error"),
    [(7, make_ten.OTHER_PART), (10, make_ten.WHOLE), (4, "one too many"), (2, "one too few"), (6, "another number")],
)
def test_kinds_of_error_in_making_ten(answer, error):
    task = make_ten.make(step("make_ten", [7], way="numeral"), "constructed", "new", Random(1), None)
    assert make_ten.judge(task, make_ten.MakeTenResponse(answer)).error == error


@given(st.integers(1, 10), st.sampled_from(["take", "covered", "numeral"]), FORMS)
def test_one_fewer_comes_before_the_number(n, way, form):
    # K.CC.B.4c (seen), read backwards: each number is one larger than the one before
    task = one_fewer.make(step("one_fewer", [n], way=way), form, "new", Random(n), None)
    assert task.answer + 1 == task.number
    assert one_fewer.judge(task, one_fewer.FewerResponse(n - 1)).right
    assert one_fewer.judge(task, one_fewer.FewerResponse(n)).error == one_fewer.SAME


def test_six_and_nine_exchanged_is_told_apart():
    task = pick_numeral.make(step("pick_numeral", [6], way="heard"), "constructed", "new", Random(1), None)
    assert pick_numeral.judge(task, pick_numeral.PickResponse(9)).error == "6 and 9 exchanged"


@given(st.integers(0, 10), st.sampled_from(["choice3", "choice4"]), st.booleans(), st.integers(0, 9999))
def test_choices_hold_the_answer_once_and_nothing_silly(answer, form, near, seed):
    offered = choices(answer, form, near, Random(seed))
    assert len(offered) == (3 if form == "choice3" else 4)
    assert len(set(offered)) == len(offered) and answer in offered
    assert all(0 <= n <= 10 for n in offered) and list(offered) == sorted(offered)


def test_the_answers_place_among_the_choices_gives_nothing_away():
    for form, places in (("choice3", 3), ("choice4", 4)):
        counts = [0] * places
        for seed in range(3000):
            rng = Random(seed)
            answer = rng.randrange(11)
            counts[choices(answer, form, True, rng).index(answer)] += 1
        assert min(counts) > 0.6 * 3000 / places, counts


def test_number_words_are_english():
    # reference: num2words (PyPI)
    import tomllib

    from game import paths

    script = paths.data("sounds") / "en" / "script.toml"
    clips = tomllib.loads(script.read_text(encoding="utf-8"))["clips"]
    for n in range(11):
        assert clips[phrases.number(n)].strip(".").lower() == num2words(n)
        for thing in ("kite", "mitten"):
            assert clips[phrases.total(n, thing)].lower().startswith(num2words(n))


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_respond_gives_the_answer_and_the_answer_is_right(kind, shipped):
    for step_ in (s for s in shipped.steps if s.task == kind):
        for seed in range(20):
            task = KINDS[kind].make(step_, step_.form, "new", Random(seed), None)
            assert KINDS[kind].judge(task, KINDS[kind].respond(task, task.answer)).right is True
