"""What a plan file may hold: every key with its default, its range and one line of help."""

from typing import Annotated, Literal

from pydantic import Field

from hoopwright.bed import Legs, ReachFrom
from hoopwright.cover.pieces import Style
from hoopwright.holding.choices import LegStyle, RailHold
from hoopwright.loads.yearly import Brushed
from hoopwright.plan.fields import DayOfYear, Item, OneLine, Quantity, TimeOfDay, written
from hoopwright.plan.place import NormalsSection, SiteSection
from hoopwright.plan.section import Number, PlanSection, Switch, Whole
from hoopwright.units import METRIC, US, System

Sides = Literal["both", "one", "none"]
FixedEdge = Literal["batten", "bury"]
Animal = Literal["dog", "rabbit", "deer", "birds", "burrowers"]
Worker = Literal["adult", "child", "seated"]
Ridge = Literal["none", "pipe", "cord", "batten"]
Soil = Literal["bed mix", "silt", "clay", "sand"]
SideHabit = Literal[
    "never", "weekends", "daily", "automatic", "closed", "visits", "days", "always", "opener"
]
Stakes = Literal["none", "corners", "corners and sides"]


class BedSection(PlanSection):
    """The board box."""

    length: Annotated[float, Quantity("length", "2 ft", "100 ft")] = written(
        "8 ft", "Length of the bed."
    )
    width: Annotated[float, Quantity("length", "1 ft", "8 ft")] = written(
        "4 ft", "Width of the bed."
    )
    measured: Literal["outer", "inner"] = Field(
        default="outer", description="Whether length and width are over the boards or within."
    )
    board: Annotated[str, Item("lumber", "board")] = Field(
        default="2x12", description="Nominal size of the boards."
    )
    species: Annotated[str, Item("species", "wood species")] = Field(
        default="spruce-pine-fir", description="Wood of the boards; screws hold better in some."
    )
    courses: Whole = Field(default=1, ge=1, le=4, description="Boards one above the other.")
    box: Literal["new", "standing"] = Field(
        default="new", description="Whether the boards are bought new or stand already."
    )
    legs: Legs = Field(
        default="outside", description="Whether the hoop legs stand inside or outside the boards."
    )
    direction: Annotated[float, Quantity("angle", "0 deg", "180 deg")] = written(
        "90 deg",
        "Direction the long sides run, clockwise from north: 0 deg north to south, 90 deg east "
        "to west.",
    )
    reach_from: ReachFrom = Field(
        default="both", description="Long sides a person can reach in from."
    )


class HoopSection(PlanSection):
    """The bent pipes."""

    pipe: Annotated[str, Item("pipe", "pipe")] = Field(
        default="pvc40-1/2", description="Pipe, rod or wire of the catalogue."
    )
    stock_length: Annotated[float, Quantity("length", "3 ft", "40 ft")] | None = Field(
        default=None,
        examples=["10 ft"],
        description="Pipe in each hoop; a whole stick wastes nothing. Default 10 ft.",
    )
    height: Annotated[float, Quantity("length", "6 in", "12 ft")] | None = Field(
        default=None,
        examples=["36 in"],
        description="Wanted clear height at the crown over the boards, in place of stock_length.",
    )
    spacing: Annotated[float, Quantity("length", "6 in", "8 ft")] = written(
        "3 ft", "Greatest distance between hoops; they are spaced equally."
    )
    embed: Annotated[float, Quantity("length", "3 in", "6 ft")] | None = Field(
        default=None,
        examples=["10 in"],
        description="Pipe below the boards' top edge. Default: to the ground.",
    )
    straps_per_leg: Literal[1, 2] = Field(
        default=2, description="Straps on each leg; two hold it against turning."
    )
    first_offset: Annotated[float, Quantity("length", "0 in", "4 ft")] = written(
        "3 in", "First hoop from the board end."
    )
    last_offset: Annotated[float, Quantity("length", "0 in", "4 ft")] = written(
        "3 in", "Last hoop from the other board end."
    )
    pair_gap: Annotated[float, Quantity("length", "2 in", "12 in")] = written(
        "4 in", "Between the two hoops of a pair at each framed end."
    )
    guys: Switch = Field(
        default=False,
        description="Cord from each hoop's shoulders to pegs in the ground beside the bed.",
    )
    brace: Switch = Field(
        default=False,
        description="Ridge tied back to the side boards at both ends, so that the hoops cannot "
        "all lean along the bed together; wants a ridge of pipe or batten.",
    )
    ridge: Ridge = Field(
        default="none",
        description="Line along the crowns that keeps the hoops upright. A pipe or batten also "
        "props the end hoops apart against the film's pull; a cord cannot.",
    )
    coldest_bend: Annotated[float, Quantity("temperature", "-20 F", "110 F")] = written(
        "65 F", "Coldest day on which the pipe will be bent."
    )


