"""Which page shows which kind of task, written out: one line a kind of game/core/tasks."""

from __future__ import annotations

from game.ui.scenes.count_set import CountSetScene
from game.ui.scenes.make_ten import MakeTenScene
from game.ui.scenes.one_fewer import OneFewerScene
from game.ui.scenes.pick_numeral import PickNumeralScene
from game.ui.scenes.write import WriteScene
from game.ui.task_scene import TaskScene

TASK_SCENES: dict[str, type[TaskScene]] = {
    "count_set": CountSetScene,
    "pick_numeral": PickNumeralScene,
    "make_ten": MakeTenScene,
    "one_fewer": OneFewerScene,
    "write_numeral": WriteScene,
    "write_word": WriteScene,
}
"""The page of each kind of task in game/core/tasks."""
