"""Every part of a bed by its name, in the order in which it is painted."""

from __future__ import annotations

from collections.abc import Callable

from hoopwright.drawing.scene import Group, Shape
from hoopwright.drawing.steps.oblique import (
    Build,
    far_boards,
    hoops,
    low_straps,
    marks,
    mesh_below,
    near_boards,
    pins,
    ridge,
    rods,
    soil,
    stakes,
    ties,
    top_straps,
)
from hoopwright.drawing.steps.oblique_cover import (
    buried,
    end_battens,
    film,
    film_edges,
    lacing,
    mesh_band,
    panels,
    rails,
    side_battens,
)

Maker = Callable[[Build], tuple[Shape, ...]]
#: Every part, from the furthest to the nearest as it is painted.
PARTS: dict[str, Maker] = {
    "film": film,
    "far boards": far_boards,
    "mesh below": mesh_below,
    "soil": soil,
    "stakes": stakes,
    "near boards": near_boards,
    "ties": ties,
    "marks": marks,
    "rods": rods,
    "mesh band": mesh_band,
    "ridge": ridge,
    "hoops": hoops,
    "panels": panels,
    "end battens": end_battens,
    "top straps": top_straps,
    "low straps": low_straps,
    "pins": pins,
    "film edges": film_edges,
    "side battens": side_battens,
    "buried": buried,
    "rails": rails,
    "lacing": lacing,
}


def part(name: str, build: Build) -> Group:
    """Return a part by its name."""
    return Group(name, name.capitalize(), PARTS[name](build))