class CoverSection(PlanSection):
    """What goes over the hoops."""

    material: Annotated[str, Item("cover", "cover")] = Field(
        default="film-6mil-uv4", description="Film, fabric or mesh of the catalogue."
    )
    style: Style = Field(
        default="framed",
        description="framed: end panels on hoops of their own and a body that rolls up; "
        "wrapped: one sheet over all.",
    )
    roll_up: Sides = Field(default="both", description="Long sides that roll up.")
    fixed_edge: FixedEdge = Field(
        default="batten", description="How a side that does not roll up is held."
    )
    skirt: Annotated[float, Quantity("length", "0 in", "4 ft")] = written(
        "4 in", "Film hanging below the board top, the least wanted."
    )
    end_overlap: Annotated[float, Quantity("length", "0 in", "2 ft")] = written(
        "3 in", "Body sheet beyond each board end (framed)."
    )
    turn: Annotated[float, Quantity("length", "1 in", "1 ft")] = written(
        "6 in", "Film of an end panel turned round its hoop."
    )
    rail: Annotated[str, Item("rail", "rail")] = Field(
        default="rail-pvc40-3/4", description="What the rolled edge winds on."
    )
    batten: Annotated[str, Item("batten", "batten")] = Field(
        default="batten-1x2", description="Strip that clamps film to a board."
    )
    clip_spacing: Annotated[float, Quantity("length", "3 in", "4 ft")] = written(
        "12 in", "Between clips along an end hoop."
    )
    lacing: Switch = Field(
        default=False, description="Cord laced over the film in the middle of each bay."
    )
    mesh_band: Annotated[float, Quantity("length", "0 in", "4 ft")] = written(
        "0 in", "Height of mesh left standing when a side is rolled up."
    )
    mesh: Annotated[str, Item("cover", "film, fabric or mesh")] = Field(
        default="hardware-cloth-1/2", description="What that band is made of."
    )


class HoldingSection(PlanSection):
    """How hoops and bed are held down, and the fittings where you would rather choose them."""

    legs: LegStyle = Field(
        default="straps",
        description="Legs strapped to the boards, or slipped over rods in the ground.",
    )
    pin: Switch = Field(
        default=False, description="One screw through each leg below its upper strap."
    )
    pull_test: tuple[Annotated[float, Quantity("force", "1 lb", "2000 lb")], ...] = Field(
        default=(),
        examples=[["35 lb", "42 lb", "38 lb"]],
        description="Your own pulls at which legs slipped, one for each leg tried.",
    )
    pull_test_aged: Switch = Field(
        default=False, description="Whether the straps tried had been on for a season."
    )
    rail: RailHold = Field(
        default="tied",
        description="How a roll-up rail is held down: by its weight alone, tied or hooked at each "
        "hoop, or clipped at each hoop.",
    )
    clip_test: tuple[Annotated[float, Quantity("force", "1 lb", "500 lb")], ...] = Field(
        default=(),
        examples=[["14 lb", "22 lb", "18 lb"]],
        description="Your own pulls at which film clips let go, one for each clip tried.",
    )
    tie_test: tuple[Annotated[float, Quantity("force", "1 lb", "500 lb")], ...] = Field(
        default=(),
        examples=[["40 lb", "35 lb"]],
        description="Your own pulls at which the ties or clips of a rail gave, one for each.",
    )
    stakes: Stakes = Field(default="none", description="Stakes that hold the box to the ground.")
    stake: Annotated[str, Item("stake", "stake")] = Field(
        default="stake-wood-2x2", description="Kind of stake."
    )
    stake_depth: Annotated[float, Quantity("length", "6 in", "4 ft")] = written(
        "18 in", "Depth of the stakes in the ground."
    )
    tied_to_soil: Switch = Field(
        default=False,
        description="Lower edges of the boards tied across under the soil, or a mesh floor.",
    )
    soil: Soil = Field(default="bed mix", description="What fills the bed.")

    strap: Annotated[str, Item("strap", "strap")] | None = Field(
        default=None, description="Strap. Default: the one that fits the pipe."
    )
    strap_screw: Annotated[str, Item("screw", "screw")] | None = Field(
        default=None, description="Screw for the straps. Default: what fits strap and board."
    )
    batten_screw: Annotated[str, Item("screw", "screw")] | None = Field(
        default=None, description="Screw for the battens. Default: what fits batten and board."
    )
    clip: Annotated[str, Item("clip", "clip")] | None = Field(
        default=None, description="Film clip. Default: a slit tube that fits the pipe."
    )


