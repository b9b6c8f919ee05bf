"""Whether strap, clip and screws fit the pipe, the board and the batten they are for."""

from typing import Any

from hoopwright.checks.finding import Finding, Severity
from hoopwright.frozen import dataclass
from hoopwright.tables.catalogue import Catalogue
from hoopwright.tables.constants import INCH
from hoopwright.tables.fits import (
    Picked,
    batten_screw_for,
    clip_fits,
    clip_for,
    strap_fits,
    strap_for,
    strap_screw_for,
)
from hoopwright.tables.fittings import Clip, Screw, Strap
from hoopwright.tables.pipes import Pipe
from hoopwright.tables.wood import Batten, Board


@dataclass(frozen=True)
class Chosen:
    """The fittings a person asks for by name; None leaves the choice to what fits."""

    strap: Strap | None = None
    strap_screw: Screw | None = None
    batten_screw: Screw | None = None
    clip: Clip | None = None


@dataclass(frozen=True)
class Fitted:
    """The fittings used, and a finding for each that is missing or does not fit."""

    strap: Strap | None
    strap_screw: Screw | None
    batten_screw: Screw | None
    board_screw: Screw | None
    clip: Clip | None
    findings: tuple[Finding, ...]

    @property
    def hook_screw(self) -> Screw | None:
        """The screw in a board that a cord or a rail's clip hangs on: the straps' own if any."""
        return self.strap_screw or self.batten_screw


def fit_all(
    pipe: Pipe, board: Board, batten: Batten, chosen: Chosen, catalogue: Catalogue
) -> Fitted:
    """Return the fittings for this pipe, board and batten, and what does not fit."""
    screws = tuple(catalogue.screws.values())
    strap_fit = strap_for(pipe, catalogue.straps.values())
    strap = chosen.strap or strap_fit.item
    strap_screw_fit: Picked[Screw] = (
        strap_screw_for(strap, board, screws) if strap else Picked(None, (), "a strap first")
    )
    batten_fit = batten_screw_for(batten, board, screws)
    clip_fit = clip_for(pipe, catalogue.clips.values())
    clip = chosen.clip or clip_fit.item
    findings = [
        _strap(pipe, strap, strap_fit),
        _screw("strap-screw", "straps", chosen.strap_screw, strap_screw_fit),
        _screw("batten-screw", "battens", chosen.batten_screw, batten_fit),
        _clip(pipe, clip, clip_fit),
    ]
    return Fitted(
        strap,
        chosen.strap_screw or strap_screw_fit.item,
        chosen.batten_screw or batten_fit.item,
        _board_screw(board, screws),
        clip,
        tuple(findings),
    )


def _board_screw(board: Board, screws: tuple[Screw, ...]) -> Screw | None:
    """Return the stoutest outdoor flat-head screw that bites one board's thickness past another.

    It goes through the side board into the end grain of the end board, where withdrawal counts
    for nothing (NDS 2018 section 12.2.2.3, copy read): corners are held in shear.
    """
    fitting = [
        screw
        for screw in screws
        if screw.outdoors == "yes"
        and screw.head == "flat"
        and screw.length >= board.thickness + INCH
    ]
    return max(fitting, key=lambda screw: (screw.size.diameter, screw.length), default=None)


def _strap(pipe: Pipe, strap: Strap | None, fit: Picked[Strap]) -> Finding:
    values: dict[str, float | str] = {"pipe": pipe.name, "outside": pipe.outside_diameter}
    if strap is None:
        says = "No strap in the catalogue fits {pipe} ({outside:tape} outside)."
        do = "Buy {need}, or add its row to your own catalogue file."
        return _none("strap", says, do, values, fit)
    values["strap"] = strap.name
    if strap_fits(strap, pipe):
        says = "{strap} fits {pipe}."
        return Finding("strap-fit", Severity.FINE, says, "", values, source=strap.source)
    values |= {"low": strap.least_outside_diameter, "high": strap.greatest_outside_diameter}
    values["right"] = fit.item.name if fit.item else fit.need
    return Finding(
        "strap-fit",
        Severity.CHANGE,
        "{strap} is for tube {low:tape} to {high:tape} outside; {pipe} is {outside:tape}.",
        "Buy {right}.",
        values,
        pipe.outside_diameter,
        strap.greatest_outside_diameter,
        "tape",
        strap.source,
    )


def _clip(pipe: Pipe, clip: Clip | None, fit: Picked[Clip]) -> Finding:
    values: dict[str, float | str] = {"pipe": pipe.name, "outside": pipe.outside_diameter}
    if clip is None:
        says = "No clip in the catalogue grips {pipe} ({outside:tape} outside)."
        return _none("clip", says, "Buy {need}.", values, fit)
    values |= {"clip": clip.name, "length": clip.length}
    if clip_fits(clip, pipe):
        how = ", cut {length:tape} long and slit along one side," if clip.kind != "snap" else ""
        severity, says, do = Severity.FINE, "{clip}" + how + " grips {pipe}.", ""
    else:
        values["right"] = fit.item.name if fit.item else fit.need
        says = "{clip} does not grip {pipe} ({outside:tape} outside)."
        severity, do = Severity.CHANGE, "Take {right}."
    return Finding("clip-fit", severity, says, do, values, source=clip.source)


def _screw(name: str, use: str, asked: Screw | None, fit: Picked[Screw]) -> Finding:
    values: dict[str, float | str] = {"use": use}
    used = asked or fit.item
    if used is None:
        says = "No screw in the catalogue suits the {use}."
        return _none("screw", says, "Buy {need}.", values, fit, name)
    values["screw"] = used.name
    if fit.item and used in (fit.item, *fit.others):
        severity, says, do = Severity.FINE, "{screw} suits the {use}.", ""
    else:
        values["right"] = fit.item.name if fit.item else fit.need
        says = "{screw} does not suit the {use}: too short, too long, or the wrong head or gauge."
        says += " It rusts outdoors and snaps." if used.outdoors == "no" else ""
        severity, do = Severity.CHANGE, "Buy {right}."
    return Finding(name, severity, says, do, values, source=used.source)


def _none(
    what: str, says: str, do: str, values: dict[str, float | str], fit: Picked[Any], name: str = ""
) -> Finding:
    """Return that the catalogue holds nothing of a kind that fits."""
    source, values = f"{what.capitalize()} sizes of the catalogue", values | {"need": fit.need}
    return Finding(name or f"{what}-fit", Severity.CHANGE, says, do, values, source=source)
