"""The bed in space: its numbers for the page that draws it, and the true curve as a size is pulled.

The page draws; every shape is worked out here, by the same design as the drawings and the checks.
"""

from typing import Annotated, Any

from fastapi import APIRouter
from fastapi.responses import JSONResponse, Response

from hoopwright import units
from hoopwright.design import Design, design_of
from hoopwright.drawing.spatial import spatial
from hoopwright.drawing.storm import storm
from hoopwright.plan.fields import Quantity
from hoopwright.plan.model import Plan
from hoopwright.plan.read import PlanError
from hoopwright.plan.starter import field_metadata
from hoopwright.web.choices import choices
from hoopwright.web.context import AtDesk, Given, form_of
from hoopwright.web.editing import edited

router = APIRouter(include_in_schema=False)

#: Sizes that can be pulled, and what each is called beside its handle.
HANDLES = {
    "bed.length": "Length",
    "bed.width": "Width",
    "hoops.height": "Crown over the boards",
    "hoops.spacing": "Widest gap between hoops",
}


@router.get("/plans/{plan}/scene")
def scene(at: AtDesk, plan: str) -> Response:
    """Return the bed in space, and a storm over it."""
    design = at.plans.open(plan).worked.design
    return JSONResponse({"bed": _bed(design), "storm": storm(design)})


@router.post("/plans/{plan}/bend")
def bend(
    at: AtDesk, plan: str, given: Annotated[Given, form_of(len(HANDLES), longest=40)]
) -> Response:
    """Return the bed with a size pulled, nothing saved; 422 and why where it cannot be."""
    wanted = {key: given[key][-1] for key in HANDLES if key in given}
    try:
        design = design_of(at.plans.read(edited(at.plans.get(plan).text, wanted)))
    except PlanError as error:
        says = [
            f"{HANDLES[one.key]}: {one.says}" if one.key in HANDLES else one.says
            for one in error.problems
        ]
        return JSONResponse({"problems": says}, 422)
    return JSONResponse(_bed(design))


def _bed(design: Design) -> dict[str, Any]:
    return spatial(design) | {"units": design.system.name, "handles": _handles(design)}


def _handles(design: Design) -> list[dict[str, Any]]:
    """Return each handle: where it sits, along what it moves, and what a metre of that changes.

    Places are from the middle of the bed: along, up, across. Length and width grow to both
    sides, so that their handles move by half of what is added.
    """
    bed, hoop, plan = design.bed, design.hoop, design.plan
    top = hoop.crown + hoop.pipe.outside_diameter
    second = design.hoops[min(1, len(design.hoops) - 1)].mark - bed.outer_length / 2
    made = (
        ("bed.length", plan.bed.length, (bed.outer_length / 2, bed.height, 0.0), (1, 0, 0), 2),
        ("bed.width", plan.bed.width, (0.0, 0.0, bed.outer_width / 2), (0, 0, 1), 2),
        ("hoops.height", hoop.crown_over_board, (0.0, top, 0.0), (0, 1, 0), 1),
        ("hoops.spacing", plan.hoops.spacing, (second, 0.8 * top, hoop.span / 2), (1, 0, 0), 1),
    )
    return [
        {
            "key": key,
            "label": HANDLES[key],
            "field": choices()[key].id,
            "value": value,
            "at": at,
            "axis": axis,
            "scale": scale,
        }
        | dict(zip(("low", "high"), _range(key), strict=True))
        for key, value, at, axis, scale in made
    ]


def _range(key: str) -> tuple[float, float]:
    """Return the accepted range of a length of the plan [m]."""
    section, name = key.split(".")
    field = Plan.model_fields[section].annotation.model_fields[name]  # type: ignore[union-attr]
    quantity = next(one for one in field_metadata(field) if isinstance(one, Quantity))
    return units.read(quantity.low, "length"), units.read(quantity.high, "length")
