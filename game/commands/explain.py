"""`tenlamps explain CHILD`: why the app gives a child the tasks it gives, in plain words for a teacher."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from datetime import date, datetime

from game.commands import common
from game.core import log, planner, roster
from game.core.errors import Trouble
from game.core.files import finish_swaps
from game.core.levels import Levels
from game.core.mastery import REST_LANES, ChildMastery, Neighbours, evidence_of
from game.core.records import FORM_WORDS, Attempt, Step
from game.teacher import output

HOW = """\
For each step the app keeps one number: how sure it is that the child can do it. A right first answer raises it, less
if it could be a guess; a wrong one lowers it, not to zero, because small children slip. Days without practice lower it
slowly. At 90 % the step is nearly there; one right answer on a later day makes it secure. Only a step whose needs are
there is begun; up to three of ten tasks look back at what fell below 90 % again; after a task that was not right comes
one that the child can do; a step that stays stuck rests for two lanes, and is shown first when it comes back.
This is practice, not a test: what you see at the table counts more."""


def add(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    parser = subparsers.add_parser("explain", help="tell why a child gets the tasks it gets")
    parser.add_argument("child", metavar="CHILD", help="the nickname or id from the class list")
    parser.add_argument("--day", metavar="YYYY-MM-DD", help="as things stand on that day (else today)")
    common.home_option(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    home = common.home_of(args)
    day = _day(args.day)
    output.data_folder(home)
    try:
        finish_swaps(home)
        children = roster.load(home)
        child = children.named(args.child)
        held = log.read(home / log.FILE_NAME)
    except OSError as error:
        raise output.unreadable(home, error) from error
    except ValueError as error:
        raise Trouble(f"{error}.") from error
    levels = common.load_levels(home)
    common.warn((*children.troubles, *levels.faults, *held.troubles))
    attempts = [a for a in held.attempts if a.child == child.id]
    for line in (*standing(child.nickname, levels, attempts, day), "", *last_lane(levels, attempts), "", HOW):
        print(line)
    return 0


def _day(given: str | None) -> date:
    if given is None:
        return date.today()
    try:
        return date.fromisoformat(given)
    except ValueError:
        raise Trouble(f'--day is "{given}"; give a day as 2026-03-02.') from None


def standing(name: str, levels: Levels, attempts: Sequence[Attempt], day: date) -> Iterator[str]:
    """What is open, fading, resting and waiting on `day`, from the attempts until then."""
    mastery = ChildMastery(Neighbours(levels.skills))
    for attempt in attempts:
        seen = evidence_of(attempt)
        if seen is not None and attempt.at.date() <= day:
            mastery.observe(seen)
    on = day.toordinal()
    seen_from = planner.outlook(levels, mastery, on, mastery.lanes + 1)
    lanes = "1 lane" if mastery.lanes == 1 else f"{mastery.lanes} lanes"
    yield f"{name}, {day.isoformat()}: {lanes} so far."
    yield from _part("Open now: not sure yet, and all that it needs is there", seen_from.ready, mastery, on)
    yield from _part("Fading: was there, looked at again, up to three in a lane", seen_from.fading, mastery, on)
    yield from _resting(levels, seen_from.resting, mastery)
    yield from _part("There and fresh", seen_from.held, mastery, on)
    yield from _waiting(levels, seen_from.waiting, mastery, on)


def _part(title: str, steps: Sequence[Step], mastery: ChildMastery, on: int) -> Iterator[str]:
    if not steps:
        return
    yield f"{title}:"
    for step in steps:
        state = mastery.steps.get(step.key)
        if state is None or state.tries == 0:
            yield f"  {step.title}: not met yet"
        else:
            tries = "1 first answer" if state.tries == 1 else f"{state.tries} first answers"
            word = mastery.status(step.key, on)
            also = "" if word == "practising" else f", {word}"
            yield f"  {step.title}: {_sure(planner.chance(mastery, step.key, on))}, {tries}{also}"


def _resting(levels: Levels, steps: Sequence[Step], mastery: ChildMastery) -> Iterator[str]:
    if steps:
        yield "Resting: many tries, not there yet; the way is shown first when it comes back:"
    for step in steps:
        since = mastery.steps[step.key].rest_from or 0
        left = since + REST_LANES - mastery.lanes
        meanwhile = ", ".join(levels.step(need).title for need in step.needs) or "whatever else is open"
        yield f"  {step.title}: back after {left} more lane{'s' * (left != 1)}; meanwhile: {meanwhile}"


def _waiting(levels: Levels, steps: Sequence[Step], mastery: ChildMastery, on: int) -> Iterator[str]:
    if steps:
        yield "Waiting, and what for:"
    for step in steps:
        missing = [levels.step(n).title for n in step.needs if not planner.mastered(mastery, n, on)]
        yield f"  {step.title}: waits for {'; '.join(missing)}"


def last_lane(levels: Levels, attempts: Sequence[Attempt]) -> Iterator[str]:
    """Each task of the last lane, how it went, and why it was chosen, as the log's task cell says it."""
    if not attempts:
        yield "No lane yet."
        return
    last = attempts[-1].lane
    titles = {step.key: step.title for step in levels.steps}
    mastery = ChildMastery(Neighbours(levels.skills))
    at: datetime = next(a.at for a in attempts if a.lane == last)
    yield f"The last lane, {at:%Y-%m-%d %H:%M}:"
    shown: set[str] = set()
    for attempt in attempts:
        turn = attempt.attempt_id.rsplit("-", 1)[0]
        if attempt.lane == last and turn not in shown:
            shown.add(turn)
            sure = planner.chance(mastery, attempt.key, attempt.at.toordinal())
            why = planner.REASON_WORDS.get(attempt.reason, attempt.reason or "no reason was noted")
            title = titles.get(attempt.key, attempt.key)
            yield f"  {len(shown)}. {title} ({FORM_WORDS[attempt.form]}): {_went(attempt)}."
            yield f"     Chosen because {why}; before it the app was {_sure(sure)}."
        seen = evidence_of(attempt)
        if seen is not None:
            mastery.observe(seen)


def _went(attempt: Attempt) -> str:
    if attempt.help == "together":
        return "shown first"
    if attempt.right is None:
        return "could not be read at first"
    return "right at once" if attempt.right else f"not right at first ({attempt.error or attempt.answered})"


def _sure(chance: float) -> str:
    return f"{chance:.0%} sure".replace("%", " %")
