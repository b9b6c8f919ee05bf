"""A design as plain data for machines: SI units, the unit in each name."""

import math
from typing import Any

from hoopwright.answers.claimed import FARTHEST, claimed_data
from hoopwright.checks.at_gust import AtGust
from hoopwright.checks.finding import Finding
from hoopwright.checks.rung import Hazard, Rung
from hoopwright.cutting.stock import CutPlan, RollPlan
from hoopwright.design import Design
from hoopwright.materials.order import Order, OrderLine
from hoopwright.programme.changes import WorkedChange
from hoopwright.units import fill

HAZARDS: tuple[Hazard, ...] = ("wind", "snow", "hail")


def design_data(design: Design) -> dict[str, Any]:
    """Return the geometry, the findings and the cost of a design."""
    return {
        "name": design.plan.name,
        "units": "SI",
        "standard": design.site.standard.name,
        "standard_because": design.site.standard.because,
        "bed": _bed(design),
        "hoops": _hoops(design),
        "cover": _cover(design),
        "first_to_give_way": [
            rung_data(rung)
            for hazard in HAZARDS
            if (rung := design.ladder.first(hazard)) is not None
        ],
        "findings": [_finding(finding, design) for finding in design.findings],
        "cost": _cost(design.order),
    }


def _bed(design: Design) -> dict[str, Any]:
    bed = design.bed
    return {
        "outer_length_m": bed.outer_length,
        "outer_width_m": bed.outer_width,
        "inner_length_m": bed.inner_length,
        "inner_width_m": bed.inner_width,
        "height_m": bed.height,
        "board": bed.board.key,
        "species": bed.species.key,
    }


def _hoops(design: Design) -> dict[str, Any]:
    hoop = design.hoop
    curve = hoop.curve
    return {
        "pipe": hoop.pipe.key,
        "number": len(design.hoops),
        "stations": [{"mark_m": s.mark, "role": s.role} for s in design.hoops],
        "cut_length_m": hoop.cut_length,
        "free_length_m": curve.length,
        "span_m": hoop.span,
        "span_over_free_length": hoop.span_share,
        "crown_over_board_m": hoop.crown_over_board,
        "crown_over_ground_m": hoop.crown,
        "overall_width_m": hoop.overall_width,
        "bulge_m": curve.bulge,
        "least_radius_m": curve.least_radius,
        "strain": hoop.strain,
        "nominal_stress_pa": hoop.nominal_stress,
        "thrust_n": hoop.thrust(),
        "foot_moment_nm": hoop.foot_moment(),
        "crown_moment_nm": hoop.crown_moment(),
        "straps_per_leg": hoop.leg.straps,
        "strap_spacing_m": hoop.leg.strap_spacing,
        "curve_m": [[float(x), float(z)] for x, z in hoop.centreline[::10]],
    }


def _cover(design: Design) -> dict[str, Any]:
    cover = design.cover
    panel = cover.end_panel
    return {
        "material": cover.material.key,
        "style": cover.style,
        "edges": list(cover.edges),
        "body_width_m": cover.body.width,
        "body_length_m": cover.body.length,
        "roll_width_m": cover.roll_width,
        "skirt_m": cover.skirt,
        "end_panel_m": [panel.width, panel.height] if panel else None,
        "rails_m": [list(rail) for rail in cover.rails],
        "battens_m": {run.name: list(run.pieces) for run in cover.battens},
        "clips": cover.clips,
    }


def _finding(finding: Finding, design: Design) -> dict[str, Any]:
    return {
        "name": finding.name,
        "severity": finding.severity.word,
        "says": fill(finding.says, finding.values, design.system),
        "do": fill(finding.do, finding.values, design.system),
        "demand": finding.demand,
        "capacity": finding.capacity,
        "kind": finding.kind,
        "source": finding.source,
    }


def _cost(order: Order) -> dict[str, Any]:
    return {
        "total": round(order.total, 2),
        "currency": order.currency,
        "example_prices": order.example_prices,
        "price_date": order.price_date,
        "unpriced": list(order.unpriced),
        "unmet": list(order.unmet),
    }


