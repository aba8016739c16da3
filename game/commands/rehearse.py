"""`tenlamps rehearse`: simulated children play real lanes without a window and leave a log."""

from __future__ import annotations

import argparse
from datetime import datetime

from game.commands import common
from game.core import log, roster
from game.core.errors import Trouble

MOST_CHILDREN, MOST_LANES = 1000, 5000


def add(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    parser = subparsers.add_parser("rehearse", help="let simulated children play, to see a sample log and report")
    parser.add_argument("--children", type=int, default=6, metavar="N", help=f"how many (1 to {MOST_CHILDREN})")
    parser.add_argument("--lanes", type=int, default=4, metavar="M", help=f"lanes a child (1 to {MOST_LANES})")
    parser.add_argument("--seed", type=int, default=1, metavar="S", help="the same seed gives the same log")
    parser.add_argument("--no-pen", action="store_true", help="leave out writing, which takes most of the time")
    parser.add_argument("--home", metavar="DIR", required=True, help="an empty folder for the sample files")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    from game import rehearsal

    if not 1 <= args.children <= MOST_CHILDREN:
        raise Trouble(f"--children is {args.children}; use 1 to {MOST_CHILDREN}.")
    if not 1 <= args.lanes <= MOST_LANES:
        raise Trouble(f"--lanes is {args.lanes}; use 1 to {MOST_LANES}.")
    home = common.home_of(args)
    if any((home / name).exists() for name in (log.FILE_NAME, roster.FILE_NAME)):
        raise Trouble(
            f"{home} holds attempts or children already; name a new folder, so that nothing real is mixed up."
        )
    found = common.load_levels(home)
    common.warn(found.faults)
    if args.no_pen:
        found = found.without_pen()
    progress = common.Progress("rehearsing")
    first_day = datetime(2026, 9, 7, 9, 0)
    try:
        table = rehearsal.rehearse(found, home, args.children, args.lanes, args.seed, first_day, progress)
    except OSError as error:
        raise Trouble(f"{home} cannot be written ({error.strerror}); name another folder.") from error
    progress.finish()
    print(table)
    return 0
