"""Whether strap, clip and screws fit the pipe, the board and the batten they are for."""

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
        values["need"] = fit.need
        return Finding(
            "strap-fit",
            Severity.CHANGE,
            "No strap in the catalogue fits {pipe} ({outside:tape} outside).",
            "Buy {need}, or add its row to your own catalogue file.",
            values,
            source="Strap sizes of the catalogue",
        )
    values["strap"] = strap.name
    if strap_fits(strap, pipe):
        return Finding(
            "strap-fit", Severity.FINE, "{strap} fits {pipe}.", "", values, source=strap.source
        )
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
        values["need"] = fit.need
        return Finding(
            "clip-fit",
            Severity.CHANGE,
            "No clip in the catalogue grips {pipe} ({outside:tape} outside).",
            "Buy {need}.",
            values,
            source="Clip sizes of the catalogue",
        )
    values |= {"clip": clip.name, "length": clip.length}
    if clip_fits(clip, pipe):
        how = ", cut {length:tape} long and slit along one side," if clip.kind != "snap" else ""
        return Finding(
            "clip-fit",
            Severity.FINE,
            "{clip}" + how + " grips {pipe}.",
            "",
            values,
            source=clip.source,
        )
    values["right"] = fit.item.name if fit.item else fit.need
    return Finding(
        "clip-fit",
        Severity.CHANGE,
        "{clip} does not grip {pipe} ({outside:tape} outside).",
        "Take {right}.",
        values,
        source=clip.source,
    )


def _screw(name: str, use: str, asked: Screw | None, fit: Picked[Screw]) -> Finding:
    fitting = [fit.item, *fit.others] if fit.item else []
    values: dict[str, float | str] = {"use": use}
    if asked is None and fit.item is None:
        values["need"] = fit.need
        return Finding(
            name,
            Severity.CHANGE,
            "No screw in the catalogue suits the {use}.",
            "Buy {need}.",
            values,
            source="Screw sizes of the catalogue",
        )
    used = asked or fit.item
    assert used is not None
    values["screw"] = used.name
    if used in fitting:
        return Finding(
            name, Severity.FINE, "{screw} suits the {use}.", "", values, source=used.source
        )
    values["right"] = fit.item.name if fit.item else fit.need
    reason = " It rusts outdoors and snaps." if used.outdoors == "no" else ""
    return Finding(
        name,
        Severity.CHANGE,
        "{screw} does not suit the {use}: too short, too long, or the wrong head or gauge."
        + reason,
        "Buy {right}.",
        values,
        source=used.source,
    )