def order_data(order: Order) -> dict[str, Any]:
    """Return an order with every cut and every line."""
    return {
        "units": "SI",
        "sticks": [
            {"thing": cuts.thing, "name": cuts.name, **_stick_cuts(cuts.plan)}
            for cuts in order.sticks
        ],
        "rolls": [
            {"thing": cuts.thing, "name": cuts.name, **_roll_cuts(cuts.plan)}
            for cuts in order.rolls
        ],
        "lines": [_line(line) for line in order.lines],
        "leftovers": [
            {"name": left.name, "length_m": left.length, "width_m": left.width, "count": left.count}
            for left in order.leftovers
        ],
        "cost": _cost(order),
    }


def _stick_cuts(plan: CutPlan) -> dict[str, Any]:
    return {
        "proven": plan.proven,
        "cost": plan.cost,
        "bound": plan.bound,
        "waste_m": plan.waste,
        "kerf_m": plan.kerf,
        "sticks": [
            {
                "stick_m": cut.stick.length,
                "at_hand": cut.stick.at_hand,
                "pieces": [{"name": p.name, "length_m": p.length} for p in cut.pieces],
                "left_m": cut.left,
            }
            for cut in plan.sticks
        ],
    }


def _roll_cuts(plan: RollPlan) -> dict[str, Any]:
    return {
        "proven": plan.proven,
        "cost": plan.cost,
        "bound": plan.bound,
        "waste_m2": plan.waste_area,
        "rolls": [
            {
                "width_m": cut.roll.width,
                "length_m": cut.roll.length,
                "used_m": cut.used,
                "sheets": [
                    {
                        "name": placed.sheet.name,
                        "x_m": placed.x,
                        "y_m": placed.y,
                        "width_m": placed.width,
                        "length_m": placed.length,
                    }
                    for placed in cut.sheets
                ],
            }
            for cut in plan.rolls
        ],
    }


def _line(line: OrderLine) -> dict[str, Any]:
    return {
        "thing": line.thing,
        "name": line.name,
        "form": line.form,
        "length_m": line.length,
        "width_m": line.width,
        "contents": line.contents,
        "buy": line.buy,
        "from_hand": line.from_hand,
        "needed": line.needed,
        "use": line.use,
        "price": line.price,
        "total": round(line.total, 2),
    }


def rung_data(rung: Rung) -> dict[str, Any]:
    """Return a rung of the ladder; `over` names the limits that lie past what is claimed."""
    return {
        "name": rung.name,
        "hazard": rung.hazard,
        "unit": "m/s" if rung.hazard == "wind" else "m",
        **claimed_data(
            {
                "careful": (rung.careful, rung.hazard),
                "middle": (rung.middle, rung.hazard),
                "strong": (rung.strong, rung.hazard),
            }
        ),
        "harm": rung.harm,
        "brings": rung.brings,
        "case": rung.case,
        "sources": list(rung.sources),
    }


def _finite(value: float) -> float | None:
    return value if math.isfinite(value) else None


_UNITS = {"force": "N", "depth": "m", "strain": "-", "pressure": "Pa", "moment": "N m"}


def gust_data(found: AtGust) -> dict[str, Any]:
    """Return what a gust asks of each part."""
    return {
        "gust_m_s": found.gust,
        "velocity_pressure_pa": found.pressure,
        "asked": [
            {
                "what": one.what,
                "unit": _UNITS[one.kind],
                "middle": _finite(one.middle),
                "nine_in_ten_at_most": _finite(one.most),
                "holds": None if one.holds is None else [_finite(end) for end in one.holds],
                "share_lies_over": one.gone,
                "rung": one.rung,
            }
            for one in found.asked
        ],
    }


def change_data(worked: WorkedChange) -> dict[str, Any]:
    """Return what a change gains and costs, as far as anything is claimed."""
    deepest = FARTHEST["snow"]
    return {
        "what": worked.change.what,
        "sets": dict(worked.change.sets),
        **claimed_data({"wind_m_s": (worked.wind, "wind"), "wet_snow_m": (worked.snow, "snow")}),
        "wind_gain_m_s": worked.wind_gain,
        "wet_snow_gain_m": min(worked.snow, deepest) - min(worked.snow_before, deepest),
        "cost": round(worked.cost, 2),
    }
