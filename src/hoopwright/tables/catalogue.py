"""The catalogue: every pipe, board, cover and fitting by its key, each table read when wanted."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property
from pathlib import Path
from typing import Any, Generic, TypeVar

from hoopwright.frozen import dataclass
from hoopwright.tables.covers import CoverMaterial, CoverStrength, OpticsFamily, RollSize
from hoopwright.tables.figures import figures_by_owner
from hoopwright.tables.fittings import Clip, Cord, Rail, Screw, ScrewSize, Stake, Strap
from hoopwright.tables.money import OUR_CURRENCY, prices_of_rows, refuse_twice
from hoopwright.tables.overlay import OverlayRow, OwnFile, laid_over, overlay_rows
from hoopwright.tables.people import Price, Reach, Tool
from hoopwright.tables.pipes import Pipe, PipeMaterial, section_of
from hoopwright.tables.reader import (
    RawRow,
    Record,
    TableError,
    by_key,
    nearest,
    records_of,
    shipped,
)
from hoopwright.tables.wood import Batten, Board, Species

Item = TypeVar("Item")

TABLES: Mapping[str, type[Any]] = {
    "pipe": Pipe,
    "pipe_material": PipeMaterial,
    "lumber": Board,
    "species": Species,
    "batten": Batten,
    "cover": CoverMaterial,
    "cover_optics": OpticsFamily,
    "cover_strength": CoverStrength,
    "roll": RollSize,
    "strap": Strap,
    "screw": Screw,
    "screw_size": ScrewSize,
    "clip": Clip,
    "stake": Stake,
    "rail": Rail,
    "cord": Cord,
    "reach": Reach,
    "tool": Tool,
    "price": Price,
}
"""Table (file `data/<table>.csv`) -> the record of one row."""


KEYED: Mapping[str, str] = {
    "pipe": "pipes",
    "pipe_material": "pipe_materials",
    "lumber": "boards",
    "species": "all_species",
    "batten": "battens",
    "cover": "covers",
    "cover_optics": "cover_optics",
    "cover_strength": "cover_strengths",
    "strap": "straps",
    "screw": "screws",
    "screw_size": "screw_sizes",
    "clip": "clips",
    "stake": "stakes",
    "cord": "cords",
    "rail": "rails",
    "reach": "reaches",
    "tool": "tools",
}
"""Table whose rows have a key -> the attribute of `Catalogue` that holds it."""


PRICED = ("pipe", "lumber", "batten", "cover", "strap", "screw", "clip", "stake", "rail", "cord")
"""Tables of things that are bought."""


class UnknownKeyError(KeyError):
    """A key the catalogue does not have; the message names the nearest ones."""

    def __str__(self) -> str:
        """Return the message without the quotes that KeyError puts round it."""
        return str(self.args[0])


class _ByKey(Generic[Record]):
    """A table of the catalogue: its records by key, read when first asked for and then kept."""

    def __init__(self, table: str, record: type[Record]) -> None:
        self.table, self.record = table, record

    def __set_name__(self, owner: type[Any], name: str) -> None:
        self.name = name

    def __get__(self, catalogue: Catalogue, owner: type[Any]) -> Mapping[str, Record]:
        # What is kept under the same name in the instance is found before this is asked again.
        found = by_key(catalogue.rows(self.table), self.record)
        vars(catalogue)[self.name] = found
        return found


@dataclass(frozen=True)
class Catalogue:
    """All tables, ours with the user's own rows laid over them. `Catalogue()` is ours alone."""

    overlays: tuple[OverlayRow, ...] = ()

    boards = _ByKey("lumber", Board)
    all_species = _ByKey("species", Species)
    battens = _ByKey("batten", Batten)
    straps = _ByKey("strap", Strap)
    screw_sizes = _ByKey("screw_size", ScrewSize)
    clips = _ByKey("clip", Clip)
    cords = _ByKey("cord", Cord)
    stakes = _ByKey("stake", Stake)
    rails = _ByKey("rail", Rail)
    reaches = _ByKey("reach", Reach)
    tools = _ByKey("tool", Tool)

    def with_overlay(self, path: Path | str | OwnFile, table: str | None = None) -> Catalogue:
        """Return a catalogue with the rows of a user's TOML or CSV file laid over this one.

        table : what a CSV file holds rows of, where its name does not tell
        Raises TableError, naming file, line and key, when a row cannot be used.
        """
        source = Path(path) if isinstance(path, str) else path
        added = overlay_rows(source, tuple(TABLES), table)
        refuse_twice([item.row for item in added if item.table == "price"])
        laid = Catalogue((*self.overlays, *added))
        for table in sorted({item.table for item in added}):
            laid.everything_in(table)
        laid._refuse_strays(added)
        return laid

    def _refuse_strays(self, added: Iterable[OverlayRow]) -> None:
        """Refuse prices and rolls of something that no table has: nothing would ever use them."""
        for of, column, tables in (("price", "thing", PRICED), ("roll", "cover", ("cover",))):
            rows = [item.row for item in added if item.table == of]
            if not rows:
                continue
            known = {record.key for table in tables for record in self.everything_in(table)}
            for row in rows:
                named = row.cells[column]
                if named not in known:
                    raise TableError(
                        f"{row.place}, column '{column}': no '{named[:60]}'"
                        f"{nearest(named, sorted(known))}"
                    )

    def everything_in(self, table: str) -> tuple[Any, ...]:
        """Return all records of a table by the table's name."""
        if table not in TABLES:
            raise UnknownKeyError(f"no table '{table}'{nearest(table, TABLES)}")
        if table == "roll":
            return self.rolls
        if table == "price":
            return self.prices
        held: Mapping[str, Any] = getattr(self, KEYED[table])
        return tuple(held.values())

    def pipe(self, key: str) -> Pipe:
        """Return a pipe by its key, as "pvc40-3/4"."""
        return _held(self.pipes, key, "pipe")

    def board(self, key: str) -> Board:
        """Return lumber by its nominal size, as "2x12"."""
        return _held(self.boards, key, "lumber size")

    def species(self, key: str) -> Species:
        """Return a wood species, as "doug-fir-larch"."""
        return _held(self.all_species, key, "species")

    def batten(self, key: str) -> Batten:
        """Return a batten, as "batten-1x2"."""
        return _held(self.battens, key, "batten")

    def cover(self, key: str) -> CoverMaterial:
        """Return a film, fabric or mesh, as "film-6mil-uv4"."""
        return _held(self.covers, key, "cover")

    def strap(self, key: str) -> Strap:
        """Return a tube strap, as "strap-ips-3/4"."""
        return _held(self.straps, key, "strap")

    def screw(self, key: str) -> Screw:
        """Return a screw, as "screw-8x1-1/4"."""
        return _held(self.screws, key, "screw")

    def clip(self, key: str) -> Clip:
        """Return a film clip, as "clip-tube-1"."""
        return _held(self.clips, key, "clip")

    def stake(self, key: str) -> Stake:
        """Return a stake or sleeve rod, as "rebar-4"."""
        return _held(self.stakes, key, "stake")

    def rail(self, key: str) -> Rail:
        """Return a roll-up rail, as "rail-emt-3/4"."""
        return _held(self.rails, key, "rail")

    def reach(self, key: str) -> Reach:
        """Return how far a person reaches: "adult", "child" or "seated"."""
        return _held(self.reaches, key, "reach")

    def prices_of(self, thing: str) -> tuple[Price, ...]:
        """Return the prices of a thing, smallest form first; empty when none is listed."""
        found = [price for price in self.prices if price.thing == thing]
        return tuple(
            sorted(found, key=lambda price: (price.length or 0, price.width or 0, price.count or 0))
        )

    @cached_property
    def pipes(self) -> Mapping[str, Pipe]:
        """All pipes by key."""

        def stuff(values: dict[str, Any], place: str) -> dict[str, Any]:
            found = _part(self.pipe_materials, values["material"], "material", place)
            return {"stuff": found, **section_of(values, found, place)}

        return by_key(self.rows("pipe"), Pipe, stuff)

    @cached_property
    def pipe_materials(self) -> Mapping[str, PipeMaterial]:
        """What pipes are made of, by key."""
        return figures_by_owner(self.rows("pipe_material"), PipeMaterial)

    @cached_property
    def covers(self) -> Mapping[str, CoverMaterial]:
        """All films, fabrics and meshes by key."""

        def parts(values: dict[str, Any], place: str) -> dict[str, Any]:
            optics, strength = values["optics_family"], values["strength_family"]
            return {
                "optics": _part(self.cover_optics, optics, "optics family", place),
                "strength": _part(self.cover_strengths, strength, "strength family", place),
                "rolls": tuple(
                    sorted(
                        (roll for roll in self.rolls if roll.cover == values["key"]),
                        key=lambda roll: (roll.width, roll.length),
                    )
                ),
            }

        return by_key(self.rows("cover"), CoverMaterial, parts)

    @cached_property
    def cover_optics(self) -> Mapping[str, OpticsFamily]:
        """Radiation through covers by family."""
        return figures_by_owner(self.rows("cover_optics"), OpticsFamily)

    @cached_property
    def cover_strengths(self) -> Mapping[str, CoverStrength]:
        """Strength of covers by family."""
        return figures_by_owner(self.rows("cover_strength"), CoverStrength)

    @cached_property
    def rolls(self) -> tuple[RollSize, ...]:
        """All roll sizes of all covers."""
        return tuple(records_of(self.rows("roll"), RollSize))

    @cached_property
    def screws(self) -> Mapping[str, Screw]:
        """All screws by key."""

        def size(values: dict[str, Any], place: str) -> dict[str, Any]:
            return {"size": _part(self.screw_sizes, values["gauge"], "gauge", place)}

        return by_key(self.rows("screw"), Screw, size)

    @cached_property
    def prices(self) -> tuple[Price, ...]:
        """All prices; a user's price of a thing in a form replaces ours of that form."""
        return prices_of_rows(self.rows("price"))

    @property
    def currency(self) -> str:
        """The currency of all prices."""
        return self.prices[0].currency if self.prices else OUR_CURRENCY

    def rows(self, table: str) -> list[RawRow]:
        """Return the rows of a table as written, the user's laid over ours."""
        return laid_over(table, shipped(table), self.overlays)


def _held(items: Mapping[str, Item], key: str, what: str) -> Item:
    if key in items:
        return items[key]
    known = nearest(key, items) or f" (there are: {', '.join(items)})"
    raise UnknownKeyError(f"no {what} '{key}' in the catalogue{known}")


def _part(items: Mapping[str, Item], key: str, column: str, place: str) -> Item:
    if key in items:
        return items[key]
    raise TableError(f"{place}, column '{column}': no '{key}'{nearest(key, items)}")
