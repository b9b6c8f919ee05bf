"""A logger's file made ready to be kept: its clock as standard time, what cannot be left out."""

from datetime import datetime
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass
from hoopwright.readings.clean import clean
from hoopwright.readings.hourly import to_standard
from hoopwright.readings.recognise import Answers, Logger, LoggerColumn, logger_of, read_logger
from hoopwright.readings.text import ReadingsError, decoded, rows_of

Series = NDArray[np.float64]
#: Faults told one by one; more are counted.
TOLD = 12


@dataclass(frozen=True)
class LoggerClock:
    """What a person says of a logger's clock; it stands over what the file says.

    zone : whose summer time it kept, as America/Denver;  utc : hours of it from UTC [h]
    """

    zone: str | None = None
    utc: float | None = None

    def __post_init__(self) -> None:
        """Refuse a clock that no place keeps, before any file is read by it."""
        if self.utc is not None and not -12.0 <= self.utc <= 14.0:
            raise ReadingsError(f"UTC{self.utc:+g}: clocks keep between -12 and 14 hours from UTC")


@dataclass(frozen=True)
class ReadFile:
    """A file as it is used.

    times  : local standard time, in order
    series : each column used, with its readings [degC]
    notes  : how it was read, the clock last;  faults : what is wrong in it, left out
    """

    logger: Logger
    times: tuple[datetime, ...]
    series: tuple[tuple[LoggerColumn, Series], ...]
    notes: tuple[str, ...]
    faults: tuple[str, ...]

    @property
    def told(self) -> list[str]:
        """Return the faults, many of them in short."""
        more = len(self.faults) - TOLD
        return [*self.faults[:TOLD], *([f"and {more} more"] if more > 0 else [])]


def place_offset(longitude: float | None) -> float:
    """Return the place's standard time from UTC [h]: the nearest whole hour by the sun.

    Zones bend round borders by an hour or two; days and nights stay whole by the sun's hour, and
    the model's sun is told the same.
    """
    return 0.0 if longitude is None else float(round(longitude / 15.0))


def read_file(file: Path, answers: Answers, clock: LoggerClock, place: float) -> ReadFile:
    """Return a logger's file; place: its standard time from UTC [h]. Raises ReadingsError."""
    return used(read_logger(file, answers), clock, place)


def read_bytes(
    name: str, data: bytes, answers: Answers, clock: LoggerClock, place: float
) -> ReadFile:
    """Return the same of a file's bytes."""
    return used(logger_of(rows_of(decoded(data), name), name, answers), clock, place)


def used(logger: Logger, clock: LoggerClock, place: float) -> ReadFile:
    """Return what of a logger's file is used, and how it was read."""
    chosen = [column for column in logger.columns if column.role]
    found = clean(logger.times, [column.values for column in chosen], logger.line)
    offset, zone, words = _clock(logger, clock)
    times = tuple(to_standard(found.times, offset, place, zone))
    return ReadFile(
        logger,
        times,
        tuple(zip(chosen, found.values, strict=True)),
        (*logger.notes, f"clock: {words}"),
        tuple(fault.says for fault in found.faults),
    )


def _clock(logger: Logger, said: LoggerClock) -> tuple[float | None, str | None, str]:
    """Return the clock's hours from UTC, or its zone, and how that is known."""
    if said.utc is not None:
        return said.utc, None, f"UTC{said.utc:+g}, as you say"
    if said.zone is not None:
        return None, said.zone, f"summer time of {said.zone} taken out"
    if logger.offset is not None:
        return logger.offset, None, f"UTC{logger.offset:+g}, as the file says"
    if logger.zone is not None:
        return None, logger.zone, f"{logger.zone} with its summer time, as the file says"
    return None, None, "local standard time, as assumed; --zone or --utc says otherwise"
