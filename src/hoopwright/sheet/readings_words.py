"""Readings in words: months as a table, fitted numbers, and one page for a board or a funder."""

import datetime
import math
from collections.abc import Sequence

from hoopwright.answers.facts import Fact
from hoopwright.answers.voice import Voice, plural
from hoopwright.drawing.plots.field import WIDTH, plot_layout
from hoopwright.drawing.reading_plots import gains_plot
from hoopwright.drawing.scene import View
from hoopwright.heat.compare import DEGREE_BASE, HOT
from hoopwright.readings.evidence import BedReadings
from hoopwright.readings.fit import Fit, FittedOne
from hoopwright.readings.measured import Estimate, Month, pooled, share_interval
from hoopwright.sheet.content import (
    Block,
    Document,
    FactList,
    Paper,
    Paragraph,
    Part,
    Section,
    Table,
    columns,
)
from hoopwright.sheet.pictures import diagram_of
from hoopwright.units import MONTH_NAMES

#: On the page for a board, the last ones; and what it is called.
MOST_MONTHS, TITLE = 12, "What the covers gained"

TYPICAL = "The model has the sun and wind of a typical year: compare months, not nights."
FITTED = {
    "leak": "leak of the closed cover, times the table's",
    "light": "light through the cover, times the table's",
    "moisture": "water in the bed soil, share of its volume",
}


def degrees(estimate: Estimate, say: Voice) -> str:
    """Return a mean difference with its 95 % interval, "3.1 °F (2.4 to 3.8)"."""
    if not math.isfinite(estimate.mean):
        return "unknown"
    mean, low, high = (
        say.show(value, "temperature difference")
        for value in (estimate.mean, estimate.low, estimate.high)
    )
    if not math.isfinite(estimate.low):
        return f"{mean} (too few to say how sure)"
    return f"{mean} ({low.rsplit(' ', 1)[0]} to {high.rsplit(' ', 1)[0]})"


def months_table(bed: BedReadings, say: Voice) -> Table:
    """Return the months of one bed, measured and modelled."""
    model = {}
    if bed.modelled is not None:
        model = {(m.year, m.month): m for m in bed.modelled.nights.months}
    rows = []
    for month in bed.measured.months:
        own = model.get((month.year, month.month))
        rows.append(
            (
                f"{MONTH_NAMES[month.month - 1][:3]} {month.year}",
                str(month.gain.count),
                degrees(month.gain, say),
                say.show(own.gain.mean, "temperature difference") if own else "",
                f"{month.frosts_out} to {month.frosts_in}",
                degrees(month.warmth, say),
                str(month.hot),
            )
        )
    heads = columns(
        "Month 1.1 | Nights > 0.7 | Warmer at night (95 %) > 2.2 | Model > 0.9 | "
        "Frosts, out to in > 1.1 | Degree days a day > 2.1 | Hot hours > 0.8"
    )
    note = (
        "Nightly minimum inside less outside, mean of the nights that both sensors saw. Degree "
        f"days over {say.show(DEGREE_BASE, 'temperature')}, inside less outside. "
        f"Hot: over {say.show(HOT, 'temperature')}."
    )
    return Table(f"{bed.name}, month by month", heads, tuple(rows), (), note)


def fitted_words(fit: Fit, say: Voice) -> list[str]:
    """Return the fitted numbers and how the model does with them."""
    lines = [_one(number) for number in fit.numbers]
    where = f"{fit.held} hours held out" if fit.held else "the hours fitted (too few to hold out)"
    before = say.show(fit.error_before, "temperature difference")
    after = say.show(fit.error_after, "temperature difference")
    lines.append(
        f"On {where} the model was off by {before} before and {after} after (root mean square)."
    )
    if not fit.helps:
        lines.append(
            "The fitted numbers do no better on hours they have not seen: keep the table's."
        )
    return lines


def _one(number: FittedOne) -> str:
    low, high = f"{number.low:.2f}", f"{number.high:.2f}"
    return (
        f"{FITTED[number.name]}: {number.likely:.2f} ({low} to {high}); {number.before:.2f} before"
    )


def funder_document(
    beds: Sequence[BedReadings], say: Voice, paper: Paper, date: datetime.date, title: str
) -> Document:
    """Return one page to hand to a board or a funder: what was gained, said with error bars."""
    measured = [bed.measured for bed in beds]
    whole = pooled(measured)
    out = sum(one.frosts_out for one in measured)
    kept = sum(one.kept_off[0] for one in measured)
    low, high = share_interval(kept, out)
    first = min(one.first for one in measured)
    last = max(one.last for one in measured)
    facts = [
        Fact("Measured", f"{plural(len(beds), 'bed')}, {whole.count:,} nights in all, "
             f"{_date(first)} to {_date(last)}."),
        Fact("Warmer", f"{degrees(whole, say)} warmer at the coldest of the night, mean of all "
             "nights, with its 95 % interval."),
    ]  # fmt: skip
    if out:
        share = f"{100 * kept / out:.0f} % ({100 * low:.0f} to {100 * high:.0f} %)"
        facts.append(
            Fact("Frost", f"Of {plural(out, 'frosty night')} outside, {kept} stayed free of frost "
                 f"under the cover: {share}.")
        )  # fmt: skip
    else:
        facts.append(Fact("Frost", "No frosty night came in this time."))
    hot = sum(month.hot for one in measured for month in one.months)
    over = say.show(HOT, "temperature")
    facts.append(Fact("Too hot", f"{hot:,} hours over {over} under cover: open in time."))
    blocks: list[Block] = [FactList(tuple(facts))]
    if len(beds) > 1:
        blocks.append(_beds_table(beds, say))
    blocks.append(diagram_of(plot_layout(gains_view(beds, say))))
    blocks.append(_all_months(months_together(beds), say))
    sure = Part("", (Paragraph(_caveats(beds, say)),))
    return Document(
        title=title,
        answer=_answer(whole, len(beds), out, kept, say),
        footer=f"{title}, {date.isoformat()}",
        paper=paper,
        date=date,
        sections=(
            Section("measured", "What was measured", (Part("", tuple(blocks)),)),
            Section("sure", "How sure this is", (sure,), new_page=False),
        ),
    )


