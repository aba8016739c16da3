"""Which page shows which kind of task, written out: one line a kind of game/core/tasks."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from game.ui.scene import Kit
from game.ui.scenes.count_out import CountOutScene
from game.ui.scenes.count_set import CountSetScene
from game.ui.scenes.make_ten import MakeTenScene
from game.ui.scenes.number_track import NumberTrackScene
from game.ui.scenes.number_words import NumberWordsScene
from game.ui.scenes.one_fewer import OneFewerScene
from game.ui.scenes.one_more import OneMoreScene
from game.ui.scenes.pick_numeral import PickNumeralScene
from game.ui.scenes.see_at_once import SeeAtOnceScene
from game.ui.scenes.take_apart import take_apart_scene
from game.ui.scenes.which_more import WhichMoreScene
from game.ui.scenes.write import WriteScene
from game.ui.task_scene import Answer, TaskScene

TASK_SCENES: dict[str, Callable[[Kit, Any, Answer], TaskScene]] = {
    "count_set": CountSetScene,
    "pick_numeral": PickNumeralScene,
    "make_ten": MakeTenScene,
    "one_fewer": OneFewerScene,
    "count_out": CountOutScene,
    "one_more": OneMoreScene,
    "see_at_once": SeeAtOnceScene,
    "which_more": WhichMoreScene,
    "number_track": NumberTrackScene,
    "number_words": NumberWordsScene,
    "take_apart": take_apart_scene,
    "write_numeral": WriteScene,
    "write_word": WriteScene,
}
"""The page of each kind of task in game/core/tasks."""
