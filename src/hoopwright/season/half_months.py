"""The half months of a year, by which a cover is run."""

MONTH_STARTS = (0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334, 365)


def half_month_days(number: int) -> slice:
    """Return the days of the year (from 0) of a half month numbered 0 to 23."""
    month, half = divmod(number, 2)
    start, after = MONTH_STARTS[month], MONTH_STARTS[month + 1]
    return slice(start + 15, after) if half else slice(start, start + 15)
