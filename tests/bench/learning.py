"""How much simulated learners know under different ways of planning: python -m tests.bench learning.

Ratios between ways are what counts; the shares themselves are those of invented children. The environment variable
TENLAMPS_LEARNERS sets how many learners a cell has.
"""

from __future__ import annotations

import multiprocessing
import os
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from random import Random

from game.core.levels import Levels
from tests.bench.learning_map import the_map
from tests.bench.learning_policies import POLICIES
from tests.bench.learning_worlds import World, learner, worlds
from tests.bench.report import Report

SESSIONS, TASKS = 40, 10
LOOKS = (10, 20, 40)
KEPT_DAYS = 14
LEARNERS = 500
BATCH = 25
SIDE_WAYS = ("three in a row", "ours", "all-seeing", "all-seeing, review")
"""The ways that are also compared in the worlds with one thing changed."""


@dataclass(frozen=True)
class Result:
    """One learner under one way: counts of steps, and shares of answers and steps."""

    known_10: float
    known_20: float
    known_40: float
    kept: float
    first_right: float
    secure: float
    secure_unknown: float


def play(levels: Levels, world: World, way: str, number: int) -> Result:
    """Forty sessions of ten tasks, one to three days between; then KEPT_DAYS without any."""
    child = learner(levels.steps, world, number)
    policy = POLICIES[way](levels, child, Random(f"way {number}"))
    days = Random(f"days {number}")
    day, rights, asked = 738000, 0, 0
    known: dict[int, int] = {}
    count = len(levels.steps)
    for session in range(1, SESSIONS + 1):
        policy.begin(day)
        for _ in range(TASKS):
            turn = policy.next()
            right = child.answer(*turn)
            policy.told(turn, right)
            if not turn[2]:
                rights, asked = rights + right, asked + 1
        if session in LOOKS:
            known[session] = sum(child.knows(i) for i in range(count))
        if session < SESSIONS:
            gap = days.randint(1, 3)
            day += gap
            child.rest(gap)
    secure = policy.secure(day)
    unknown = sum(not child.knows(i) for i in secure)
    child.rest(KEPT_DAYS)
    kept = sum(child.knows(i) for i in range(count))
    return Result(known[10], known[20], known[40], kept, rights / asked, len(secure), unknown)


def _batch(job: tuple[World, str, int, int]) -> tuple[World, str, list[Result], float]:
    """The results of some learners, and the processor time that they took, in seconds."""
    world, way, first, last = job
    levels, _ = the_map()
    began = time.process_time()
    return world, way, [play(levels, world, way, n) for n in range(first, last)], time.process_time() - began


def jobs(learners: int) -> list[tuple[World, str, int, int]]:
    return [
        (world, way, first, min(first + BATCH, learners))
        for world in worlds()
        for way in (POLICIES if world.name == "main" else SIDE_WAYS)
        for first in range(0, learners, BATCH)
    ]


def simulate(learners: int, processes: int) -> tuple[dict[tuple[World, str], list[Result]], float]:
    """All cells, and the processor time that they took; progress goes to stderr."""
    todo = jobs(learners)
    cells: dict[tuple[World, str], list[Result]] = {}
    began, busy = time.monotonic(), 0.0
    with multiprocessing.get_context("spawn").Pool(processes) as pool:
        for done, (world, way, results, took) in enumerate(pool.imap(_batch, todo), 1):
            cells.setdefault((world, way), []).extend(results)
            busy += took
            left = (time.monotonic() - began) / done * (len(todo) - done)
            print(
                f"\rlearning: {done} of {len(todo)} batches, {left:4.0f} s left ", end="", file=sys.stderr, flush=True
            )
    print(file=sys.stderr)
    return cells, busy


def mean(values: Sequence[float]) -> tuple[float, float]:
    """The mean and the half width of its 95 % interval."""
    middle = sum(values) / len(values)
    spread = sum((v - middle) ** 2 for v in values) / max(1, len(values) - 1)
    return middle, 1.96 * sqrt(spread / len(values))


