"""The days as a calendar, with last days to order: to take into any telephone."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

from icalendar import Alarm, Calendar, Event

from evenfall.flow import PAPERS, WorkedJob
from evenfall.model.programmed import Booking, Day, DayOff

EVENING_BEFORE = timedelta(hours=-6)  # from midnight: at six, when the forecast is looked at
BEFORE_THE_END = timedelta(days=-42)  # six weeks: time to come, look and mend
MORNING_OF = timedelta(hours=8)  # when the merchant answers


def programme_ics(worked: WorkedJob) -> bytes:
    """Write the programme.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    bytes
        Calendar with one whole-day event a working day, one for each day off between them, and
        one for the last day to order each
        thing that is still open; alarms on the evening before the roof is opened, and on the
        morning of a last day. The same for the same job [-].
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
        if day.dry_hours:
            event.add_component(_alarm(EVENING_BEFORE, _look(day)))
        calendar.add_component(event)
    for off in worked.programme.off:
        calendar.add_component(_nobody(off, worked, stamp))
    for booking in worked.programme.bookings:
        if booking.order_by is not None and booking.ordered_on is None:
            calendar.add_component(_last_day(booking, meta.reference, stamp))
    return bytes(calendar.to_ical())


def care_ics(worked: WorkedJob) -> bytes:
    """Write the reminders of the care card, as long as the guarantee runs, and when it ends.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].

    Returns
    -------
    bytes
        Calendar with two events that come again each year, and the last day of the guarantee
        with an alarm weeks before it; the same for the same job [-].
    """
    meta = worked.meta
    calendar = Calendar()
    calendar.add("prodid", "-//Evenfall//Care//EN")
    calendar.add("version", "2.0")
    calendar.add("x-wr-calname", f"Roof {meta.reference}: care")
    care, ends = PAPERS["handover"](worked).care, PAPERS["guarantee ends"](worked)
    for name, on in zip(("spring", "autumn"), PAPERS["reminders"](worked), strict=True):
        event = Event()
        event.add("uid", f"{meta.reference}-{name}@evenfall".replace(" ", "-"))
        event.add("dtstamp", datetime.combine(meta.on, time(), UTC))
        event.add("dtstart", on)
        event.add("dtend", on + timedelta(days=1))
        event.add("rrule", {"freq": "yearly", "until": ends})
        event.add("summary", f"Flat roof, {name}: gutters, outlets, trims")
        event.add("location", meta.address)
        event.add("description", " ".join(care))
        calendar.add_component(event)
    calendar.add_component(_guarantee_ends(worked, ends))
    return bytes(calendar.to_ical())


def _guarantee_ends(worked: WorkedJob, ends: date) -> Event:
    """Make the event of the last day of the guarantee; its alarm leaves time to look."""
    meta, event = worked.meta, Event()
    says = f"Flat roof {meta.reference}: last day of the guarantee on the work"
    event.add("uid", f"{meta.reference}-guarantee@evenfall".replace(" ", "-"))
    event.add("dtstamp", datetime.combine(meta.on, time(), UTC))
    event.add("dtstart", ends)
    event.add("dtend", ends + timedelta(days=1))
    event.add("summary", says)
    event.add("location", meta.address)
    event.add(
        "description", f"Have the roof looked over before. {PAPERS['handover'](worked).contact}"
    )
    event.add_component(_alarm(BEFORE_THE_END, says))
    return event


def _nobody(off: DayOff, worked: WorkedJob, stamp: datetime) -> Event:
    """Make the event of a day off within the work."""
    meta, event = worked.meta, Event()
    last = max((d for d in worked.programme.days if d.on < off.on), key=lambda d: d.on)
    event.add("uid", f"{meta.reference}-off-{off.on}@evenfall".replace(" ", "-"))
    event.add("dtstamp", stamp)
    event.add("dtstart", off.on)
    event.add("dtend", off.on + timedelta(days=1))
    event.add("summary", f"{meta.reference}: nobody on the roof ({off.name})")
    event.add("description", f"The roof stays as it was closed on the evening of {last.on}.")
    return event


def _about(notice: str, evening: str) -> str:
    night = f"That night the rain is kept out by {evening}."
    return f"You notice: {notice}. {night}" if notice else night


def _alarm(when: timedelta, says: str) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", says)
    alarm.add("trigger", when)
    return alarm


def _look(day: Day) -> str:
    return f"Tomorrow the roof is opened: {day.dry_hours:.0f} dry hours wanted from the start."


def _last_day(booking: Booking, reference: str, stamp: datetime) -> Event:
    """Make the event of the last day to order something."""
    assert booking.order_by is not None
    event, says = Event(), f"{reference}: last day to order: {booking.says}"
    event.add("uid", f"{reference}-order-{booking.name}@evenfall".replace(" ", "-"))
    event.add("dtstamp", stamp)
    event.add("dtstart", booking.order_by)
    event.add("dtend", booking.order_by + timedelta(days=1))
    event.add("summary", says)
    event.add("description", f"{booking.lead_days} days; needed on {booking.needed_on}.")
    event.add_component(_alarm(MORNING_OF, says))
    return event
