"""Work that takes seconds, done behind the frames so that the page goes on."""

from __future__ import annotations

import threading
from collections.abc import Callable

from game.ui.office import Progress

Job = Callable[[Progress], str]


class Work:
    """Runs `job` at once; `share` of it is done (0 to 1). `result` gives what it returned, or raises what it raised."""

    def __init__(self, job: Job) -> None:
        self.share = 0.0
        self._found = ""
        self._error: Exception | None = None
        self._thread = threading.Thread(target=self._run, args=(job,))
        self._thread.start()

    def _run(self, job: Job) -> None:
        try:
            self._found = job(self._progress)
        except Exception as error:
            self._error = error

    def _progress(self, share: float) -> None:
        self.share = share

    @property
    def done(self) -> bool:
        return not self._thread.is_alive()

    def result(self) -> str:
        self._thread.join()
        if self._error is not None:
            raise self._error
        return self._found
