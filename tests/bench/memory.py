"""The most memory that this process has held."""

from __future__ import annotations

import re
import resource
from pathlib import Path

STATUS = Path("/proc/self/status")


def peak_mb() -> float:
    """In MB. From /proc where there is one: `ru_maxrss` begins with what the parent held when it started us."""
    if STATUS.exists():
        found = re.search(r"VmHWM:\s+(\d+) kB", STATUS.read_text())
        if found:
            return int(found.group(1)) / 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
