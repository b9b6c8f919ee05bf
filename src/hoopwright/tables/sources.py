"""How much of each shipped table was read in a source, and what cannot be."""

from collections import Counter
from collections.abc import Iterable
from importlib import resources

from hoopwright.frozen import dataclass
from hoopwright.tables.reader import OPENED, RawRow, shipped

NOT_TO_BE_READ = {
    "price": "invented examples",
    "climate_demo_valley": "an invented valley",
    "roll": "sizes sold by shops",
    "screw": "sizes sold by shops",
    "rail": "sizes sold by shops",
    "strap": "sizes sold by shops",
    "cord": "sizes sold by shops",
    "clip": "sizes sold by shops; what holds is published nowhere",
    "rail_clip": "sizes sold by shops; what holds is published nowhere",
    "holding_grip_force": "published nowhere: docs/method/unknown.md",
    "heat_leakage": "published nowhere: docs/method/unknown.md",
    "heat_fabric_leak": "published nowhere: docs/method/unknown.md",
    "tool": "a list of tools, without numbers",
    "odds_share": "our own doubts of the models, which nobody has measured",
    "crop_kin": "our own choice of which crop stands in for which",
}
"""Tables whose rows no source can hold, and why: left out of every share."""

NEEDS = (
    "crop_germination",
    "crop_emergence",
    "crop_growth",
    "crop_base",
    "crop_cold",
    "crop_heat",
    "crop_water",
)
"""The tables of what crops need, which have a share of their own."""


@dataclass(frozen=True)
class Share:
    """How the rows of some tables are known.

    counts : rows by what `sure` says of them
    """

    name: str
    counts: Counter[str]

    @property
    def rows(self) -> int:
        """Return the number of rows."""
        return self.counts.total()

    @property
    def opened(self) -> int:
        """Return the number of rows that were read in their source or in a copy of it."""
        return sum(self.counts[word] for word in OPENED)

    @property
    def share(self) -> float:
        """Return the share read [-]."""
        return self.opened / self.rows if self.rows else 0.0


def table_names() -> list[str]:
    """Return the names of all tables that ship, in order."""
    held = resources.files("hoopwright.tables").joinpath("data")
    return sorted(
        entry.name.removesuffix(".csv") for entry in held.iterdir() if entry.name.endswith(".csv")
    )


def sureness(row: RawRow) -> str:
    """Return how sure a row is; a table without the column is invented as a whole."""
    return row.cells.get("sure", "invented")


def share_of(table: str) -> Share:
    """Return how the rows of one table are known."""
    return Share(table, Counter(sureness(row) for row in shipped(table)))


def together(name: str, shares: Iterable[Share]) -> Share:
    """Return how the rows of several tables are known."""
    counts: Counter[str] = Counter()
    for one in shares:
        counts.update(one.counts)
    return Share(name, counts)


def readable_shares() -> list[Share]:
    """Return how the rows of each table are known that a source could hold."""
    return [share_of(name) for name in table_names() if name not in NOT_TO_BE_READ]


def sums(shares: Iterable[Share]) -> list[Share]:
    """Return how the rows of crops' needs, of all tables of crops and of all tables are known."""
    known = list(shares)
    return [
        together("crop needs", (one for one in known if one.name in NEEDS)),
        together("crops", (one for one in known if one.name.partition("_")[0] == "crop")),
        together("all", known),
    ]
