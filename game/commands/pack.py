"""`tenlamps pack`: one file with a child's practice, to carry home or back."""

from __future__ import annotations

import argparse
from pathlib import Path

from game.commands import common


def add(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    parser = subparsers.add_parser("pack", help="write one child's practice into a file, to carry to another device")
    parser.add_argument("child", metavar="CHILD", help="nickname or id")
    parser.add_argument("--to", type=Path, required=True, metavar="FILE", help="the file to write, say ada.lane")
    common.home_option(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    from game.teacher import pack, words

    progress = common.Progress("packing")
    written = pack.pack(common.home_of(args), args.child, args.to, progress)
    progress.finish()
    many = words.many(written, "attempt")
    print(f"{many} of {args.child} in {args.to}; bring it in elsewhere with: tenlamps merge {args.to.name}")
    return 0
