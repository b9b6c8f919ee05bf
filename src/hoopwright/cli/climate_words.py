"""What a weather file holds, in words and tables for a terminal."""

import math
from collections.abc import Iterable, Sequence

from hoopwright.cli import text
from hoopwright.cli.climate_held import Daily, Hourly
from hoopwright.climate.frost import FrostYears, first_frost, last_frost, season_length
from hoopwright.climate.summary import FrostSpan
from hoopwright.climate.weather import Station
from hoopwright.drawing.plots import gauge
from hoopwright.drawing.plots.axes import day_words
from hoopwright.drawing.plots.frost_plots import threshold_words
from hoopwright.units import MONTH_NAMES, System, show

NO_CHANCES = (
    "One year is one sample: it carries no probability. For a chance such as 1 year in 10 give a "
    "daily record of 20 years or more, or monthly normals to the generator."
)


def held_words(held: Hourly | Daily, system: System) -> str:
    """Return everything that is told of a file."""
    blocks = _daily(held, system) if isinstance(held, Daily) else _hourly(held, system)
    return "\n\n".join(block for block in blocks if block)


def place_words(station: Station, system: System) -> str:
    """Return where a station stands, or that the file does not say."""
    if not math.isfinite(station.latitude):
        return f"{station.name}; the file does not say where it stands"
    north, east = station.latitude, station.longitude
    return (
        f"{station.name}, {abs(north):.2f} {'N' if north >= 0 else 'S'} "
        f"{abs(east):.2f} {'E' if east >= 0 else 'W'}, "
        f"{show(station.elevation, 'elevation', system)}, UTC{station.utc_offset:+g}"
    )


def _hourly(held: Hourly, system: System) -> Iterable[str]:
    weather, told = held.weather, held.summary
    if held.years > 1:
        period = f"{held.years} generated years of hours; plots show the first"
    elif weather.typical_year:
        period = f"a typical year of {told.hours:,} hours, stitched from several years"
    else:
        period = f"{told.hours:,} hours from {_date(weather.start.date())}"
    yield f"{place_words(told.station, system)}\n  {told.source}\n  {period}"
    yield "Months\n" + _months(held, system)
    yield _whole_year(held, system)
    if told.station.latitude < 0:
        yield "Frost\n" + text.indented(SOUTH)
    elif held.frost:
        yield _chances(held.frost, system)
    else:
        yield _spans(told.frost, system)
    missing = [
        f"{name.capitalize()}: not known in {hours:,} of {told.hours:,} hours."
        for name, hours in told.unknown.items()
    ]
    yield _list("Missing or repaired", [*missing, *told.repairs] or ["Nothing."])
    yield _list("Mind", told.cautions)


SOUTH = (
    "Frost dates are counted from a northern winter to the next and would mislead south of the "
    "equator; they are left out."
)


def _months(held: Hourly, system: System) -> str:
    told = held.summary
    warm, wind, rain = gauge.temperature(system), gauge.wind_speed(system), gauge.rain(system)
    sun = gauge.daily_radiation()
    head = (
        *("Month", f"Mean {warm.mark}", "Day's high", "Night's low", f"Sun {sun.mark}"),
        *(f"Wind {wind.mark}", "Humidity %", f"Rain {rain.mark}"),
    )
    rows = [
        (
            name,
            warm.bare(told.mean[m]),
            warm.bare(told.mean_maximum[m]),
            warm.bare(told.mean_minimum[m]),
            sun.bare(told.radiation[m]),
            wind.bare(told.wind[m]),
            f"{100 * told.humidity[m]:.0f}",
            _known(told.precipitation[m], rain),
        )
        for m, name in enumerate(MONTH_NAMES)
    ]
    return text.table(head, rows, right=range(1, len(head)))


def _known(value: float, shown: gauge.Gauge) -> str:
    return shown.bare(value) if math.isfinite(value) else "not known"


def _whole_year(held: Hourly, system: System) -> str:
    told, warm = held.summary, gauge.temperature(system)
    colder = show(told.sky_depression, "temperature difference", system)
    lines = [
        ("Coldest, warmest", f"{warm.show(told.lowest)}, {warm.show(told.highest)}"),
        (
            "Sun",
            f"{told.yearly_radiation:,.0f} kWh/m² in the year on level ground, "
            f"{100 * told.clearness:.0f} % of what reaches the top of the air; "
            f"{100 * told.diffuse_share:.0f} % of it from the sky",
        ),
        ("Wind", f"strongest hour {gauge.wind_speed(system).show(told.strongest_wind)}, no gust"),
        ("Sky at night", f"{colder} colder than the air, on the mean of all dark hours"),
    ]
    return "The year\n" + "\n".join(text.labelled(label, said) for label, said in lines)


