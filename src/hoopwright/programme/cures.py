"""The one change of a plan that cures a finding, where there is one."""

from collections.abc import Callable, Mapping
from typing import Any

from hoopwright.checks.finding import Finding, Severity
from hoopwright.design import Design
from hoopwright.programme.changes import Change

Cure = Callable[[Design, Finding], Change | None]


def cure(design: Design, finding: Finding) -> Change | None:
    """Return the change that cures a finding, None where it is none or takes more than one."""
    if finding.severity < Severity.WATCH:
        return None
    # Each animal has a finding of its own, and all have one cure.
    name = "animals" if finding.name.startswith("animals-") else finding.name
    return _CURES[name](design, finding) if name in _CURES else None


def _side_boards(design: Design, finding: Finding) -> Change | None:
    if design.plan.holding.stakes == "corners and sides":
        return None
    return Change("Stakes at the corners and along the sides", _STAKED)


def _ridge(design: Design, finding: Finding) -> Change:
    kept = design.plan.hoops.ridge
    ridge = kept if kept in ("pipe", "batten") else "pipe"
    sets = {"hoops.ridge": ridge, "hoops.brace": True}
    return Change(f"A ridge {ridge} tied back to the boards at both ends", sets)


def _leg_hold(design: Design, finding: Finding) -> Change | None:
    if design.plan.hoops.straps_per_leg == 2:
        return None
    return Change("A second strap on each leg", {"hoops.straps_per_leg": 2})


def _end_distance(design: Design, finding: Finding) -> Change:
    # The tape's own step up, so that what is written is no shorter than what is wanted.
    offset = design.system.on_tape(float(finding.values["offset"]) + 0.0016)
    sets = {"hoops.first_offset": offset, "hoops.last_offset": offset}
    return Change("The end hoops further in", sets)


def _animals(design: Design, finding: Finding) -> Change | None:
    needed = finding.values.get("needed")
    if needed is None or "open" in finding.values:
        return None
    return Change("Mesh over the whole opening", {"cover.mesh_band": float(needed)})


def _batten_over_legs(design: Design, finding: Finding) -> Change:
    return Change("That edge buried", {"cover.fixed_edge": "bury"})


_STAKED: Mapping[str, Any] = {"holding.stakes": "corners and sides"}
_CURES: Mapping[str, Cure] = {
    "side-boards": _side_boards,
    "ridge": _ridge,
    "leg-hold": _leg_hold,
    "end-distance": _end_distance,
    "animals": _animals,
    "batten-over-legs": _batten_over_legs,
}

#: What holds a bed in more wind, a step at a time; each step is what a person would do next.
AGAINST_WIND: tuple[Mapping[str, Any], ...] = (
    {
        "holding.pin": True,
        "holding.tied_to_soil": True,
        **_STAKED,
        "hoops.ridge": "pipe",
        "hoops.brace": True,
        "cover.lacing": True,
    },
    {"cover.clip_spacing": 0.1016, "cover.material": "film-woven"},
    {"hoops.spacing": 0.508},
)
