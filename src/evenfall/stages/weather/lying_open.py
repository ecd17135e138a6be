"""Bays that lie open now: stripped, not yet closed. They come before all else."""

from __future__ import annotations

from evenfall.model.programmed import Task
from evenfall.stages.programme.site import kind
from evenfall.stages.weather.opening import STRIPPING
from evenfall.stages.weather.rest import Rest


def lying(
    tasks: tuple[Task, ...], done: frozenset[str], chosen: Rest | None
) -> tuple[int, ...]:  # fmt: skip
    """Find the bays that are stripped and that today's work does not close.

    Parameters
    ----------
    tasks : tuple of Task
        All work [-].
    done : frozenset of str
        Ids of what is done [-].
    chosen : Rest, optional
        What is planned for today [-].

    Returns
    -------
    tuple of int
        Their numbers [-].
    """
    today = {i for i, _ in chosen.day.work} if chosen else set()
    opened = {t.bay for t in tasks if t.bay and kind(t.id) in STRIPPING and t.id in done}
    left = {t.bay for t in tasks if t.bay and t.id not in done | today}
    return tuple(sorted(b for b in opened & left if b is not None))


def first_of_all(bays: tuple[int, ...]) -> tuple[str, ...]:
    """Say what comes before all else.

    Parameters
    ----------
    bays : tuple of int
        That lie open and are not closed by today's work [-].

    Returns
    -------
    tuple of str
        One line, none where no bay lies open [-].

    Examples
    --------
    >>> first_of_all((2,))
    ('Bay 2 lies open now: cover or close all of it first, open nothing else.',)
    """
    if not bays:
        return ()
    numbers = " and ".join(map(str, bays))
    says, it = (f"Bay {numbers} lies", "it") if len(bays) == 1 else (f"Bays {numbers} lie", "them")
    return (f"{says} open now: cover or close all of {it} first, open nothing else.",)


def asked(bays: tuple[int, ...]) -> tuple[str, ...]:
    """Put what is asked of today before all other work.

    Parameters
    ----------
    bays : tuple of int
        That lie open [-].

    Returns
    -------
    tuple of str
        One entry, none where no bay lies open [-].

    Examples
    --------
    >>> asked((1, 2))
    ('cover or close all of bay 1 and 2, before all else',)
    """
    numbers = " and ".join(map(str, bays))
    return (f"cover or close all of bay {numbers}, before all else",) if bays else ()
