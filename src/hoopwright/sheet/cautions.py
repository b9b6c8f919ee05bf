"""The usual cautions: which of them this bed calls for, and their words."""

from collections.abc import Iterable, Mapping
from typing import Annotated

from hoopwright.answers.voice import message
from hoopwright.frozen import dataclass
from hoopwright.sheet.content import UsualCaution
from hoopwright.sheet.traits import applies
from hoopwright.tables.reader import Keyed, rows_of, text

CLOSING = message(
    "This sheet is a plan for a garden bed and not an engineer's design. Local codes come first; "
    "where they, a school or a public site ask for a permit or a licensed person, ask before "
    "you build."
)
#: Beside their steps alone, so that the rest keep to the first page; of flames, the words on heat
#: under film speak there.
BESIDE_STEPS = ("scald", "cut-mesh", "trips", "lifting", "flame")
#: Told on the card where the weather is.
WEATHER_LAST = ("snow", "heat")
#: Screen -> the cautions it shows in short: those of its steps, storms and loads.
SCREENS: Mapping[str, tuple[str, ...]] = {
    "bed": ("spring-back", "wind", "snow"),
    "limits": ("wind", "snow", "ladder"),
    "season": ("heat", "wind"),
    "today": ("heat", "wind", "snow"),
    "class": ("film-children", "spring-back", "lifting"),
    "choose": ("wind", "snow"),
}


@dataclass(frozen=True)
class CautionRow(Keyed):
    """One usual caution; `when` names the traits of a bed that calls for it."""

    when: Annotated[str, text()]
    title: Annotated[str, text()]
    short: Annotated[str, text()]
    text: Annotated[str, text()]


def caution_rows() -> tuple[CautionRow, ...]:
    """Return the usual cautions."""
    return rows_of(CautionRow, "caution", "sheet/data")


def cautions_on(screen: str) -> tuple[str, ...]:
    """Return what a screen of the browser says, in short, whatever the bed."""
    words = {row.key: row.short for row in caution_rows()}
    return tuple(words[key] for key in SCREENS[screen])


def cautions_for(traits: frozenset[str]) -> dict[str, UsualCaution]:
    """Return the cautions of this bed by key, in the order of the table."""
    return {
        row.key: UsualCaution(row.key, row.title, row.short, row.text)
        for row in caution_rows()
        if applies(row.when, traits)
    }


def chosen(cautions: Mapping[str, UsualCaution], keys: Iterable[str]) -> tuple[UsualCaution, ...]:
    """Return the cautions of these keys; one that this bed does not call for is left out."""
    return tuple(cautions[key] for key in keys if key in cautions)


def first_page(cautions: Mapping[str, UsualCaution]) -> tuple[UsualCaution, ...]:
    """Return what stands together on the first page."""
    return tuple(one for key, one in cautions.items() if key not in BESIDE_STEPS)
