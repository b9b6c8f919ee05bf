"""The ladders of many designs, each part worked out once for all that share it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from hoopwright.checks.followed_hoop import FollowedHoop, depends_on, follow_hoops
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.ladder import Ladder, ladder
from hoopwright.checks.standing import Standing


@dataclass
class Ladders:
    """Ladders of designs out of one catalogue, and what they share.

    whole : with the rungs by which no headline and no wet snow go, and each design told from one
        that differs but in a side's edge, batten or rail (a hundred-thousandth of a gust)
    """

    whole: bool = True
    _hoops: dict[object, FollowedHoop] = field(default_factory=dict)
    _found: dict[object, Ladder] = field(default_factory=dict)
    _inputs: dict[object, Inputs] = field(default_factory=dict)

    def know(self, found: Ladder) -> None:
        """Take in what a ladder that is worked out already has for others."""
        standing = found.inputs.standing
        key = self._but_for_hold(standing)
        self._hoops[depends_on(standing)] = found.followed
        self._found[key, standing.hold_down.pin], self._inputs[key] = found, found.inputs

    def prepare(self, standings: Iterable[Standing]) -> None:
        """Follow hoops side by side, before ladders are asked for one by one."""
        each = {depends_on(one): one for one in standings}
        missing = {key: one for key, one in each.items() if key not in self._hoops}
        if missing:
            self._hoops |= zip(missing, follow_hoops(list(missing.values())), strict=True)

    def of(self, standing: Standing) -> Ladder:
        """Return the ladder of a bed, or of one that differs in what holds its box down alone.

        That moves no rung but those of the bed itself.
        """
        key, pin = self._but_for_hold(standing), standing.hold_down.pin
        if (key, pin) not in self._found:
            self.prepare([standing])
            found = ladder(
                standing, self._hoops[depends_on(standing)], self._inputs.get(key), whole=self.whole
            )
            self._found[key, pin] = found
            self._inputs.setdefault(key, found.inputs)
        return self._found[key, pin]

    def forget(self) -> None:
        """Let go of all, which would fill the memory."""
        for kept in (self._hoops, self._found, self._inputs):
            kept.clear()

    def _but_for_hold(self, standing: Standing) -> object:
        """Return all that a ladder depends on but pins and what holds the box to the ground."""
        cover = standing.cover
        return (
            depends_on(standing),
            replace(standing.hold_down, pin=None, stake=None, stakes=0, tied_to_soil=False),
            *(standing.site, standing.bed, standing.legs, standing.hoops, standing.brushed),
            *(standing.strap, standing.strap_screw, standing.batten_screw, standing.board_screw),
            *(standing.ridged, standing.ridge_strut, standing.laced, standing.braced),
            *(cover.material.key, cover.rail.key, cover.clip, cover.style),
            *(tuple(cover.clip_arc), cover.clip_spacing),
            (cover.skirt, standing.film_mass) if self.whole else None,
        )
