"""What snow does to one hoop: the crown sinks, the pipe reaches its limit, the hoop lies over."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hoopwright.checks.followed_hoop import SNOW_CASES
from hoopwright.checks.hoop_in_wind import strain_met
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.read_off import Met, Reader
from hoopwright.checks.rung import Rung
from hoopwright.checks.standing import Standing
from hoopwright.tables.constants import STANDARD_GRAVITY
from hoopwright.tables.pipes import Pipe

Floats = NDArray[np.float64]

#: The crown has sunk enough to pond and to touch plants (an assumption).
CROWN_DROP_SHARE = 0.1
_SOURCES = (
    "Loaded elastica (computed); snow shares ASCE 7-16 chapter 7, from memory",
    "Snow densities from the table, with their range",
)


def depth(inputs: Inputs, load: Floats, kind: str) -> Floats:
    """Return the depth [m] of a kind of snow that weighs as much [Pa], for each draw."""
    return np.asarray(load / STANDARD_GRAVITY / inputs.density(kind))


def key_of(kind: str) -> str:
    """Return a kind of snow as it stands in a rung's name."""
    return kind.replace(" ", "-")


def crown_sinks(standing: Standing, reader: Reader) -> Met:
    """Return the load [Pa] under which the crown has sunk by a tenth of its height."""
    drop = CROWN_DROP_SHARE * standing.hoop.crown_over_board
    limit = np.full(reader.inputs.draws.count, drop)
    hoop = reader.hoop
    return reader.snow(hoop.response.crown_drop, limit, hoop.snow_rows, SNOW_CASES)


def hoop_lies_over(reader: Reader) -> Met:
    """Return the load [Pa] under which the hoop sways aside or snaps through, in its plane."""
    return reader.snow_lies_over(reader.hoop.snow_rows, SNOW_CASES)


def pipe_limit(reader: Reader) -> Met:
    """Return the load [Pa] under which the pipe's fibre strain passes its limit near freezing.

    The bend's own strain has relaxed by the time it snows; what is left of it and the strain
    that the snow adds are held against the limit.
    """
    return _cracks(reader, reader.hoop.snow_rows, SNOW_CASES)


def ice_cracks(reader: Reader) -> Met:
    """Return the same for ice all over the cover."""
    return _cracks(reader, [reader.hoop.ice_row], ("ice",))


def _cracks(reader: Reader, rows: list[int], names: tuple[str, ...]) -> Met:
    return strain_met(
        reader, 0.0, 1.0, lambda values, limit: reader.snow(values, limit, rows, names)
    )


def past_limit(pipe: Pipe) -> str:
    """Return what happens to a pipe in the cold that passes its limit."""
    if pipe.springs:
        return (
            "The pipe, brittle in the cold, passes {low:strain} to {high:strain} of strain and "
            "may crack."
        )
    return "The pipe passes {low:strain} to {high:strain} of strain, yields and folds."


def snow_rungs(
    standing: Standing, inputs: Inputs, kind: str, sinks: Met, folds: Met, cracks: Met
) -> list[Rung]:
    """Return the rungs of one kind of snow on a hoop."""
    pipe = standing.hoop.pipe
    limit = pipe.strain_under_load(0.0)
    drop = CROWN_DROP_SHARE * standing.hoop.crown_over_board
    key = key_of(kind)
    return [
        Rung(
            name=f"crown-sinks-{key}",
            hazard="snow",
            at=depth(inputs, sinks.pressure, kind),
            kind="depth",
            happens="The crown sinks {drop:length} and the film sags between the hoops.",
            harm="nuisance",
            case=f"{kind} snow, {sinks.case}",
            do="Brush the snow off from inside, upward and outward.",
            sources=_SOURCES,
            values={"drop": drop},
            load=sinks.pressure,
        ),
        Rung(
            name=f"hoop-folds-{key}",
            hazard="snow",
            at=depth(inputs, folds.pressure, kind),
            kind="depth",
            happens="The hoop sways aside in its plane and folds.",
            harm="loss",
            case=f"{kind} snow, {folds.case}",
            do="Hold each leg with two straps, set hoops closer, take stouter pipe, or take the "
            "film off for the winter.",
            sources=_SOURCES,
            load=folds.pressure,
        ),
        Rung(
            name=f"pipe-cracks-{key}",
            hazard="snow",
            at=depth(inputs, cracks.pressure, kind),
            kind="depth",
            happens=past_limit(pipe),
            harm="loss",
            case=f"{kind} snow, {cracks.case}",
            do="Brush snow off early; take stouter pipe or a gentler bend.",
            sources=(pipe.stuff.strain_limit_cold.source, *_SOURCES),
            values={"low": limit.low, "high": limit.high},
            load=cracks.pressure,
        ),
    ]
