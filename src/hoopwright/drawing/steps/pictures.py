"""The picture of every step that a plan has, each fitted to its place on paper."""

import bisect
from collections.abc import Callable, Sequence
from functools import cache, partial
from pathlib import Path

from hoopwright import units, writing
from hoopwright.answers.voice import Voice
from hoopwright.design import Design
from hoopwright.drawing.layout import Layout, lay_out, solid_of
from hoopwright.drawing.scene import View
from hoopwright.drawing.steps.close_up import CLOSE_UPS, close_up
from hoopwright.drawing.steps.overview import ADDS, finished, overview
from hoopwright.drawing.subject import Subject
from hoopwright.drawing.svg import write_svg
from hoopwright.drawing.views import subject_of

#: Nobody measures on these pictures: scales in close steps, down to half of what would fit alone.
_STEP, _STEPS = 1.03, 24
_MARGIN = 0.0004
#: Room for a picture as a file of its own [m].
_WIDTH, _HEIGHT = 0.12, 0.08


def step_views(design: Design, keys: Sequence[str], say: Voice | None = None) -> dict[str, View]:
    """Return the picture of each step by its key, its words in the reader's language.

    keys : the steps of the plan in order; one that no picture shows is left out
    """
    subject, found = _subject(design, say), dict[str, View]()
    for number, key in enumerate(keys):
        if key == "bend" and "rods" in keys:
            found[key] = overview(key, tuple(keys[:number]), subject)
        elif key == "battens" and "wrapped-sheet" in keys:
            continue
        elif key in CLOSE_UPS:
            found[key] = close_up(key, subject)
        elif key in ADDS:
            found[key] = overview(key, tuple(keys[:number]), subject)
    return found


def finished_view(design: Design, keys: Sequence[str], say: Voice | None = None) -> View:
    """Return the bed when all steps are done, with its main sizes."""
    return finished(tuple(keys), _subject(design, say))


def _subject(design: Design, say: Voice | None) -> Subject:
    return subject_of(design, say.words) if say else subject_of(design)


def fitted(design: Design, view: View, width: float, height: float) -> Layout:
    """Return a picture at the largest scale that fits a place on paper [m]."""
    return fitter(design, view, width)(height)


def fitter(design: Design, view: View, width: float) -> Callable[[float], Layout]:
    """Return what draws a picture as large as fits so wide a place [m], by the place's height [m].

    One whose words leave the thing less than half of its place is given more height.
    """
    solid = solid_of(view)
    thing = solid.box
    show = partial(units.show, kind="length", system=design.system)

    # Places of several heights, all wide enough, have scales in common.
    @cache
    def at(scale: float) -> Layout:
        return lay_out(view.at_scale(scale), show, titled=False, margin=_MARGIN, solid=solid)

    @cache
    def within(height: float) -> Layout:
        least = max(thing.width / width, thing.height / height)

        def fits(step: int) -> bool:
            across, up = at(least * _STEP**step).paper
            return across <= width and up <= height

        step = bisect.bisect_left(range(_STEPS), True, key=fits)
        return within(1.15 * height) if step == _STEPS else at(least * _STEP**step)

    return within


def write_step_pictures(design: Design, keys: Sequence[str], folder: Path) -> list[Path]:
    """Write each step's picture as SVG and return the files written, numbered in order."""
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for number, (key, view) in enumerate(step_views(design, keys).items(), start=1):
        layout = fitted(design, view, _WIDTH, _HEIGHT)
        path = folder / f"step-{number:02d}-{key}.svg"
        written.append(writing.write(path, write_svg(layout)))
    return written
