"""Every view of one bed, in the order in which a builder meets them."""

from collections.abc import Callable
from dataclasses import replace
from gettext import NullTranslations

from hoopwright.checks.finding import Severity
from hoopwright.design import Design
from hoopwright.drawing.layout import Layout, fit, scales, show_lengths
from hoopwright.drawing.scene import View
from hoopwright.drawing.subject import Subject
from hoopwright.drawing.view_details import batten_view, leg_view, rail_view
from hoopwright.drawing.view_end import end_view, panel_view
from hoopwright.drawing.view_plan import plan_view
from hoopwright.drawing.view_side import side_view
from hoopwright.drawing.view_solid import isometric_view, turned_view
from hoopwright.tables.languages import ENGLISH

#: View -> what a reader who chooses it is told, and what draws it; None where a bed has none.
DRAWN: dict[str, tuple[str, Callable[[Subject], View | None]]] = {
    "bed": ("Finished bed", isometric_view),
    "turned": ("Turn it", turned_view),
    "plan": ("From above", plan_view),
    "side": ("Side", side_view),
    "end": ("End", end_view),
    "panel": ("End panel", panel_view),
    "leg": ("Leg", leg_view),
    "batten": ("Batten", batten_view),
    "rail": ("Rail", rail_view),
}


def subject_of(
    design: Design, words: NullTranslations = ENGLISH, *, judged: bool = True
) -> Subject:
    """Return what the views need of a design.

    words : the language of the steps' pictures; judged : False leaves out what the checks ask to
    be changed, and with it their work
    """
    workers = design.plan.wishes.workers
    return Subject(
        name=design.plan.name,
        bed=design.bed,
        legs=design.plan.bed.legs,
        hoop=design.hoop,
        outline=design.hoop.outline,
        hoops=tuple(replace(hoop, mark=design.system.on_tape(hoop.mark)) for hoop in design.hoops),
        cover=design.cover,
        system=design.system,
        strap=design.fitted.strap,
        screw=design.fitted.strap_screw,
        batten_screw=design.fitted.batten_screw,
        held=design.hold_down,
        ties=sum(piece.name.startswith("tie") for cut in design.parts.cut for piece in cut.pieces),
        decisions={
            finding.name: finding.severity.word
            for finding in (design.findings if judged else ())
            if finding.severity >= Severity.CHANGE
        },
        ridged=design.standing.ridged,
        braced=design.standing.braced and design.standing.ridged,
        north=north_of(design),
        reach=design.catalogue.reach(workers[0]) if workers else None,
        words=words,
    )


def north_of(design: Design) -> float:
    """Return where north lies [deg], clockwise of the way that the first end of the bed looks."""
    # The first end looks the other way than the tape runs.
    return (180.0 - design.plan.bed.direction) % 360.0


def views(design: Design) -> tuple[View, ...]:
    """Return every view of a design that lies still: finished bed, plan, elevations, details."""
    subject = subject_of(design)
    sizes = "" if design.system.name == "us" else "sizes in millimetres"
    drawn = (draw(subject) for name, (_, draw) in DRAWN.items() if name != "turned")
    return tuple(replace(view, sizes=sizes) for view in drawn if view is not None)


def layouts(design: Design, width: float, height: float) -> tuple[Layout, ...]:
    """Return every view at the largest scale that fits a place on paper [m]."""
    series, show = scales(design.system), show_lengths(design.system)
    return tuple(fit(view, width, height, show, series) for view in views(design))
