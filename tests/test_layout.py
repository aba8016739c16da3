"""Where things stand: none touches another or leaves the card, whatever the arrangement."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from game.core.layout import ARRANGEMENTS, SET_BOX, SET_SIZE, arrange


@settings(max_examples=300, deadline=None)
@given(st.sampled_from(ARRANGEMENTS), st.integers(0, 10), st.integers(0, 10**9))
def test_no_thing_touches_another_or_the_edge(arrangement, count, seed):
    # K.CC.B.5 (seen): in a line, a rectangular array or a circle, or up to 10 scattered
    places = arrange(arrangement, count, Random(seed))
    assert len(places) == count
    assert all(SET_BOX.inside(p, SET_SIZE / 2) for p in places)
    for i, (x, y) in enumerate(places):
        for other_x, other_y in places[:i]:
            assert max(abs(x - other_x), abs(y - other_y)) >= SET_SIZE


def test_arrangements_look_like_their_names():
    line = arrange("line", 7, Random(1))
    assert len({y for _, y in line}) == 1
    array = arrange("array", 9, Random(1))
    assert len({round(x) for x, _ in array}) == 3 and len({round(y) for _, y in array}) == 3
    assert len({round(y) for _, y in arrange("array", 10, Random(1))}) == 2, "two rows of five"
    circle = arrange("circle", 8, Random(1))
    cx, cy = SET_BOX.centre
    assert len({round(((x - cx) ** 2 + (y - cy) ** 2) ** 0.5, 3) for x, y in circle}) == 1


def test_scattered_things_are_scattered():
    places = arrange("scattered", 8, Random(4))
    assert len({round(x) for x, _ in places}) > 5 and len({round(y) for _, y in places}) > 5
    assert arrange("scattered", 8, Random(5)) != places


@pytest.mark.parametrize(("arrangement", "count"), [("heap", 3), ("line", 11), ("scattered", -1)])
def test_what_cannot_be_placed_is_told_with_its_value(arrangement, count):
    with pytest.raises(ValueError, match=str(count) if arrangement != "heap" else "heap"):
        arrange(arrangement, count, Random(1))
