"""Size of the wheel, built from the checkout."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

from tests.bench.report import Report

ROOT = Path(__file__).resolve().parents[2]


def run(report: Report) -> None:
    with tempfile.TemporaryDirectory() as folder:
        command = [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", folder, str(ROOT)]
        subprocess.run(command, check=True)
        wheel = next(Path(folder).glob("*.whl"))
        report.add("size of the wheel", wheel.stat().st_size / 1e6, "MB", 20.0, method="pip wheel --no-deps .")
