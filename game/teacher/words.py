"""Dates, spans and counts in plain British English."""

from __future__ import annotations

from datetime import date

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
SMALL = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")


def long_date(ordinal: int) -> str:
    day = date.fromordinal(ordinal)
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def short_date(ordinal: int) -> str:
    day = date.fromordinal(ordinal)
    return f"{day.day} {MONTHS[day.month - 1][:3]} {day.year}"


def day_month(ordinal: int, today: int) -> str:
    """`3 Mar`; with the year when it is over eleven months ago, so that it cannot be mistaken."""
    text = short_date(ordinal)
    return text if abs(today - ordinal) > 330 else text.rsplit(" ", 1)[0]


def weekday(ordinal: int) -> str:
    return WEEKDAYS[date.fromordinal(ordinal).weekday()]


def ago(last: int | None, today: int) -> str:
    """How long since the day `last`: "today", "yesterday", "5 days ago", "not yet"."""
    if last is None:
        return "not yet"
    days = today - last
    return "today" if days <= 0 else "yesterday" if days == 1 else f"{days} days ago"


def many(count: int, one: str, more: str = "") -> str:
    """`3 lanes`, `1 lane`; the plural is `one` with an s unless given."""
    return f"{count} {one if count == 1 else more or one + 's'}"


def spelt(count: int, one: str, more: str = "") -> str:
    """As `many`, small numbers in words: `three lanes`."""
    word = SMALL[count] if 0 <= count < len(SMALL) else str(count)
    return f"{word} {one if count == 1 else more or one + 's'}"


def time_spent(seconds: float) -> str:
    """`20 minutes`, `1 hour 5 minutes`; under a minute is told as that."""
    minutes = round(seconds / 60)
    if minutes < 1:
        return "under a minute" if seconds > 0 else "no time yet"
    hours, rest = divmod(minutes, 60)
    if not hours:
        return many(minutes, "minute")
    return many(hours, "hour") + (f" {many(rest, 'minute')}" if rest and hours < 10 else "")


def listed(names: list[str]) -> str:
    """`Ada`, `Ada and Bo`, `Ada, Bo and Cleo`."""
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1] if names else ""
