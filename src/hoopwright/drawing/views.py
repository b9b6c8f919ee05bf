"""Every view of one bed, in the order in which a builder meets them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from hoopwright.checks import Severity
from hoopwright.drawing.fitting import fit
from hoopwright.drawing.formats import scales, show_lengths, unit_note
from hoopwright.drawing.layout import Layout
from hoopwright.drawing.scene import View
from hoopwright.drawing.subject import Subject
from hoopwright.drawing.view_details import batten_view, leg_view, rail_view
from hoopwright.drawing.view_end import end_view
from hoopwright.drawing.view_panel import panel_view
from hoopwright.drawing.view_plan import plan_view
from hoopwright.drawing.view_side import side_view
from hoopwright.drawing.view_solid import isometric_view

if TYPE_CHECKING:
    from hoopwright.design import Design


def views_of(subject: Subject) -> tuple[View, ...]:
    """Return every view that this bed has."""
    possible = (
        isometric_view(subject),
        plan_view(subject),
        side_view(subject),
        end_view(subject),
        panel_view(subject),
        leg_view(subject),
        batten_view(subject),
        rail_view(subject),
    )
    sizes = unit_note(subject.system)
    return tuple(replace(view, sizes=sizes) for view in possible if view is not None)


def subject_of(design: Design) -> Subject:
    """Return what the views need of a design."""
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
            for finding in design.findings
            if finding.severity >= Severity.CHANGE
        },
        # The first end looks the other way than the tape runs.
        north=(180.0 - design.plan.bed.direction) % 360.0,
        reach=design.catalogue.reach(workers[0]) if workers else None,
    )


def views(design: Design) -> tuple[View, ...]:
    """Return every view of a design: finished bed, plan, elevations, pattern, details."""
    return views_of(subject_of(design))


def layouts(design: Design, width: float, height: float) -> tuple[Layout, ...]:
    """Return every view at the largest scale that fits a place on paper [m]."""
    series, show = scales(design.system), show_lengths(design.system)
    return tuple(fit(view, width, height, show, series) for view in views(design))
