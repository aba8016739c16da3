"""`tenlamps sheets`: paper for the table from each child's own next steps."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from game import paths
from game.commands import common
from game.core.errors import Trouble


def add(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    parser = subparsers.add_parser("sheets", help="write paper sheets from the children's next steps, to be printed")
    parser.add_argument("children", nargs="*", metavar="CHILD", help="nicknames or ids (else all who play)")
    parser.add_argument("--to", type=Path, required=True, metavar="FILE", help="the HTML file to write")
    parser.add_argument("--seed", type=int, metavar="N", help="a number: the same gives the same sheets again")
    common.home_option(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    from random import SystemRandom

    from game.core.writing.forms import load_forms
    from game.teacher import output, sheets

    home = common.home_of(args)
    seed = args.seed if args.seed is not None else SystemRandom().randint(1, sheets.MOST_SEED)
    try:
        forms = load_forms(paths.data("levels") / "forms", own=home / "forms.toml")
    except ValueError as error:
        raise Trouble(f"{str(error).splitlines()[0]}; mend it, or take it away.") from error
    progress = common.Progress("drawing")
    levels = common.load_levels(home)
    text = sheets.build(home, args.children, date.today(), levels, paths.data("art"), forms, seed, progress)
    progress.finish()
    output.write(args.to, text.encode("utf-8"))
    print(f"The sheets are in {args.to}; print them at full size (100 %). Sheet number {seed}.")
    return 0
