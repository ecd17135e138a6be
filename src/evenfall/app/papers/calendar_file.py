"""The days as a calendar: one event for each working day, to take into any telephone."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta

from icalendar import Calendar, Event

from evenfall.flow import PAPERS, WorkedJob


def programme_ics(worked: WorkedJob) -> bytes:
    """Write the programme.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    bytes
        Calendar with one whole-day event a working day; the same for the same job [-].
    """
    meta = worked.meta
    calendar = Calendar()
    calendar.add("prodid", "-//Evenfall//Programme//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", f"Roof {meta.reference}")
    stamp = datetime.combine(meta.on, time(), UTC)
    told = PAPERS["quotation"](worked).days
    for day, said in zip(worked.programme.days, told, strict=True):
        event = Event()
        event.add("uid", f"{meta.reference}-day-{day.number}@evenfall".replace(" ", "-"))
        event.add("dtstamp", stamp)
        event.add("dtstart", day.on)
        event.add("dtend", day.on + timedelta(days=1))
        event.add("summary", f"{meta.reference}: {said.does}")
        event.add("location", meta.address)
        event.add("description", _about(said.notice, said.evening))
        calendar.add_component(event)
    return bytes(calendar.to_ical())


def care_ics(worked: WorkedJob) -> bytes:
    """Write the reminders of the care card, every spring and every autumn.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    bytes
        Calendar with two events that come again each year; the same for the same job [-].
    """
    meta = worked.meta
    calendar = Calendar()
    calendar.add("prodid", "-//Evenfall//Care//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", f"Roof {meta.reference}: care")
    care = PAPERS["handover"](worked).care
    for name, on in zip(("spring", "autumn"), PAPERS["reminders"](worked), strict=True):
        event = Event()
        event.add("uid", f"{meta.reference}-{name}@evenfall".replace(" ", "-"))
        event.add("dtstamp", datetime.combine(meta.on, time(), UTC))
        event.add("dtstart", on)
        event.add("dtend", on + timedelta(days=1))
        event.add("rrule", {"freq": "yearly"})
        event.add("summary", f"Flat roof, {name}: gutters, outlets, trims")
        event.add("location", meta.address)
        event.add("description", " ".join(care))
        calendar.add_component(event)
    return bytes(calendar.to_ical())


def _about(notice: str, evening: str) -> str:
    night = f"That night the rain is kept out by {evening}."
    return f"You notice: {notice}. {night}" if notice else night
