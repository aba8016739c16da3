"""`tenlamps merge`: bring in home practice, another device's data folder, or a plain log."""

from __future__ import annotations

import argparse
from pathlib import Path

from game.commands import common


def add(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    parser = subparsers.add_parser("merge", help="bring in home practice or the data of another device")
    parser.add_argument("paths", nargs="+", type=Path, metavar="FILE-or-FOLDER", help="packs, data folders, logs")
    common.home_option(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    from game.teacher import merge

    progress = common.Progress("merging")
    result = merge.merge_into(common.home_of(args), args.paths, progress)
    progress.finish()
    for sentence in result.sentences():
        print(sentence)
    return 0
