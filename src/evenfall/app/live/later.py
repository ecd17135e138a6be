"""Something done for a job once nothing more has come for it for a moment."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from contextlib import suppress

QUIET_S, MOST_S = 0.5, 3.0


class Later:
    """Puts off what is to be done for a job, so that much that comes at once is taken first.

    Parameters
    ----------
    do : callable
        Does it; given the id of the job [-].
    quiet_s : float
        How long nothing must have come [s].
    most_s : float
        How long it is put off at most [s].
    """

    def __init__(
        self, do: Callable[[str], object], quiet_s: float = QUIET_S, most_s: float = MOST_S
    ) -> None:
        self._do, self._quiet, self._most = do, quiet_s, most_s
        self._lock, self._over = threading.Lock(), False
        self._waiting: dict[str, tuple[float, threading.Timer]] = {}  # since when, and until

    def soon(self, job: str) -> None:
        """Do it for a job in a moment."""
        with self._lock:
            since, timer = self._waiting.pop(job, (time.monotonic(), None))
            if timer:
                timer.cancel()
            if not self._over:
                self._set(job, since)

    def still(self, job: str) -> None:
        """Put it off again where it waits, since more has come for that job."""
        with self._lock:
            if job in self._waiting and not self._over:
                since, timer = self._waiting.pop(job)
                timer.cancel()
                self._set(job, since)

    def close(self) -> None:
        """Do nothing any more."""
        with self._lock:
            self._over = True
            timers = [timer for _, timer in self._waiting.values()]
        for timer in timers:
            timer.cancel()
        for timer in timers:
            timer.join(timeout=10)

    def _set(self, job: str, since: float) -> None:
        left = since + self._most - time.monotonic()
        timer = threading.Timer(max(0.0, min(self._quiet, left)), self._now, (job,))
        timer.daemon = True
        self._waiting[job] = since, timer
        timer.start()

    def _now(self, job: str) -> None:
        with self._lock:
            mine = self._waiting.get(job, (0.0, None))[1] is threading.current_thread()
            if self._over or not mine:
                return
            del self._waiting[job]
        with suppress(KeyError):  # the job is not there any more
            self._do(job)
