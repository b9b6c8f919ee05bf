"""What a server may do: where it listens, who may come in, and how much of each thing."""

import os
import secrets
from dataclasses import field
from pathlib import Path

from hoopwright.climate.read.text import LARGEST
from hoopwright.frozen import dataclass

#: Letters of a join code: none that is taken for another when read aloud or from a board.
_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"


def join_code() -> str:
    """Return a new code of two groups of four letters, about 40 bits."""
    letters = [secrets.choice(_LETTERS) for _ in range(8)]
    return "".join(letters[:4]) + "-" + "".join(letters[4:])


@dataclass(frozen=True)
class ServerLimits:
    """How much is let in and run.

    upload      : bytes of one request
    weather     : bytes of a weather file
    seconds     : for one piece of work that a page waits for
    job_seconds : for one job
    plans       : saved plans of one visitor
    jobs        : jobs of one visitor not yet over
    rate, burst : requests a second of one visitor, and at once (with --lan)
    joins       : tries of a join code a minute from one address
    """

    upload: int = 256 * 1024
    weather: int = LARGEST
    seconds: float = 20.0
    job_seconds: float = 900.0
    plans: int = 200
    jobs: int = 3
    rate: float = 20.0
    burst: float = 60.0
    joins: int = 10


@dataclass(frozen=True)
class ServerSettings:
    """One server.

    hosts      : names and addresses that a browser may call it by
    lan        : visitors from other machines, each with a join code and their own plans
    code       : opens the door to a visitor; owner_code to the machine's own plans
    workers    : processes that work designs out
    """

    folder: Path
    hosts: frozenset[str] = frozenset({"127.0.0.1", "localhost", "[::1]"})
    lan: bool = False
    code: str = field(default_factory=join_code, repr=False)
    owner_code: str = field(default_factory=join_code, repr=False)
    workers: int = max(2, min(4, os.cpu_count() or 2))
    limits: ServerLimits = field(default_factory=ServerLimits)
