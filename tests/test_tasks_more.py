"""The further kinds of mini-task: what they ask, how they judge, which error they name."""

from __future__ import annotations

import math
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words

from game.core import layout, phrases
from game.core.records import Step, Verdict
from game.core.tasks import (
    KINDS,
    count_out,
    number_track,
    number_words,
    one_fewer,
    one_more,
    see_at_once,
    take_apart,
    which_more,
)

SEEDS = st.integers(0, 9999)


def step(kind: str, numbers, way: str = "", near: bool = False, arrangements=(), form="choice3") -> Step:
    return Step("s", "x", "X", kind, form, tuple(numbers), way, "K.CC.B.5", arrangements, near)


def made(kind, numbers, way: str = "", seed: int = 1, form="choice3", **more):
    return kind.make(step(kind.KIND.id, numbers, way, **more), form, "new", Random(seed), None)


# One more


@given(st.integers(0, 9), st.sampled_from(["add", "covered", "numeral"]), SEEDS)
def test_the_next_number_is_one_larger(n, way, seed):
    # K.CC.B.4c (Common Core State Standards for Mathematics, 2010; seen)
    task = made(one_more, [n], way, seed)
    assert task.answer == n + 1 and task.answer in task.choices
    assert one_more.judge(task, one_more.MoreResponse(n + 1)).right
    assert one_more.judge(task, one_more.MoreResponse(n)).error == one_more.SAME


@given(st.integers(0, 9), SEEDS)
def test_one_fewer_undoes_one_more(n, seed):
    more = made(one_more, [n], "numeral", seed)
    fewer = made(one_fewer, [more.answer], "numeral", seed)
    assert fewer.answer == n


def test_one_down_is_told_apart_from_one_up():
    task = made(one_more, [5], "numeral", form="constructed")
    errors = [one_more.judge(task, one_more.MoreResponse(n)).error for n in (4, 5, 7, 9)]
    assert errors == [one_more.ONE_FEWER, one_more.SAME, "one too many", "another number"]


# See at once


@given(st.integers(0, 10), SEEDS)
def test_what_shows_for_a_moment_shows_less_long_than_counting_takes_and_longer_than_a_flash(n, seed):
    # Adults count beyond four things at 250-350 ms each (Trick & Pylyshyn 1994, abstract), children slower
    task = made(see_at_once, [n], "dots", seed, arrangements=("dice",))
    assert 1.0 <= task.glance_s <= 2.0
    assert len(task.places) == n


def test_looking_again_is_told_in_the_log_and_changes_nothing_else():
    task = made(see_at_once, [7], "frame")
    plain = see_at_once.judge(task, see_at_once.SeeResponse(7))
    again = see_at_once.judge(task, see_at_once.SeeResponse(7, looked_again=True))
    assert plain == Verdict(True, "7") and again == Verdict(True, "7, looked again")


def test_the_rest_without_the_five_is_told_apart():
    # Six to ten are five and some more (National Research Council 2009, Box 5-7, seen)
    for n in (6, 7, 8, 9):
        task = made(see_at_once, [n], "fingers")
        assert see_at_once.judge(task, see_at_once.SeeResponse(n - 5)).error == see_at_once.WITHOUT_FIVE
    frame = made(see_at_once, [4], "frame")
    assert see_at_once.judge(frame, see_at_once.SeeResponse(6)).error == see_at_once.EMPTY
    dots = made(see_at_once, [4], "dots")
    assert see_at_once.judge(dots, see_at_once.SeeResponse(6)).error == "another number"


@pytest.mark.parametrize("n", range(11))
def test_dice_do_not_touch_and_stay_on_the_card(n):
    places = layout.arrange("dice", n, Random(1))
    assert len(places) == n
    assert all(layout.SET_BOX.inside(p, layout.SET_SIZE / 2) for p in places)
    assert all(math.dist(a, b) >= layout.SET_SIZE for i, a in enumerate(places) for b in places[:i])


def test_six_to_ten_on_dice_are_five_and_the_rest():
    for n in range(6, 11):
        places = layout.arrange("dice", n, Random(1))
        middle = layout.SET_BOX.centre[0]
        assert sum(x < middle for x, _ in places) == 5


# Count out


@pytest.mark.parametrize(
    ("asked", "placed", "error"),
    [
        (4, 4, ""),
        (4, 5, "one too many"),
        (4, 3, "one too few"),
        (4, 8, "another number"),
        (4, 12, count_out.ALL),
        (4, 0, count_out.NONE_PUT),
        (1, 0, count_out.NONE_PUT),
        (0, 0, ""),
        (0, 1, "one too many"),
        (10, 12, count_out.ALL),
    ],
)
def test_counting_out(asked, placed, error):
    task = made(count_out, [asked])
    assert count_out.judge(task, count_out.CountOutResponse(placed)) == Verdict(not error, str(placed), error)


