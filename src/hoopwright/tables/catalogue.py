"""The catalogue: every pipe, board, cover and fitting by its key, each table read when wanted."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import cache, cached_property
from operator import attrgetter
from pathlib import Path
from typing import Any, Generic

from hoopwright.frozen import dataclass
from hoopwright.tables.covers import CoverMaterial, CoverStrength, OpticsFamily, RollSize
from hoopwright.tables.figures import figures_by_owner
from hoopwright.tables.fittings import Clip, Cord, Rail, Screw, ScrewSize, Stake, Strap
from hoopwright.tables.money import OUR_CURRENCY, prices_of_rows, refuse_twice
from hoopwright.tables.overlay import LONG_TABLES, OverlayRow, OwnFile, laid_over, overlay_rows
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

Values = dict[str, Any]

PRICED = (
    *("pipe", "lumber", "batten", "cover", "strap", "screw"),
    *("clip", "rail_clip", "stake", "rail", "cord"),
)
"""Tables of things that are bought."""


class UnknownKeyError(KeyError):
    """A key the catalogue does not have; the message names the nearest ones."""

    def __str__(self) -> str:
        """Return the message without the quotes that KeyError puts round it."""
        return str(self.args[0])


class _ByKey(Generic[Record]):
    """A table of the catalogue: its records by key, read when first asked for and then kept.

    parts : gets the catalogue, what a row says and its place; returns fields that are no columns
    """

    def __init__(
        self,
        table: str,
        record: type[Record],
        parts: Callable[[Catalogue, Values, str], Values] | None = None,
    ) -> None:
        self.table, self.record, self.parts = table, record, parts

    def __set_name__(self, owner: type[Any], name: str) -> None:
        self.name = name

    def __get__(self, catalogue: Catalogue, owner: type[Any]) -> Mapping[str, Record]:
        # What is kept under the same name in the instance is found before this is asked again.
        rows, parts = catalogue.rows(self.table), self.parts
        if self.table in LONG_TABLES:
            found = figures_by_owner(rows, self.record)
        elif parts is None:
            found = by_key(rows, self.record)
        else:
            found = by_key(rows, self.record, lambda values, at: parts(catalogue, values, at))
        vars(catalogue)[self.name] = found
        return found


class _One(Generic[Record]):
    """How one thing of a table is had by its key; UnknownKeyError names the nearest."""

    def __init__(self, table: _ByKey[Record], what: str) -> None:
        self.table, self.what = table, what

    def __get__(self, catalogue: Catalogue, owner: type[Any]) -> Callable[[str], Record]:
        def held(key: str) -> Record:
            items: Mapping[str, Record] = getattr(catalogue, self.table.name)
            if key in items:
                return items[key]
            known = nearest(key, items) or f" (there are: {', '.join(items)})"
            raise UnknownKeyError(f"no {self.what} '{key}' in the catalogue{known}")

        return held


def _part(items: Mapping[str, Record], key: str, column: str, place: str) -> Record:
    if key in items:
        return items[key]
    raise TableError(f"{place}, column '{column}': no '{key}'{nearest(key, items)}")


def _parts_of_pipe(catalogue: Catalogue, values: Values, place: str) -> Values:
    found = _part(catalogue.pipe_materials, values["material"], "material", place)
    return {"stuff": found, **section_of(values, found, place)}


def _parts_of_cover(catalogue: Catalogue, values: Values, place: str) -> Values:
    optics, strength = values["optics_family"], values["strength_family"]
    rolls = [roll for roll in catalogue.rolls if roll.cover == values["key"]]
    return {
        "optics": _part(catalogue.cover_optics, optics, "optics family", place),
        "strength": _part(catalogue.cover_strengths, strength, "strength family", place),
        "rolls": tuple(sorted(rolls, key=lambda roll: (roll.width, roll.length))),
    }


def _parts_of_screw(catalogue: Catalogue, values: Values, place: str) -> Values:
    return {"size": _part(catalogue.screw_sizes, values["gauge"], "gauge", place)}


@dataclass(frozen=True)
class Catalogue:
    """All tables, ours with the user's own rows laid over them. `Catalogue()` is ours alone."""

    overlays: tuple[OverlayRow, ...] = ()

    pipes = _ByKey("pipe", Pipe, _parts_of_pipe)
    pipe_materials = _ByKey("pipe_material", PipeMaterial)
    boards = _ByKey("lumber", Board)
    all_species = _ByKey("species", Species)
    battens = _ByKey("batten", Batten)
    covers = _ByKey("cover", CoverMaterial, _parts_of_cover)
    cover_optics = _ByKey("cover_optics", OpticsFamily)
    cover_strengths = _ByKey("cover_strength", CoverStrength)
    straps = _ByKey("strap", Strap)
    screws = _ByKey("screw", Screw, _parts_of_screw)
    screw_sizes = _ByKey("screw_size", ScrewSize)
    clips = _ByKey("clip", Clip)
    rail_clips = _ByKey("rail_clip", Clip)
    stakes = _ByKey("stake", Stake)
    rails = _ByKey("rail", Rail)
    cords = _ByKey("cord", Cord)
    reaches = _ByKey("reach", Reach)
    tools = _ByKey("tool", Tool)

    pipe = _One(pipes, "pipe")
    """A pipe by its key, as "pvc40-3/4"."""
    board = _One(boards, "lumber size")
    """Lumber by its nominal size, as "2x12"."""
    species = _One(all_species, "species")
    """A wood species, as "doug-fir-larch"."""
    batten = _One(battens, "batten")
    """A batten, as "batten-1x2"."""
    cover = _One(covers, "cover")
    """A film, fabric or mesh, as "film-6mil-uv4"."""
    strap = _One(straps, "strap")
    """A tube strap, as "strap-ips-3/4"."""
    screw = _One(screws, "screw")
    """A screw, as "screw-8x1-1/4"."""
    clip = _One(clips, "clip")
    """A film clip, as "clip-tube-1"."""
    stake = _One(stakes, "stake")
    """A stake or sleeve rod, as "rebar-4"."""
    rail = _One(rails, "rail")
    """A roll-up rail, as "rail-emt-3/4"."""
    reach = _One(reaches, "reach")
    """How far a person reaches: "adult", "child" or "seated"."""

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
        held: Mapping[str, Any] = getattr(self, _KEYED[table].name)
        return tuple(held.values())

    def prices_of(self, thing: str) -> tuple[Price, ...]:
        """Return the prices of a thing, smallest form first; empty when none is listed."""
        return self._listed.get(thing, ())

    @cached_property
    def _listed(self) -> Mapping[str, tuple[Price, ...]]:
        found: dict[str, tuple[Price, ...]] = {}
        by_size = attrgetter("length", "width", "count")
        forms = sorted(self.prices, key=lambda one: [size or 0 for size in by_size(one)])
        for price in forms:
            found[price.thing] = (*found.get(price.thing, ()), price)
        return found

    @cached_property
    def rolls(self) -> tuple[RollSize, ...]:
        """All roll sizes of all covers."""
        return tuple(records_of(self.rows("roll"), RollSize))

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

    def __reduce__(self) -> tuple[Any, ...]:
        """Go to another process as what it was made of, without the tables read."""
        return (Catalogue, (self.overlays,)) if self.overlays else (our_catalogue, ())


@cache
def our_catalogue() -> Catalogue:
    """Return the one catalogue of ours alone, its tables read once for all plans of a process."""
    return Catalogue()


_KEYED = {one.table: one for one in vars(Catalogue).values() if isinstance(one, _ByKey)}

TABLES: Mapping[str, type[Any]] = {
    **{table: one.record for table, one in _KEYED.items()},
    "roll": RollSize,
    "price": Price,
}
"""Table (file `data/<table>.csv`) -> the record of one row."""
