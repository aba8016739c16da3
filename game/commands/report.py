"""`tenlamps report`: one HTML file about the class, each child, and for each family."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from game import paths
from game.commands import common


def add(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    parser = subparsers.add_parser("report", help="write the report: the class, each child, a sheet for each family")
    parser.add_argument("--to", type=Path, metavar="FILE", help="the HTML file (else report.html in the data folder)")
    parser.add_argument("--child", metavar="NAME", help="only the pages of one child, by nickname or id")
    common.home_option(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    from game.teacher import output, report

    home = common.home_of(args)
    progress = common.Progress("reading the log")
    text = report.build(home, date.today(), common.load_levels(home), paths.data("art"), args.child, progress)
    progress.finish()
    to = args.to or home / report.FILE_NAME
    output.write(to, text.encode("utf-8"))
    print(f"The report is in {to}; open it in any browser, or print it.")
    return 0