def test_the_hint_tells_whether_too_many_or_too_few_lie_there():
    task = made(count_out, [4])
    few, many = (count_out.judge(task, count_out.CountOutResponse(n)) for n in (2, 6))
    assert count_out.hint(task, few)[0] == phrases.HINT_TOO_FEW
    assert count_out.hint(task, many)[0] == phrases.HINT_TOO_MANY
    empty = made(count_out, [0])
    assert count_out.hint(empty, few) == (phrases.HINT_EMPTY_TRAY,)


def test_the_pile_holds_more_than_ten_and_nothing_touches():
    task = made(count_out, [10])
    assert len(task.pile) == len(task.slots) == count_out.PILE > 10
    places = [*task.pile, *task.slots]
    assert all(math.dist(a, b) >= layout.SET_SIZE for i, a in enumerate(places) for b in places[:i])
    assert all(count_out.TRAY_BOX.inside(p) for p in task.slots)


# Which has more


def pairs(way: str, count: int, near: bool = False, numbers=range(1, 11)):
    last = None
    for seed in range(count):
        of = step("which_more", numbers, way, near, ("array", "scattered"))
        last = which_more.make(of, "choice3", "new", Random(seed), last)
        yield last


def test_comparing_is_the_same_from_both_sides():
    # Compare is antisymmetric: left more than right is right fewer than left (K.CC.C.6, C.7; seen)
    other = {which_more.LEFT: which_more.RIGHT, which_more.RIGHT: which_more.LEFT, which_more.SAME: which_more.SAME}
    for a in range(11):
        for b in range(11):
            more, turned = which_more._answer((a, b), "more"), which_more._answer((b, a), "more")
            assert turned == other[more]
            assert which_more._answer((a, b), "fewer") == other[more]
            assert (more == which_more.SAME) == (a == b)
            assert (more == which_more.LEFT) == (a > b)


def test_equal_sets_come_and_either_side_is_right_as_often():
    answers = [task.answer for task in pairs("sets", 1200)]
    same, left, right = (answers.count(side) / 1200 for side in (which_more.SAME, which_more.LEFT, which_more.RIGHT))
    assert 0.2 < same < 0.32
    assert abs(left - right) < 0.08


def test_neither_size_nor_room_tells_which_has_more():
    larger_things, wider, unequal = 0, 0, 0
    for task in pairs("sets", 1500):
        if task.numbers[0] == task.numbers[1] or min(task.numbers) < 2:
            continue
        unequal += 1
        more = task.numbers.index(max(task.numbers))
        larger_things += task.sizes[more] > task.sizes[1 - more]
    assert abs(larger_things / unequal - 0.5) < 0.06
    scattered = step("which_more", range(4, 11), "sets", False, ("scattered",))
    for seed in range(600):
        task = which_more.make(scattered, "choice3", "new", Random(seed), None)
        if task.numbers[0] != task.numbers[1]:
            wide = [max(x for x, _ in side) - min(x for x, _ in side) for side in task.places]
            wider += 1 if wide[task.numbers.index(max(task.numbers))] == max(wide) else -1
    assert abs(wider) / 600 < 0.3, "more things may fill a place a little better, no more than that"


def test_all_that_is_compared_lies_in_its_half_and_apart():
    boxes = [which_more.LEFT_BOX, which_more.RIGHT_BOX]
    for arrangement in which_more.KIND.arrangements:
        last = None
        for seed in range(150):
            of = step("which_more", range(11), "sets", arrangements=(arrangement,))
            last = task = which_more.make(of, "choice3", "new", Random(seed), last)
            for side in (0, 1):
                size, places = task.sizes[side], task.places[side]
                assert len(places) == task.numbers[side]
                assert all(boxes[side].inside(p, size / 2) for p in places)
                assert all(math.dist(a, b) >= size for i, a in enumerate(places) for b in places[:i])


@pytest.mark.parametrize(
    ("numbers", "ask", "side", "error"),
    [
        ((3, 5), "more", 1, ""),
        ((3, 5), "more", 0, which_more.FEWER_FOR_MORE),
        ((3, 5), "fewer", 1, which_more.MORE_FOR_FEWER),
        ((3, 5), "fewer", 2, which_more.CALLED_SAME),
        ((4, 4), "more", 2, ""),
        ((4, 4), "more", 0, which_more.WERE_SAME),
        ((0, 1), "fewer", 0, ""),
    ],
)
def test_errors_in_comparing_are_told_apart(numbers, ask, side, error):
    from dataclasses import replace

    task = replace(next(pairs("numerals", 1)), numbers=numbers, ask=ask, answer=which_more._answer(numbers, ask))
    verdict = which_more.judge(task, which_more.WhichResponse(side))
    assert (verdict.right, verdict.error) == (not error, error)


def test_near_pairs_are_one_or_two_apart_and_others_are_not():
    assert all(abs(t.numbers[0] - t.numbers[1]) <= 2 for t in pairs("sets", 300, near=True))
    assert all(abs(t.numbers[0] - t.numbers[1]) != 1 for t in pairs("sets", 300))


