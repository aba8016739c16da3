"""`tenlamps forget`: take away everything about one child."""

from __future__ import annotations

import argparse
import sys

from game import paths
from game.commands import common
from game.core.errors import Trouble


def add(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    parser = subparsers.add_parser("forget", help="take away a child's lines, ink and list entry")
    parser.add_argument("child", metavar="CHILD", help="nickname or id")
    parser.add_argument("--yes", action="store_true", help="do not ask")
    common.home_option(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    from game.teacher import forget, held

    home = common.home_of(args)
    also = paths.rescued(home)
    progress = common.Progress("reading the log")
    found = held.held(home, args.child, also, progress)
    progress.finish()
    print(found.sentence())
    print("The report in this data folder goes too; copies elsewhere (home practice, backups) are not touched.")
    if found.forms:
        print(f"{held.OWN_FORMS} has stroke forms for this child; take those out by hand.")
    if not args.yes and not _agreed():
        print("Nothing was changed.")
        return 1
    progress = common.Progress("taking away")
    forget.forget(home, found.child.id, also, progress)
    progress.finish()
    print("All of it is gone from this data folder.")
    return 0


def _agreed() -> bool:
    if not sys.stdin.isatty():
        raise Trouble("There is no terminal to ask on; add --yes when all this shall go. Nothing was changed.")
    return input("Take all of it away for good? (y/n) ").strip().lower() in ("y", "yes")