class SeasonSection(PlanSection):
    """The cover through the year, and what is grown under it."""

    cover_from: Annotated[tuple[int, int], DayOfYear()] = written("1 Jan", "Day the cover goes on.")
    cover_until: Annotated[tuple[int, int], DayOfYear()] = written(
        "31 Dec", "Last day the cover is on."
    )
    sides: SideHabit = Field(
        default="visits",
        description="What the gardener will do: never touches them; weekends (kept one way for "
        "weeks); daily (decides morning and evening; also written visits); automatic (an opener; "
        "also opener). For one way all the time: closed, days (open between visits), always.",
    )
    open_height: Annotated[float, Quantity("length", "0 in", "6 ft")] = written(
        "12 in", "How far the sides are rolled up when open."
    )
    morning: Annotated[float, TimeOfDay()] = written("7:30", "Morning visit, standard time.")
    evening: Annotated[float, TimeOfDay()] = written("17:30", "Evening visit, standard time.")
    opener_from: Annotated[float, Quantity("temperature", "40 F", "110 F")] = written(
        "75 F", "Inside air at which an automatic opener starts."
    )
    inner_fabric: Annotated[str, Item("cover", "film, fabric or mesh")] | None = Field(
        default=None,
        description="Fabric laid on the plants under the cover.",
        examples=["fabric-1.0"],
    )
    jugs: Whole = Field(default=0, ge=0, le=500, description="Gallon jugs of water inside.")
    beside: tuple[Annotated[str, Item("cover", "film, fabric or mesh")], ...] = Field(
        default=(), description="Other covers to set beside the plan's own."
    )
    crops: tuple[str, ...] = Field(
        default=(), description="Crops to look at. Default: every crop of the table."
    )
    varieties: OneLine | None = Field(
        default=None, max_length=400, description="File of your own crops and varieties."
    )
    risk: Annotated[float, Quantity("share", "1 %", "50 %")] = written(
        "10 %", "Chance of losing a crop that is put up with."
    )
    years: Whole = Field(default=30, ge=1, le=200, description="Years generated where needed.")
    seed: Whole = Field(default=1, ge=0, le=1_000_000, description="Seed of those years.")


class MeasuredSection(PlanSection):
    """What readings at this bed have shown; `hoopwright readings report --adopt` writes it."""

    leak: Number = Field(
        default=1.0, ge=0.05, le=20.0, description="Leak of the closed cover, times the table's."
    )
    light: Number = Field(
        default=1.0, ge=0.3, le=1.3, description="Light through the cover, times the table's."
    )
    moisture: Number | None = Field(
        default=None,
        ge=0.02,
        le=0.55,
        examples=[0.25],
        description="Water in the bed soil as a share of its volume. Default: 0.25.",
    )


class WishSection(PlanSection):
    """What is wanted of the finished bed."""

    animals: tuple[Animal, ...] = Field(default=(), description="Animals to keep out.")
    workers: tuple[Worker, ...] = Field(default=("adult",), description="Who works in it.")
    brushed: Brushed = Field(
        default="never", description="How often someone brushes the snow off in winter."
    )


class StockRow(PlanSection):
    """Something already at hand."""

    item: str = Field(description="Key of the catalogue.", max_length=60)
    length: Annotated[float, Quantity("length", "1 in", "1000 ft")] | None = Field(
        default=None, description="Length of each, for pipe, boards, battens, rails, film."
    )
    width: Annotated[float, Quantity("length", "1 in", "60 ft")] | None = Field(
        default=None, description="Width, for film, fabric and mesh."
    )
    count: Whole = Field(default=1, ge=1, le=100_000, description="How many.")


class Plan(PlanSection):
    """One bed and what is wanted of it."""

    name: OneLine = Field(default="Covered bed", min_length=1, max_length=80, description="Title.")
    units: Literal["us", "metric"] = Field(
        default="us", description="Units shown: feet and inches, or metric."
    )
    paper: Literal["letter", "a4"] | None = Field(
        default=None, description="Paper of the build sheet. Default: letter for us, a4 for metric."
    )
    catalogue: OneLine | None = Field(
        default=None, max_length=400, description="File of your own catalogue rows."
    )
    prices: OneLine = Field(
        default="example",
        max_length=400,
        description="Price list: the invented example list, or a file of your own prices.",
    )
    site: SiteSection = Field(default_factory=SiteSection)
    bed: BedSection = Field(default_factory=BedSection)
    hoops: HoopSection = Field(default_factory=HoopSection)
    cover: CoverSection = Field(default_factory=CoverSection)
    holding: HoldingSection = Field(default_factory=HoldingSection)
    normals: NormalsSection | None = Field(
        default=None, description="Monthly means, where no weather file is at hand."
    )
    season: SeasonSection = Field(default_factory=SeasonSection)
    measured: MeasuredSection = Field(default_factory=MeasuredSection)
    wishes: WishSection = Field(default_factory=WishSection)
    stock: tuple[StockRow, ...] = Field((), max_length=200, description="What is at hand already.")

    @property
    def system(self) -> System:
        """Return the units the plan is shown in."""
        return US if self.units == "us" else METRIC
