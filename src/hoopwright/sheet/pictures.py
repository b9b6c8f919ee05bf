"""The drawings of a design, each laid out at the largest scale that fits its place."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from hoopwright.answers.voice import Voice, sentence
from hoopwright.cutting.stock import CutRoll
from hoopwright.design import Design
from hoopwright.drawing.layout import DoesNotFitError, Layout, fit, lay_out, show_lengths
from hoopwright.drawing.steps.pictures import fitted, step_views
from hoopwright.drawing.svg import write_svg
from hoopwright.drawing.views import views
from hoopwright.materials.order import RollCuts
from hoopwright.sheet.content import Diagram
from hoopwright.sheet.cut_drawings import bars_view, roll_view, scale_for, shown_length
from hoopwright.sheet.cuts import groups_of

#: The widest a drawing may be on the page [m]: A4 between its margins.
PAGE_WIDTH = 0.168
#: Room for what stands in half of it.
HALF_WIDTH = 0.083
#: The place of each view [m], across and up; side and rail, end and batten stand side by side.
PLACES: Mapping[str, tuple[float, float]] = {
    "bed": (PAGE_WIDTH, 0.088),
    "side": (0.095, 0.078),
    "rail": (0.0875, 0.08),
    "end": (0.0935, 0.1),
    "batten": (0.0925, 0.066),
    "plan": (PAGE_WIDTH, 0.106),
    "panel": (PAGE_WIDTH, 0.1),
}
#: Room beside a step's words for its picture [m].
STEP_WIDTH, STEP_HEIGHT = 0.060, 0.029
#: Views whose note the page beside them says already.
_TOLD_BESIDE = ("bed", "plan")
#: Bars on one diagram; more go on a further one, so that a page can break between.
_BARS = 10
#: Scales of pictures nobody measures on, and of bars and rolls: every handy ratio.
_HANDY = (
    *(4, 5, 6, 8, 10, 12, 15, 16, 20, 24, 25, 30, 32, 36, 40, 48, 50, 60, 64, 72, 80, 96, 100),
    *(120, 128, 144, 160, 192, 200, 240, 288, 320, 400, 500),
)
#: Paper kept beside a bar or a roll for its dimensions [m].
_BESIDE = 0.006
_BESIDE_ROLL = 0.02
#: A roll is drawn no wider across than this [m of paper].
_TALLEST_ROLL = 0.035


def view_diagrams(design: Design) -> dict[str, Diagram]:
    """Return every view that the sheet has by its name; one that no scale can fit is left out."""
    show = show_lengths(design.system)
    found = {}
    for view in views(design):
        if view.name not in PLACES:
            continue
        if view.name in _TOLD_BESIDE:
            view = replace(view, note="")
        try:
            layout = fit(view, *PLACES[view.name], show, _HANDY)
        except DoesNotFitError:
            continue
        found[view.name] = diagram_of(layout)
    return found


def step_diagrams(design: Design, keys: Sequence[str]) -> dict[str, Diagram]:
    """Return the picture of each step by its key; one that no picture shows is left out."""
    return {
        key: diagram_of(fitted(design, view, STEP_WIDTH, STEP_HEIGHT))
        for key, view in step_views(design, keys).items()
    }


def diagram_of(layout: Layout, *, drawn: bool = True) -> Diagram:
    """Return a laid-out view as a diagram at its own size; drawn : not its place alone."""
    view, (width, height) = layout.view, layout.paper
    svg = write_svg(layout) if drawn else ""
    return Diagram(view.name, view.title, view.description, svg, width, height)


def cut_diagrams(design: Design, say: Voice) -> dict[str, tuple[Diagram, ...]]:
    """Return the cut diagrams of each thing, by its key."""
    show = show_lengths(design.system)
    found: dict[str, tuple[Diagram, ...]] = {}
    for cuts in design.order.sticks:
        groups = groups_of(cuts.plan)
        if not groups:
            continue
        longest = max(group.stick_length for group in groups)
        scale = scale_for(longest, HALF_WIDTH - _BESIDE, _HANDY)
        batches = [groups[n : n + _BARS] for n in range(0, len(groups), _BARS)]
        title, kerf = sentence(cuts.name), cuts.plan.kerf
        views = [
            bars_view(f"cut {cuts.thing} {n}", title, batch, kerf, scale, say)
            for n, batch in enumerate(batches, start=1)
        ]
        found[cuts.thing] = tuple(diagram_of(lay_out(view, show, titled=False)) for view in views)
    for run in design.order.rolls:
        rolls = enumerate(run.plan.rolls, start=1)
        found[run.thing] = tuple(roll_diagram(run, cut, number, say) for number, cut in rolls)
    return found


def roll_diagram(run: RollCuts, cut: CutRoll, number: int, say: Voice) -> Diagram:
    """Return one roll with its sheets where they are cut, to scale."""
    scale = max(
        scale_for(shown_length(cut), PAGE_WIDTH - _BESIDE_ROLL, _HANDY),
        scale_for(cut.roll.width, _TALLEST_ROLL, _HANDY),
    )
    name, title = f"roll {run.thing} {number}", f"{sentence(run.name)}, roll {number}"
    view = roll_view(name, title, cut, scale, say)
    return diagram_of(lay_out(view, show_lengths(say.system), titled=False))
