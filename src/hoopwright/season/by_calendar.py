"""Windows of a season that does not begin in January, told by the calendar."""

from dataclasses import replace

from hoopwright.season.harvests import HarvestDates
from hoopwright.season.windows import DateRange, Window


def in_calendar(found: Window, begins: int) -> Window:
    """Return the window with its days counted from 1 January, for years that begin later.

    begins : day of the calendar year on which the season's year begins (`BedYears.begins`). Days
    after 31 December go on beyond 364. What is given for each of the 365 start days stays as it is.
    """
    if not begins:
        return found

    def ranged(one: DateRange | None) -> DateRange | None:
        if one is None:
            return None
        drawn = tuple(day + begins for day in one.drawn)
        return DateRange(one.day + begins, one.low + begins, one.high + begins, drawn)

    def pair(one: tuple[int, int] | None) -> tuple[int, int] | None:
        return None if one is None else (one[0] + begins, one[1] + begins)

    ripe = found.harvest
    return replace(
        found,
        earliest=ranged(found.earliest),
        latest=ranged(found.latest),
        stretches=tuple(
            replace(one, first=one.first + begins, last=one.last + begins)
            for one in found.stretches
        ),
        careful=pair(found.careful),
        bold=pair(found.bold),
        harvest=HarvestDates(ripe.early + begins, ripe.middle + begins, ripe.late + begins),
        flowering=found.flowering + begins,
        up=found.up + begins,
        losses=replace(found.losses, day=found.losses.day + begins),
        stalks=found.stalks and (found.stalks[0] + begins, found.stalks[1]),
        rule=found.rule.shifted(begins),
        last_rule=found.last_rule.shifted(begins),
    )