def _answer(whole: Estimate, beds: int, out: int, kept: int, say: Voice) -> str:
    over = "one bed" if beds == 1 else f"{beds} beds"
    start = f"Over {whole.count:,} nights and {over}"
    frost = f" It kept {kept} of {out} frosts off." if out else ""
    if math.isfinite(whole.low) and whole.low <= 0.0 <= whole.high:
        return (
            f"{start}, the coldest of the night under cover and beside it differ by no more than "
            f"these readings can tell: {degrees(whole, say)} warmer.{frost}"
        )
    way = "warmer" if whole.mean > 0 else "colder"
    low, high = sorted((abs(whole.low), abs(whole.high)))
    size = Estimate(abs(whole.mean), low, high, whole.count)
    return (
        f"{start}, the coldest of the night under cover was {degrees(size, say)} {way} than in "
        f"the open beside it.{frost}"
    )


def _date(when: datetime.datetime) -> str:
    return f"{when.day} {MONTH_NAMES[when.month - 1]} {when.year}"


def _beds_table(beds: Sequence[BedReadings], say: Voice) -> Table:
    rows = tuple(
        (
            bed.name,
            str(bed.measured.gain.count),
            degrees(bed.measured.gain, say),
            f"{bed.measured.kept_off[0]} of {bed.measured.frosts_out}",
        )
        for bed in beds
    )
    heads = columns("Bed 2 | Nights > 0.8 | Warmer at night (95 %) > 2 | Frosts kept off > 1.2")
    return Table("Bed by bed", heads, rows)


Months = list[tuple[int, int, Estimate, list[Month]]]


def months_together(beds: Sequence[BedReadings]) -> Months:
    """Return the last months, all beds together: year, month, gain (each bed's mean counts
    alike), and that month of each bed."""
    keys = sorted({(m.year, m.month) for bed in beds for m in bed.measured.months})
    found: Months = []
    for year, month in keys[-MOST_MONTHS:]:
        own = [m for b in beds for m in b.measured.months if (m.year, m.month) == (year, month)]
        mean = sum(m.gain.mean for m in own) / len(own)
        halves = [(m.gain.high - m.gain.low) / 2 for m in own]
        half = math.sqrt(sum(h**2 for h in halves)) / len(own)
        gain = Estimate(mean, mean - half, mean + half, sum(m.gain.count for m in own))
        found.append((year, month, gain, own))
    return found


def gains_view(beds: Sequence[BedReadings], say: Voice, width: float = WIDTH) -> View:
    """Return the gain by month as a picture, what it comes to as its title."""
    whole = pooled([bed.measured for bed in beds])
    title = f"Warmer at the coldest of the night: {degrees(whole, say)}, all nights"
    note = "Mean of the month's nights; the stroke is its 95 % interval."
    months = [month[:3] for month in months_together(beds)]
    return gains_plot(title, months, say.system, note, width)


def _all_months(months: Months, say: Voice) -> Table:
    rows = [
        (
            f"{MONTH_NAMES[month - 1]} {year}",
            str(len(own)),
            str(gain.count),
            degrees(gain, say),
            f"{sum(m.frosts_out for m in own)}",
            f"{sum(m.frosts_in for m in own)}",
        )
        for year, month, gain, own in months
    ]
    heads = columns(
        "Month 1.6 | Beds > 0.6 | Nights > 0.8 | Warmer at night (95 %) > 2 | "
        "Frosts outside > 1 | Under cover > 1"
    )
    return Table("Month by month", heads, tuple(rows))


def _caveats(beds: Sequence[BedReadings], say: Voice) -> str:
    words = (
        "Each night's coldest reading under cover is held against the coldest beside it in the "
        "open. The interval counts neighbouring nights as alike, so it is wider than their number "
        "alone would make it"
    )
    if len(beds) > 1:
        words += ", and it counts how beds differ from each other"
    words += (
        ". Cheap sensors read a degree or so apart and one in the sun reads high; such an offset "
        "is not in the interval unless the two were compared side by side first."
    )
    run = [bed.modelled for bed in beds if bed.modelled is not None]
    if run:
        mean = sum(one.nights.gain.mean for one in run) / len(run)
        typical = " with the sun and wind of a typical year" if run[0].typical else ""
        words += (
            f" The model{typical} has {say.show(mean, 'temperature difference')} for the same "
            "nights."
        )
    return words