# The number track


@given(st.integers(0, 10), SEEDS)
def test_a_gap_is_the_number_between_its_neighbours(n, seed):
    task = made(number_track, [n], "gap", seed)
    filled = [n if shown is None else shown for shown in task.track]
    assert filled == list(range(filled[0], filled[0] + number_track.PIECE)) and task.track.count(None) == 1
    assert filled[0] >= 0 and filled[-1] <= 10


@given(st.integers(1, 10), SEEDS)
def test_the_next_number_follows_what_is_said(n, seed):
    task = made(number_track, [n], "next", seed)
    assert [int(clip.rsplit("_", 1)[1]) for clip in task.prompt[:-1]] == list(range(max(0, n - 3), n))
    assert task.answer == n


@given(st.integers(0, 9), SEEDS)
def test_counting_on_lands_within_ten(n, seed):
    task = made(number_track, [n], "count_on", seed)
    assert 1 <= task.steps <= 3 and task.answer == n + task.steps <= 10
    start_counted = number_track.judge(task, number_track.TrackResponse(task.answer - 1))
    assert start_counted.error == number_track.START_COUNTED


# Number words


def test_words_are_english_and_read_both_ways():
    # reference: num2words (PyPI)
    assert list(number_words.WORDS) == [num2words(n) for n in range(11)]
    for n in range(11):
        for way in ("heard", "read", "word"):
            task = made(number_words, [n], way)
            assert task.word == num2words(n) and number_words.judge(task, number_words.WordResponse(n)).right


def test_words_that_begin_alike_are_offered_and_told_apart():
    assert number_words.alike(4) == (5,) and number_words.alike(6) == (7,) and number_words.alike(2) == (3, 10)
    task = made(number_words, range(11), "read", 3)
    offered = [made(number_words, [6], "read", seed).choices for seed in range(60)]
    assert sum(7 in numerals for numerals in offered) > 20
    for n in number_words.alike(task.number):
        assert number_words.judge(task, number_words.WordResponse(n)).error == number_words.SAME_BEGINNING


def test_a_word_is_always_chosen_among_words():
    task = made(number_words, [6], "word", form="constructed")
    assert task.form == "choice3" and len(task.choices) == 3
    assert number_words.judge(task, number_words.WordResponse(7)).answered == "seven"


# Take a number apart


def test_nine_pairs_make_ten_on_the_frame():
    # K.OA.A.4 (seen)
    pairs_of_ten = {(t.part, t.answer) for n in range(1, 10) if (t := made(take_apart, [n], "pair"))}
    assert pairs_of_ten == {(a, 10 - a) for a in range(1, 10)}


@given(st.integers(1, 10), SEEDS)
def test_a_number_comes_apart_in_one_way_more_than_it_counts(n, seed):
    # computed: in order and with 0 there are n + 1 ways; K.OA.A.3 (seen): in more than one way
    task = made(take_apart, [n], "another", seed)
    ways = [a for a in range(-1, 12) if take_apart.judge(task, take_apart.ApartResponse(a)).right]
    assert len(ways) + 1 == n + 1 and task.part not in ways
    assert task.form == "constructed" and task.choices == ()
    again = take_apart.judge(task, take_apart.ApartResponse(task.part))
    assert again.error == take_apart.SAME_WAY


def test_a_child_hears_the_parts_it_showed_itself():
    task = made(take_apart, [7], "another")
    assert take_apart.own_way(task, take_apart.ApartResponse(0)) == (phrases.parts(7, 0),)
    assert take_apart.confirm(task) == (phrases.in_all(7),)


@given(st.integers(1, 10), SEEDS)
def test_the_hidden_part_and_the_one_that_shows_make_the_whole(n, seed):
    task = made(take_apart, [n], "part", seed, form="constructed")
    assert task.part + task.answer == task.whole == n
    if task.part != task.answer:
        assert take_apart.judge(task, take_apart.ApartResponse(task.part)).error == take_apart.OTHER_PART


# All of them


@pytest.mark.parametrize("kind", ["one_more", "see_at_once", "count_out", "which_more", "number_track", "number_words",
                                  "take_apart"])  # fmt: skip
def test_every_task_is_right_with_its_answer_wrong_with_another_and_speaks_known_clips(kind):
    of, known = KINDS[kind], phrases.all_clips()
    for way in of.ways:
        low, high = of.span(way)
        for form in of.forms:
            last = None
            for seed in range(40):
                task = last = of.make(step(kind, range(low, high + 1), way), form, "new", Random(seed), last)
                assert of.judge(task, of.respond(task, task.answer)).right is True
                wrong = of.judge(task, of.respond(task, (task.answer + 1) % 11))
                assert wrong.right is False and wrong.error
                said = {*task.prompt, *of.hint(task, wrong), *of.confirm(task), *of.praise}
                assert said <= known, said - known
                assert not task.choices or task.answer in task.choices
