"""What a plan says of its place: where it is, what it stands in, and its climate in means."""

from typing import Annotated, Literal

from pydantic import Field

from hoopwright.plan.fields import OneLine, Quantity, written
from hoopwright.plan.section import Number, PlanSection
from hoopwright.site.place import Exposure
from hoopwright.site.standard import StandardName

Barrier = Literal["none", "solid fence", "slatted fence", "dense hedge", "bare hedge"]


class Skyline(PlanSection):
    """One point of the skyline seen from the bed."""

    direction: Annotated[float, Quantity("angle", "0 deg", "359.9 deg")] = Field(
        description="Direction, clockwise from north."
    )
    height: Annotated[float, Quantity("angle", "0 deg", "80 deg")] = Field(
        description="Height of hills, house or trees there, above the level."
    )


class SiteSection(PlanSection):
    """The place. Wind, snow and climate are worked out from it."""

    name: OneLine = Field(default="", max_length=80, description="What the place is called.")
    latitude: Annotated[float, Quantity("latitude", "66 S", "70 N")] | None = Field(
        default=None, description="Latitude, for the sun and the climate."
    )
    longitude: Annotated[float, Quantity("longitude", "180 W", "180 E")] | None = Field(
        default=None, description="Longitude, for the time zone and the forecast."
    )
    elevation: Annotated[float, Quantity("elevation", "-1300 ft", "16000 ft")] | None = Field(
        default=None, description="Height above sea level: thinner air, colder nights."
    )
    exposure: Exposure = Field(
        default="open",
        description="What stands upwind: houses and trees, open fields, or water.",
    )
    weather: OneLine = Field(
        default="demo",
        max_length=400,
        description="Weather file beside the plan (EPW, TMY3, GHCN-Daily), normals (the section of "
        "that name), or demo: the invented valley that ships with Hoopwright.",
    )
    skyline: tuple[Skyline, ...] = Field(
        default=(), description="Skyline seen from the bed: direction and height of each point."
    )
    cold_pool: Annotated[float, Quantity("temperature difference", "-10 F", "25 F")] = written(
        "0 F", "How much colder the bed is than its weather station on clear calm nights."
    )
    standard: StandardName | None = Field(
        default=None,
        description="Whose wind and snow to work by: ASCE 7 (the American standard) or EN 1991 "
        "(the European). Default: that of the country at latitude and longitude, else ASCE 7.",
    )
    gust: Annotated[float, Quantity("speed", "20 mph", "200 mph")] | None = Field(
        default=None,
        examples=["90 mph"],
        description="Gust to design for: 3-second, 10 m up, open country (your building code's "
        "wind map, or the worst you expect).",
    )
    gust_years: Number = Field(
        default=50.0,
        ge=1,
        le=3000,
        examples=[10],
        description="Years between gusts that strong, on average: 50 for older code maps, 300 for "
        "the newer American map for garden sheds, 10 for the worst in ten years.",
    )
    ground_snow: Annotated[float, Quantity("pressure", "0 psf", "300 psf")] | None = Field(
        default=None,
        examples=["20 psf"],
        description="Snow load on the ground to design for (your building code's snow map).",
    )
    snow_years: Number = Field(
        default=50.0,
        ge=2,
        le=3000,
        examples=[10],
        description="Years between winters with that much snow, on average: 50 for most code maps, "
        "10 for the worst in ten years.",
    )
    barrier: Barrier = Field(
        default="none", description="What shelters the bed from the wind that matters."
    )
    barrier_height: Annotated[float, Quantity("length", "1 ft", "100 ft")] = written(
        "6 ft", "Height of that barrier."
    )
    barrier_distance: Annotated[float, Quantity("length", "0 ft", "2000 ft")] = written(
        "30 ft", "From that barrier to the bed."
    )
    barrier_length: Annotated[float, Quantity("length", "1 ft", "5000 ft")] = written(
        "40 ft", "Length of that barrier, its middle abreast of the bed."
    )
    barrier_direction: Annotated[float, Quantity("angle", "0 deg", "359.9 deg")] | None = Field(
        default=None,
        examples=["270 deg"],
        description="Where that barrier stands as seen from the bed, clockwise from north. With an "
        "hourly weather file the odds then count how often strong winds come from there.",
    )


class NormalsSection(PlanSection):
    """Twelve monthly means of the place, January first, where no weather file is at hand."""

    maximum: tuple[Annotated[float, Quantity("temperature", "-60 F", "120 F")], ...] = Field(
        description="Mean of the days' highest temperatures."
    )
    minimum: tuple[Annotated[float, Quantity("temperature", "-80 F", "100 F")], ...] = Field(
        description="Mean of the nights' lowest temperatures."
    )
    precipitation: tuple[Annotated[float, Quantity("length", "0 in", "60 in")], ...] = Field(
        default=(), description="Rain and melted snow in the month."
    )
    wet_days: tuple[Annotated[Number, Field(ge=0, le=31)], ...] = Field(
        default=(), description="Days with rain or snow."
    )
    sun_hours: tuple[Annotated[Number, Field(ge=0, le=24)], ...] = Field(
        default=(), description="Hours of bright sun a day. Default: a middling sky."
    )
    wind: tuple[Annotated[float, Quantity("speed", "0 mph", "50 mph")], ...] = Field(
        default=(), description="Mean wind at 33 ft (10 m). Default: 7 mph (3 m/s)."
    )
    dew_point: tuple[Annotated[float, Quantity("temperature", "-80 F", "90 F")], ...] = Field(
        default=(), description="Mean dew point. Default: 2 C (4 F) below the mean minimum."
    )
