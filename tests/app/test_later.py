"""What the roof brings is worked once it is quiet: late enough for the photos, never too late."""

from __future__ import annotations

import threading

from evenfall.app.live.later import Later

LONG = 20.0


def test_what_is_put_off_is_done_once_and_in_the_end_in_spite_of_more() -> None:
    done, often = threading.Event(), list[str]()

    def do(job: str) -> None:
        often.append(job)
        done.set()

    later = Later(do, quiet_s=LONG, most_s=0.05)
    for _ in range(3):
        later.soon("a")
        later.still("a")
    later.still("b")  # nothing waits for that one
    assert done.wait(LONG)
    later.close()
    assert often == ["a"]


def test_nothing_is_done_after_the_end_nor_for_a_job_that_is_gone() -> None:
    asked = threading.Event()

    def gone(job: str) -> None:
        asked.set()
        raise KeyError(job)

    later = Later(gone, quiet_s=0.0)
    later.soon("gone")
    assert asked.wait(LONG)
    later.close()
    asked.clear()
    later.soon("late")
    waiting = Later(gone, quiet_s=LONG)
    waiting.soon("never")
    waiting.close()
    assert not asked.is_set()
