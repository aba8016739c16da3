"""What the judge measures, against libraries and against the ink of adult writers."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
import shapely
import similaritymeasures
from scipy.spatial.distance import directed_hausdorff

from game.core.writing.curves import spaced
from game.core.writing.formation import _closed, _ring_gap
from game.core.writing.forms import load_forms
from game.core.writing.judge import judge
from game.core.writing.matching import _upper_turning, backwards, signature, warped
from game.core.writing.strokes import box_of
from tests import ink_data, writers

FORMS = load_forms(Path(__file__).resolve().parent.parent / "levels" / "forms")
ROWS = ink_data.penbased()
needs_pen = pytest.mark.skipif(ROWS is None, reason=f"penbased.dat is missing; {ink_data.INSTALL}")
LEARNT_FROM = 2000


def test_warping_without_a_band_is_the_dynamic_time_warping_of_similaritymeasures():
    rng = random.Random(1)
    for _ in range(8):
        a, b = (tuple(tuple(rng.random() for _ in range(4)) for _ in range(16)) for _ in range(2))
        theirs, _ = similaritymeasures.dtw(a, b, metric="euclidean")
        assert warped(a, b, band=16) == pytest.approx(theirs / 16)
        assert warped(a, b) >= warped(a, b, band=16) - 1e-9


def test_a_stroke_and_its_reverse_are_one_to_hausdorff_and_two_to_warping():
    for symbol in "12357":
        line = FORMS.taught(symbol).strokes[0].points(32)
        assert directed_hausdorff(line, line[::-1])[0] == pytest.approx(0)
        assert similaritymeasures.frechet_dist(line, line[::-1]) > 0.5
        mine = signature(line, box_of([line]))
        assert warped(mine, mine) == 0 and warped(mine, backwards(mine)) > 0.3


def test_the_upper_half_turns_as_shapely_says():
    for symbol, clockwise in (("0", False), ("8", False)):
        line = FORMS.taught(symbol).strokes[0].points(80)
        upper = [(x, -y) for x, y in line if y < 0.45]
        assert shapely.LinearRing(upper).is_ccw is not clockwise
        assert (_upper_turning(line) > 0) is clockwise and (_upper_turning(line[::-1]) > 0) is not clockwise


def test_the_gap_of_a_ring_is_the_distance_of_its_ends():
    ring = FORMS.taught("0").strokes[0].line
    for kept in (0.8, 0.85, 0.9):
        line = spaced(ring, 200)[: int(200 * kept)]
        gap = shapely.Point(line[-1]).distance(shapely.Point(line[0])) / box_of([line]).size
        assert _ring_gap(line) == pytest.approx(gap, abs=0.03)
        assert _closed(line, ring) is (gap < 0.16)


def counter_clockwise(points) -> bool:
    """By the shoelace formula (its sign flips with y down); a ring that overlaps itself has no other side."""
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, [*points[1:], points[0]], strict=True)) < 0


@needs_pen
def test_adults_zeros_turn_counter_clockwise_and_numerals_begin_in_the_top_half():
    # facts of penbased.dat (UCI, CC BY 4.0, computed): they are why the forms begin where they do
    assert len(ROWS) == 10992
    zeros = [ink[0] for ink, digit in ROWS if digit == "0"]
    turning = [counter_clockwise(points) for points in zeros]
    assert sum(turning) / len(turning) == pytest.approx(0.998, abs=0.003)
    for digit, least in (
        ("4", 1),
        ("5", 1),
        ("6", 1),
        ("7", 1),
        ("2", 0.99),
        ("3", 0.99),
        ("0", 0.95),
        ("8", 0.95),
        ("9", 0.95),
    ):
        starts = [ink[0][0][1] < 50 for ink, truth in ROWS if truth == digit]
        assert sum(starts) / len(starts) >= least - 0.0005, digit


@needs_pen
def test_numerals_of_adults_beyond_the_rows_learnt_from_are_read_right():
    # the bench `writing` takes all 8,992; 293 of a random 300 is two standard errors below what it shows (99.0 %)
    rows = random.Random(3).sample(ROWS[LEARNT_FROM:], 300)
    right = sum(judge(ink, None).nearest == digit for ink, digit in rows)
    assert right >= 293


@needs_pen
def test_the_judge_sees_which_way_adults_turn_a_zero():
    zeros = [ink for ink, digit in ROWS[LEARNT_FROM:] if digit == "0"][:150]
    pairs = [(judge(ink, "0"), counter_clockwise(ink[0])) for ink in zeros]
    for verdict, turns in pairs:
        if verdict.is_asked:
            assert verdict.strokes[0].direction == ("forward" if turns else "reversed")
    assert sum(verdict.is_asked for verdict, _ in pairs) > 140


def test_mirroring_twice_is_no_change():
    rng = random.Random(2)
    strokes = writers.skeleton("5", rng)
    twice = writers.turned_round(writers.turned_round(strokes, rng), rng)
    assert [[p for s in twice for p in s]] == [[pytest.approx(p) for s in strokes for p in s]]
