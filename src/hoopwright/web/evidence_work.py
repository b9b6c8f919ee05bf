"""The evidence of loggers' files worked out for the page, with the page for a funder."""

import base64
import datetime
from typing import Any

from hoopwright.plan import ReadPlan
from hoopwright.readings.hourly import Hours, hours_of
from hoopwright.readings.text import ReadingsError
from hoopwright.web.beside import Beside, Progress, read_with_weather


def evidence(text: str, beside: Beside, progress: Progress) -> dict[str, Any]:
    """Return what the readings show in words, pictures and data, as `readings report --fit`.

    Raises ReadingsError where no night has both sensors, or a file has open questions.
    """
    from hoopwright.answers.facts import voice_of
    from hoopwright.answers.readings_data import bed_data
    from hoopwright.answers.season_kept import FIRST_USE
    from hoopwright.design import design_of
    from hoopwright.drawing.plots.field import NARROW, WIDTH, plotted
    from hoopwright.drawing.reading_plots import nights_plot
    from hoopwright.heat.compiled import compiled_before
    from hoopwright.readings.evidence import fitted_to, read_at
    from hoopwright.readings.measured import nights
    from hoopwright.sheet import rendered
    from hoopwright.sheet.document import paper_of
    from hoopwright.sheet.readings_words import (
        TITLE,
        TYPICAL,
        fitted_words,
        funder_document,
        gains_view,
        months_table,
    )

    fit, unfit = None, ""
    with read_with_weather(text, beside) as read:
        hours = _hours(read, beside, progress)
        progress(0.3, "Running the model over the hours measured.")
        bed, design = read_at(read, hours), design_of(read)
        progress(0.4, FITTING if compiled_before() else FIRST_USE)
        try:
            fit = fitted_to(read, hours, tell=lambda share: progress(0.4 + 0.5 * share, FITTING))
        except ReadingsError as error:
            unfit = str(error)
    progress(0.95, "Drawing the pictures and the page.")
    say = voice_of(design)
    page = funder_document([bed], say, paper_of(design), datetime.date.today(), TITLE)
    dates, inside, outside = nights(hours)
    wide, narrow = (
        (nights_plot(dates, inside, outside, say.system, width), gains_view([bed], say, width))
        for width in (WIDTH, NARROW)
    )
    table = months_table(bed, say)
    return {
        "answer": page.answer,
        "plots": [plotted(*views) for views in zip(wide, narrow, strict=True)],
        "months": {
            "caption": table.caption,
            "heads": [column.head for column in table.columns],
            "rows": table.rows,
            "note": table.note,
        },
        "fitted": [] if fit is None else fitted_words(fit, say),
        "unfit": unfit,
        "sets": fit.sets if fit is not None and fit.helps else {},
        "typical": TYPICAL if bed.modelled and bed.modelled.typical else "",
        "data": bed_data(bed, fit),
        "pdf": base64.b64encode(rendered(page, "pdf")).decode("ascii"),
    }


FITTING = "Fitting leak, light and soil water to the readings."


def _hours(read: ReadPlan, beside: Beside, progress: Progress) -> Hours:
    from hoopwright.web.loggers import read_as

    site, series = read.plan.site, []
    for number, file in enumerate(beside.readings):
        progress(0.02 + 0.28 * number / len(beside.readings), f"Reading {file.name}.")
        found = read_as(file.name, file.body, file.about, site.latitude, site.longitude)
        if found.logger.questions:
            raise ReadingsError(f"{file.name}: say first how it is to be read")
        series += [(column.role, found.times, values) for column, values in found.series]
    if not series:
        raise ReadingsError("no readings yet; bring a logger's file first")
    return hours_of(series)
