"""When a roof is looked after: our own reminders, for the firm to change."""

from __future__ import annotations

from evenfall.working import Cited

PRACTICE = "practice of flat roofing"

SPRING_MONTH = Cited(4, "-", PRACTICE, "after the winter", "planning seed")
AUTUMN_MONTH = Cited(11, "-", PRACTICE, "when the leaves are down", "planning seed")
DAY = Cited(15, "-", PRACTICE, "of the month", "planning seed")
