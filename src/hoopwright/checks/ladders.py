"""The ladders of many designs, each part worked out once for all that share it."""

from collections.abc import Iterable
from dataclasses import dataclass, field, fields, is_dataclass, replace

import numpy as np

from hoopwright.checks.followed_hoop import FollowedHoop, depends_on, follow_hoops
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.ladder import Ladder, ladder
from hoopwright.checks.standing import Standing


@dataclass
class Ladders:
    """Ladders of designs out of one catalogue, and what they share.

    whole : each as it would be alone; else without the rungs by which no headline and no wet snow
        go, one serving designs that differ in what moves those by a hundred-thousandth of a gust
        at most: a side's edge, its batten or rail, and what holds the box down
    """

    whole: bool = True
    _hoops: dict[object, FollowedHoop] = field(default_factory=dict)
    _found: dict[object, Ladder] = field(default_factory=dict)
    _inputs: dict[object, Inputs] = field(default_factory=dict)

    def know(self, found: Ladder) -> None:
        """Take in what a ladder that is worked out already has for others."""
        standing = found.inputs.standing
        self._hoops[depends_on(standing)] = found.followed
        self._found[self._key(standing)] = found
        self._inputs[self._but_for_hold(standing)] = found.inputs

    def prepare(self, standings: Iterable[Standing]) -> None:
        """Follow hoops side by side, before ladders are asked for one by one."""
        each = {depends_on(one): one for one in standings}
        missing = {key: one for key, one in each.items() if key not in self._hoops}
        if missing:
            self._hoops |= zip(missing, follow_hoops(list(missing.values())), strict=True)

    def of(self, standing: Standing) -> Ladder:
        """Return the ladder of a bed, where not whole maybe of one that differs as said above."""
        key = self._key(standing)
        if key not in self._found:
            self.prepare([standing])
            shared = self._but_for_hold(standing)
            found = ladder(
                standing,
                self._hoops[depends_on(standing)],
                self._inputs.get(shared),
                whole=self.whole,
            )
            self._found[key] = found
            self._inputs.setdefault(shared, found.inputs)
        return self._found[key]

    def forget(self) -> None:
        """Let go of all, which would fill the memory."""
        for kept in (self._hoops, self._found, self._inputs):
            kept.clear()

    def _key(self, standing: Standing) -> object:
        if self.whole:
            return _values(standing)
        return self._but_for_hold(standing), standing.hold_down.pin

    def _but_for_hold(self, standing: Standing) -> object:
        """Return all that a ladder depends on but pins and what holds the box to the ground."""
        cover = standing.cover
        hold = replace(standing.hold_down, pin=None, stake=None, stakes=0, tied_to_soil=False)
        if self.whole:
            return _values(replace(standing, hold_down=hold))
        return (
            *(depends_on(standing), hold),
            *(standing.site, standing.bed, standing.legs, standing.hoops, standing.brushed),
            *(standing.strap, standing.strap_screw, standing.batten_screw, standing.board_screw),
            *(standing.ridged, standing.ridge_strut, standing.laced, standing.braced),
            *(cover.material.key, cover.rail.key, cover.clip, cover.style),
            *(tuple(cover.clip_arc), cover.clip_spacing),
        )


def _values(thing: object) -> object:
    """Return all that a thing is made of, to know one by that is alike in everything.

    Raises TypeError where it is made of what cannot be told apart by its value.
    """
    if isinstance(thing, np.ndarray):
        return thing.shape, thing.dtype.str, thing.tobytes()
    if isinstance(thing, tuple):
        return tuple(map(_values, thing))
    try:
        hash(thing)
    except TypeError:
        if not is_dataclass(thing):
            raise
        return type(thing), *(_values(getattr(thing, one.name)) for one in fields(thing))
    return thing
