"""The judge from outside: what it calls right, wrong, turned round, and what it says of strokes."""

from __future__ import annotations

import math
from itertools import pairwise
from random import Random

import pytest

from game.core.writing.formation import Ruling
from game.core.writing.judge import judge
from tests import writers

LINES = Ruling(*writers.RULING)
NUMERALS = "0123456789"


def ink(symbol, change=None, seed=5, style=0, **more):
    return writers.sample(symbol, Random(seed), change, style, **more)


@pytest.mark.parametrize("symbol", NUMERALS)
def test_a_proper_numeral_is_the_one_asked_and_needs_no_tip(symbol):
    verdict = judge(ink(symbol), symbol, "right", LINES)
    assert verdict.is_asked and verdict.sure and verdict.looks_like == symbol and verdict.margin > 1
    assert verdict.slip is None and not verdict.mirrored
    assert all(stroke.direction == "forward" and stroke.in_order for stroke in verdict.strokes)


@pytest.mark.parametrize("symbol", NUMERALS)
def test_another_numeral_is_named(symbol):
    other = str((int(symbol) + 3) % 10)
    verdict = judge(ink(other), symbol)
    assert not verdict.is_asked and verdict.looks_like == other and verdict.slip == "other symbol"
    assert verdict.margin < 0 and verdict.tip == f"This looks like {other}. We want {symbol}."


@pytest.mark.parametrize("symbol", "2345679")
def test_a_mirrored_numeral_is_found_forwards_and_backwards(symbol):
    for change in (writers.turned_round, lambda s, r: [p[::-1] for p in writers.turned_round(s, r)]):
        verdict = judge(ink(symbol, change), symbol)
        assert verdict.mirrored and not verdict.is_asked and verdict.slip == "mirrored" and verdict.margin < 0


@pytest.mark.parametrize("symbol", "018")
def test_a_numeral_that_is_its_own_mirror_image_is_never_called_turned_round(symbol):
    verdict = judge(ink(symbol, writers.turned_round), symbol)
    assert verdict.is_asked and not verdict.mirrored


@pytest.mark.parametrize(("symbol", "style"), [("1", 0), ("2", 0), ("3", 1), ("6", 0), ("7", 0), ("9", 0)])
def test_a_stroke_run_backwards_is_the_same_numeral_with_a_tip(symbol, style):
    verdict = judge(ink(symbol, writers.backwards(0), style=style), symbol)
    assert verdict.is_asked and verdict.strokes[0].direction == "reversed"
    assert verdict.slip in ("started at the bottom", "stroke reversed")


def test_an_eight_begun_anywhere_is_forward_and_one_turned_the_other_way_is_not():
    fine = writers.along(writers.NUMERALS["8"][0][0], 2)
    for share in (0.0, 0.2, 0.45, 0.7, 0.9):
        cut = int(share * len(fine))
        loop = fine[cut:] + fine[1 : cut + 1]
        for run, way in ((loop, "forward"), (loop[::-1], "reversed")):
            verdict = judge([[(x, y, 0) for x, y in run]], "8")
            assert verdict.is_asked and verdict.strokes[0].direction == way


def test_a_zero_turns_either_way_for_a_left_hand():
    clockwise = ink("0", writers.backwards(0))
    assert judge(clockwise, "0", "right").slip == "stroke reversed"
    assert judge(clockwise, "0", "left").slip is None
    assert judge(ink("0"), "0", "left").slip is None


def test_the_bar_of_t_runs_towards_the_writing_hand():
    rightwards = ink("t", style=None)
    leftwards = ink("t", writers.backwards(1), style=None)
    assert judge(rightwards, "t", "right").slip is None and judge(leftwards, "t", "right").slip == "stroke reversed"
    assert judge(leftwards, "t", "left").slip is None


@pytest.mark.parametrize("symbol", "45")
def test_swapped_strokes_are_told_and_nothing_else(symbol):
    verdict = judge(ink(symbol, writers.swapped), symbol)
    assert verdict.is_asked and verdict.slips == ("order",)
    assert [stroke.written_as for stroke in verdict.strokes] == [2, 1]


def test_an_unusual_form_is_no_wrong_numeral():
    for symbol in NUMERALS:
        for style in range(len(writers.NUMERALS[symbol])):
            assert judge(ink(symbol, style=style), symbol).is_asked, (symbol, style)
    barred = [*ink("7"), [(10.0, 50.0, 2000.0), (46.0, 48.0, 2200.0)]]
    assert judge(barred, "7").is_asked and judge(barred, "7").form == "barred"


def test_an_open_ring_is_told():
    assert "not closed" in judge(ink("0", writers.left_open()), "0").slips
    assert judge(ink("0"), "0").strokes[0].closed is True
    assert judge(ink("7"), "7").strokes[0].closed is None


@pytest.mark.parametrize(
    ("scale", "down", "slip"), [(1.7, -70, "too large"), (0.5, 50, "too small"), (1, 45, "off the line"), (1, 0, None)]
)
def test_size_and_place_are_told_against_the_lines(scale, down, slip):
    moved = [[(x * scale, y * scale + down, at) for x, y, at in stroke] for stroke in ink("3")]
    assert judge(moved, "3", "right", LINES).slip == slip
    assert judge(moved, "3").slip is None


@pytest.mark.parametrize("change", [writers.dotted, writers.lifted])
def test_dots_and_a_lift_in_mid_stroke_change_nothing(change):
    # 4 of 1,200 numerals with a lift were refused in a run over other seeds: a 7 cut in its slant may be a 1
    found = [judge(ink(symbol, change, seed), symbol).is_asked for symbol in NUMERALS for seed in range(20)]
    assert sum(found) >= 197


