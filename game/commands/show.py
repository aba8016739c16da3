"""`tenlamps show`: everything that is held about one child."""

from __future__ import annotations

import argparse
from pathlib import Path

from game import paths
from game.commands import common


def add(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    parser = subparsers.add_parser("show", help="show everything that is held about one child")
    parser.add_argument("child", metavar="CHILD", help="nickname or id")
    parser.add_argument("--to", type=Path, metavar="FILE", help="write it there (JSON for a name that ends in .json)")
    common.home_option(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    from game.teacher import held, output, show

    home = common.home_of(args)
    progress = common.Progress("reading the log")
    found = held.held(home, args.child, paths.rescued(home), progress)
    progress.finish()
    text = show.text_for(found, args.to)
    if args.to is None:
        print(text, end="")
    else:
        output.write(args.to, text.encode("utf-8", errors="replace"))
        print(f"{found.sentence()} It is written in {args.to}.")
    return 0