def _spans(spans: Sequence[FrostSpan], system: System) -> str:
    rows = [
        (
            threshold_words(span.threshold, system),
            _date(span.last) if span.last else "none",
            _date(span.first) if span.first else "none",
            f"{span.season} days",
        )
        for span in spans
    ]
    head = ("At or below", "Last in spring", "First in autumn", "Between them")
    table = text.table(head, rows, right=(3,))
    return "Frost in this one year\n" + table + "\n" + text.indented(NO_CHANCES)


def _date(day: object) -> str:
    return f"{day:%d %B}".lstrip("0")


def _chances(frost: Sequence[FrostYears], system: System) -> str:
    rows = [row for years in frost for row in _chance_rows(years, system)]
    head = ("At or below", "", "1 year in 2", "1 year in 10", "90 % range of the 1 in 10")
    counted = len(frost[0].years)
    said = (
        f"From {counted} years, by their own dates in order (Cunnane's positions); the range is "
        "the sampling error, from resampling the years."
    )
    if counted < 20:
        said += f" {counted} years are few for a chance of 1 in 10: mind the range."
    return "Frost\n" + text.table(head, rows) + "\n" + text.indented(said)


def _chance_rows(frost: FrostYears, system: System) -> list[tuple[str, ...]]:
    spring = [last_frost(frost, chance) for chance in (0.5, 0.1)]
    autumn = [first_frost(frost, chance) for chance in (0.5, 0.1)]
    length = [season_length(frost, chance) for chance in (0.5, 0.9)]
    rows = [
        (words, _day(even.day), _day(rare.day), _range(_day(rare.low), _day(rare.high)))
        for words, (even, rare) in (("still comes after", spring), ("comes already before", autumn))
    ]
    even, rare = length
    rows.append(
        (
            "days between, fewer than",
            _count(even.day),
            _count(rare.day),
            _range(_count(rare.low), _count(rare.high)),
        )
    )
    first = threshold_words(frost.threshold, system)
    return [(first if number == 0 else "", *row) for number, row in enumerate(rows)]


def _day(day: float) -> str:
    return day_words(day - 1) if math.isfinite(day) else "rarer than that"


def _count(days: float) -> str:
    return f"{days:.0f} days" if math.isfinite(days) else "not known"


def _range(low: str, high: str) -> str:
    unsure = {"rarer than that", "not known"}
    return "not known" if {low, high} & unsure else f"{low} to {high}"


def _daily(held: Daily, system: System) -> Iterable[str]:
    told = held.summary
    warm, rain = gauge.temperature(system), gauge.rain(system)
    period = (
        f"days from {_date(told.first)} {told.first.year} to {_date(told.last)} {told.last.year}; "
        f"both extremes known on {100 * told.complete:.1f} % of them"
    )
    yield f"{place_words(told.station, system)}\n  {told.source}\n  {period}"
    head = ("Month", f"Day's high {warm.mark}", "Night's low", f"Rain {rain.mark}")
    rows = [
        (
            name,
            _known(told.mean_maximum[m], warm),
            _known(told.mean_minimum[m], warm),
            _known(told.precipitation[m], rain),
        )
        for m, name in enumerate(MONTH_NAMES)
    ]
    yield "Months\n" + text.table(head, rows, right=(1, 2, 3))
    extremes = f"{warm.show(told.lowest)}, {warm.show(told.highest)}"
    yield "The record\n" + text.labelled("Coldest, warmest", extremes)
    yield (
        _chances(held.frost, system)
        if told.frost_years
        else "Frost\n" + text.indented("No year has nights enough for its frost dates.")
    )
    yield _list("Missing or repaired", told.repairs or ("Nothing.",))
    yield _list("Mind", told.cautions)


def _list(title: str, sentences: Iterable[str]) -> str:
    lines = [text.paragraph(one, first="  - ", rest="    ") for one in sentences]
    return "\n".join([title, *lines]) if lines else ""