def ratio(ours: Sequence[float], other: Sequence[float]) -> tuple[float, float]:
    """The ratio of two means over the same learners and the half width of its 95 % interval (delta method)."""
    value = sum(ours) / sum(other)
    lean = [(a - value * b) / (sum(other) / len(other)) for a, b in zip(ours, other, strict=True)]
    return value, mean(lean)[1]


def column(results: Sequence[Result], name: str) -> list[float]:
    return [float(getattr(result, name)) for result in results]


def wrongly_secure(results: Sequence[Result]) -> tuple[float, float]:
    """Share of the steps called secure that are not known, with its interval."""
    secure = column(results, "secure")
    return ratio(column(results, "secure_unknown"), secure) if sum(secure) else (0.0, 0.0)


def table(cells: dict[tuple[World, str], list[Result]]) -> str:
    """One line a world and way: means with the half width of the 95 % interval."""
    lines = [
        f"  {'world':<28}{'way':<21}{'known 10':>11}{'known 20':>11}{'known 40':>11}{'kept 14 d':>11}"
        f"{'first right':>13}{'secure, unknown':>17}"
    ]
    for (world, way), results in cells.items():
        counts = [mean(column(results, name)) for name in ("known_10", "known_20", "known_40", "kept")]
        first, wrong = mean(column(results, "first_right")), wrongly_secure(results)
        judged = f"{wrong[0]:>11.3f} ±{wrong[1]:.3f}" if sum(column(results, "secure")) else f"{'-':>17}"
        lines.append(
            f"  {f'{world.name}, {world.truth}':<28}{way:<21}"
            + "".join(f"{m:>6.1f} ±{half:3.1f}" for m, half in counts)
            + f"{first[0]:>7.3f} ±{first[1]:.3f}{judged}"
        )
    return "\n".join(lines)


def run(report: Report) -> None:
    learners = int(os.environ.get("TENLAMPS_LEARNERS", LEARNERS))
    levels, name = the_map()
    print(f"  {name}: {len(levels.skills)} skills, {len(levels.steps)} steps; {learners} learners a cell")
    began = time.monotonic()
    cells, busy = simulate(learners, min(2, os.cpu_count() or 1))
    print(table(cells))
    for world in worlds():
        figures(report, cells, world)
    report.add("processor time on two cores", busy / 2, "s", 600, method=f"{len(cells)} cells of {learners} learners")
    report.add("time by the clock", time.monotonic() - began, "s", method="with whatever else the machine does")


TARGETS = {
    "tracing": {"all-seeing": 0.68, "three in a row": 1.85, "kept": 1.95, "wrong": 0.06, "first": 0.62},
    "gradual": {"all-seeing": 0.69, "three in a row": 1.40, "kept": 1.42, "wrong": 0.14, "first": 0.72},
}
"""Asked of the main worlds only; the other worlds are told."""


def figures(report: Report, cells: dict[tuple[World, str], list[Result]], world: World) -> None:
    """The ratios of one world, judged in the main one."""
    goal = TARGETS[world.truth] if world.name == "main" else {}
    ours, mark = cells[world, "ours"], f"{world.name}, {world.truth}: "
    for way in ("all-seeing", "all-seeing, review", "three in a row"):
        value, half = ratio(column(ours, "known_40"), column(cells[world, way], "known_40"))
        report.add(f"{mark}known, over {way}", value, "", goal.get(way), at_most=False, method=f"±{half:.3f}")
    value, half = ratio(column(ours, "kept"), column(cells[world, "three in a row"], "kept"))
    report.add(f"{mark}kept, over three in a row", value, "", goal.get("kept"), at_most=False, method=f"±{half:.3f}")
    value, half = wrongly_secure(ours)
    report.add(f"{mark}secure but unknown", value, "", goal.get("wrong"), method=f"±{half:.3f}")
    value, half = mean(column(ours, "first_right"))
    report.add(f"{mark}first answers right", value, "", goal.get("first"), at_most=False, method=f"±{half:.3f}")