def test_size_place_and_unit_do_not_matter_to_the_shape():
    for symbol in NUMERALS:
        near, far = ink(symbol), [[(x / 50 - 3, y / 50 + 9, at) for x, y, at in s] for s in ink(symbol)]
        assert judge(near, symbol).margin == pytest.approx(judge(far, symbol).margin, abs=1e-6)


def test_half_a_numeral_is_none():
    refused = [not judge(ink(s, writers.first_part(0.5)), s).is_asked for s in "023456789"]
    assert all(refused)


def beside(word: str, gap: float = 20) -> list[list[tuple[float, float, float]]]:
    at, strokes, rng = 0.0, [], Random(4)
    for symbol in word:
        part = writers.skeleton(symbol, rng, 0)
        left = min(x for stroke in part for x, _ in stroke)
        strokes += [[(x + at - left, y) for x, y in stroke] for stroke in part]
        at += max(x for stroke in part for x, _ in stroke) - left + gap
    return [[(x, y, 20.0 * k) for k, (x, y) in enumerate(stroke)] for stroke in strokes]


@pytest.mark.parametrize(
    "word", ["10", "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"]
)
def test_a_word_is_judged_letter_by_letter(word):
    verdict = judge(beside(word), word, "right", LINES)
    assert verdict.is_asked and [part.asked for part in verdict.parts] == list(word)


def test_the_wrong_letter_of_a_word_is_told():
    verdict = judge(beside("tin"), "ten")
    assert not verdict.is_asked and [part.is_asked for part in verdict.parts] == [True, False, True]
    assert not judge(beside("01"), "10").is_asked


def test_two_joined_letters_are_parted():
    joined = beside("10", gap=14)
    run = [joined[0] + joined[1]]
    assert judge(run, "10").is_asked
    places = Ruling(0, 100, ((-20.0, 8.0), (8.0, 90.0)))
    assert judge(run, "10", "right", places).is_asked


def test_an_i_wants_its_dot():
    assert judge(ink("i", style=None), "i").slip is None
    assert judge(ink("i", style=None)[:1], "i").slip == "no dot"
    ring = [(x + 3, y - 66, 900.0) for x, y in writers.arc(0, 100, 2, 2, 0, 360)]
    assert judge([ink("i", style=None)[0], ring], "i").slip is None


@pytest.mark.parametrize(
    ("strokes", "words"),
    [
        ([[(math.nan, 1, 0)]], "stroke 1, point 1: x is nan"),
        ([[(0, 0, 0)], [(1, math.inf, 0)]], "stroke 2, point 1: y is inf"),
        ([[(1e9, 0, 0)]], "off the page"),
        ([[(1,)]], "is not"),
        ([[(1, 2, "soon")]], "milliseconds is"),
        ([[("1", 2, 3)]], "a number is needed"),
    ],
)
def test_ink_that_cannot_be_used_is_named(strokes, words):
    with pytest.raises(ValueError, match=words.replace("(", r"\(")):
        judge(strokes, "3")


@pytest.mark.parametrize("asked", ["", "?", "Q", "3a", "123456789", 3])
def test_an_unknown_symbol_is_named(asked):
    with pytest.raises(ValueError, match="cannot be judged"):
        judge(ink("3"), asked)
    with pytest.raises(ValueError, match="hand 'both'"):
        judge(ink("3"), "3", "both")


@pytest.mark.parametrize("strokes", [[], [[]], [[(5, 5, 0)]], [[(5, 5, k) for k in range(90)]]])
@pytest.mark.parametrize("asked", ["0", "10", "ten", None])
def test_no_ink_is_no_answer(strokes, asked):
    verdict = judge(strokes, asked)
    assert (verdict.is_asked, verdict.sure, verdict.slip) == (False, False, "nothing written")


def test_a_thousand_strokes_are_no_numeral():
    rng = Random(1)
    many = [[(rng.random() * 90, rng.random() * 90, 0) for _ in range(3)] for _ in range(1000)]
    assert judge(many, "3").slip == "other symbol" and judge(many, "three").is_asked is False


@pytest.mark.parametrize("time", [(), (None,), (0,)])
def test_time_may_be_missing(time):
    untimed = [[(x, y, *time) for x, y, _ in stroke] for stroke in ink("5")]
    assert judge(untimed, "5") == judge(ink("5"), "5")


@pytest.mark.parametrize("scale", [1e-3, 1 / 300, 7.0, 700.0])
@pytest.mark.parametrize("points", [30, 300])
def test_any_unit_and_any_number_of_points_give_the_same_numeral(scale, points):
    for symbol in NUMERALS:
        strokes = [writers.along([(x, y) for x, y, _ in s], step_for(s, points)) for s in ink(symbol)]
        scaled = [[(x * scale, y * scale, 0) for x, y in stroke] for stroke in strokes]
        assert all(abs(len(stroke) - points) <= 1 for stroke in scaled)
        verdict = judge(scaled, symbol)
        assert verdict.is_asked and verdict.sure and verdict.looks_like == symbol


def step_for(stroke, points: int) -> float:
    return sum(math.dist(a[:2], b[:2]) for a, b in pairwise(stroke)) / (points - 1)


def test_where_nothing_is_asked_the_nearest_numeral_is_told():
    for symbol in NUMERALS:
        verdict = judge(ink(symbol), None)
        assert (verdict.looks_like, verdict.sure, verdict.margin) == (symbol, True, None)
    letter = judge(ink("w", style=None), None)
    assert letter.looks_like == letter.nearest and letter.looks_like in NUMERALS and not letter.sure


def test_time_that_runs_backwards_does_not_matter():
    back = [[(x, y, -at) for x, y, at in stroke] for stroke in ink("5")]
    assert judge(back, "5") == judge(ink("5"), "5")
