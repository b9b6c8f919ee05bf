"""Cut diagrams: bars and rolls to scale, drawn with the project's own lines and letters."""

from collections.abc import Sequence

from hoopwright.answers.voice import Voice, kind_of, plural
from hoopwright.cutting.stock import CutRoll
from hoopwright.drawing.font import text_width
from hoopwright.drawing.layout import show_marks
from hoopwright.drawing.scene import (
    TEXT_SIZE,
    Anchor,
    Fill,
    Group,
    Hatch,
    Item,
    Layer,
    Line,
    LinearDimension,
    Polyline,
    RunningDimension,
    Shape,
    Side,
    Text,
    Tone,
    View,
    Weight,
    part,
    rectangle,
    thin_part,
)
from hoopwright.sheet.cuts import CutGroup, group_words

#: On paper [m]: the bar's height, the words above it, and the pitch from bar to bar.
_BAR, _WORDS, _PITCH = 0.0075, 0.0022, 0.0175
#: Ticks closer than this on paper [m] are drawn as one block.
_FINEST = 0.0009
#: A roll's unused length is drawn no longer than this share of the used.
_SHOWN_LEFT = 0.2


def scale_for(length: float, width: float, scales: Sequence[float]) -> float:
    """Return the largest drawing scale at which a length [m] fits a width of paper [m]."""
    for scale in scales:
        if length / scale <= width:
            return float(scale)
    return length / width


def bars_view(
    name: str,
    title: str,
    groups: Sequence[CutGroup],
    kerf: float,
    scale: float,
    say: Voice,
) -> View:
    """Return bars one under another, each with its pieces in order and its offcut ruled."""
    items: list[Item] = []
    described = []
    for index, group in enumerate(groups):
        low = -(index + 1) * _PITCH * scale
        described.append(group_words(group, say))
        items += _bar(f"bar {index + 1}", group, kerf, low, scale, say)
    alt = f"{title}, drawn to scale. " + " ".join(described)
    return View(name, title, alt, tuple(items), scale)


def _bar(
    name: str, group: CutGroup, kerf: float, low: float, scale: float, say: Voice
) -> list[Item]:
    high = low + _BAR * scale
    head = f"{plural(group.count, 'stick')} of {say.size(group.stick_length)}"
    if group.at_hand:
        head += ", at hand"
    if group.count > 1:
        head += ", cut alike"
    shapes: list[Shape] = [Text((0.0, high + _WORDS * scale), head, bold=True)]
    at = 0.0
    for start, end, words in _runs(group, kerf, scale, say):
        room = (end - start) / scale
        fullest = next((w for w in words if text_width(w, TEXT_SIZE) + 0.0016 <= room), "")
        if fullest:
            shapes.append(_centred((start + end) / 2, (low + high) / 2, fullest, scale))
        at = end
    shapes += _ticks(group, kerf, low, high, scale, say)
    if group.left > 1e-6:
        beside = text_width(head, TEXT_SIZE, bold=True) + 0.003
        shapes += _offcut(at, group, low, high, scale, say, beside)
    outline = rectangle(0.0, low, group.stick_length, high)
    shapes.append(Polyline(outline, Layer.BOARDS, closed=True))
    return [Group(name, group_words(group, say), tuple(shapes))]


def _runs(
    group: CutGroup, kerf: float, scale: float, say: Voice
) -> list[tuple[float, float, tuple[str, ...]]]:
    """Return stretches of the bar with their words: a piece each, or a run of like pieces
    where one is too short on paper for its own words."""
    runs: list[tuple[float, float, tuple[str, ...]]] = []
    at, index = 0.0, 0
    while index < len(group.lengths):
        length, kind = group.lengths[index], kind_of(group.names[0][index])
        size = say.length(length)
        same = 1
        while (
            index + same < len(group.lengths)
            and group.lengths[index + same] == length
            and kind_of(group.names[0][index + same]) == kind
        ):
            same += 1
        if _has_room(size, length, scale):
            for _ in range(same):
                runs.append((at, at + length, (f"{kind} {size}", size)))
                at += length + kerf
        else:
            run = same * length + (same - 1) * kerf
            words = f"{plural(same, kind)} of {size}"
            runs.append((at, at + run, (words, f"{same} x {size}", str(same))))
            at += run + kerf
        index += same
    return runs


def _centred(x: float, y: float, words: str, scale: float) -> Text:
    """Return words with the middle of their capitals at a place."""
    return Text((x, y - 0.34 * TEXT_SIZE * scale), words, anchor=Anchor.MIDDLE)


def _has_room(words: str, length: float, scale: float) -> bool:
    """Return whether words fit within a piece [m] as it is drawn."""
    return text_width(words, TEXT_SIZE) + 0.002 <= length / scale


def _ticks(
    group: CutGroup, kerf: float, low: float, high: float, scale: float, say: Voice
) -> list[Shape]:
    """Return a line at the end of every piece; of pieces too small for it, short ones."""
    shapes: list[Shape] = []
    at, drawn, deep = 0.0, 0.0, high - low
    for length in group.lengths:
        at += length
        if at < group.stick_length - 1e-6 and (at - drawn) / scale >= _FINEST:
            tall = high if _has_room(say.length(length), length, scale) else low + 0.22 * deep
            shapes.append(Line((at, low), (at, tall), Layer.BOARDS, Weight.THIN))
            if tall < high:
                shapes.append(Line((at, high - 0.22 * deep), (at, high), Layer.BOARDS, Weight.THIN))
            drawn = at
        at += kerf
    return shapes


def _offcut(
    at: float,
    group: CutGroup,
    low: float,
    high: float,
    scale: float,
    say: Voice,
    beside: float,
) -> list[Shape]:
    """Return the offcut with its words; above it, clear of the head's (`beside` wide on paper)."""
    start = min(at, group.stick_length)
    corners = rectangle(start, low, group.stick_length, high)
    size = say.length(group.left)
    shapes: list[Shape] = [
        Hatch(corners, Layer.BOARDS, spacing=0.0018),
        Line((start, low), (start, high), Layer.BOARDS),
    ]
    room = (group.stick_length - start) / scale
    words = [w for w in (f"offcut {size}", size) if text_width(w, TEXT_SIZE) + 0.0016 <= room]
    middle = (start + group.stick_length) / 2
    if words:
        half = (text_width(words[0], TEXT_SIZE) / 2 + 0.001) * scale
        clear = rectangle(middle - half, low, middle + half, high)
        shapes.append(Fill(clear, Layer.TEXT, Tone.PAPER))
        shapes.append(_centred(middle, (low + high) / 2, words[0], scale))
    else:
        above = high + _WORDS * scale
        words = [f"offcut {size}"]
        end = max(group.stick_length, (beside + text_width(words[0], TEXT_SIZE)) * scale)
        shapes.append(Text((end, above), words[0], anchor=Anchor.END))
    return shapes


def roll_view(name: str, title: str, cut: CutRoll, scale: float, say: Voice) -> View:
    """Return one roll from its free end, across upright, with each sheet where it is cut."""
    width, shown = cut.roll.width, shown_length(cut)
    outline = rectangle(0.0, 0.0, shown, width)
    roll = thin_part(outline, Layer.COVER, Tone.LIGHT)
    items: list[Item] = [Group("roll", f"Roll {say.size(width)} wide", (roll,))]
    described = []
    for number, placed in enumerate(cut.sheets, start=1):
        left, low = placed.y, placed.x
        right, high = left + placed.length, low + placed.width
        size = f"{say.length(placed.length)} along, {say.length(placed.width)} across"
        described.append(f"{placed.sheet.name}, {size}")
        sheet = part(rectangle(left, low, right, high), Layer.COVER)
        words = _sheet_words((left, low, right, high), placed.sheet.name, size, number, scale)
        items.append(Group(f"sheet {number}", f"{placed.sheet.name}, {size}", (sheet, *words)))
    items += _rest_of_roll(cut, shown, scale, say)
    items.append(LinearDimension((0.0, 0.0), (0.0, width), Side.LEFT))
    cuts = tuple(cut.cross_cuts)
    marks = tuple(map(show_marks(say.system), cuts))
    items.append(RunningDimension((0.0, 0.0), cuts, Side.BELOW, marks))
    alt = f"{title}, drawn to scale: {'; '.join(described)}; {say.length(cut.left)} stays on it."
    return View(name, title, alt, tuple(items), scale)


def shown_length(cut: CutRoll) -> float:
    """Return how much of a roll is drawn [m]: what is used, and a little of the rest."""
    return cut.used + min(cut.left, _SHOWN_LEFT * cut.used)


def _sheet_words(
    box: tuple[float, float, float, float], name: str, size: str, number: int, scale: float
) -> list[Shape]:
    """Return the fullest words that fit a sheet; the least is its number in the list below."""
    left, low, right, high = box
    room, tall = (right - left) / scale, (high - low) / scale
    along, across = size.split(", ")
    short = f"{along.removesuffix(' along')} x {across.removesuffix(' across')}"
    choices = ((name, size), (name, short), (name, along, across), (name,), tuple(name.split()))
    lines = next(
        (
            choice
            for choice in (*choices, (str(number),))
            if max(text_width(words, TEXT_SIZE) for words in choice) + 0.002 <= room
            and len(choice) * 1.35 * TEXT_SIZE + 0.001 <= tall
        ),
        (),
    )
    top = (low + high) / 2 + (len(lines) * 1.35 / 2 - 1.0) * TEXT_SIZE * scale
    return [
        Text(
            ((left + right) / 2, top - 1.35 * TEXT_SIZE * scale * row),
            words,
            anchor=Anchor.MIDDLE,
            bold=row == 0,
        )
        for row, words in enumerate(lines)
    ]


def _rest_of_roll(cut: CutRoll, shown: float, scale: float, say: Voice) -> list[Item]:
    if cut.left <= 1e-6:
        return []
    words = f"{say.length(cut.left)} left"
    middle = (cut.used + shown) / 2
    if _has_room(words, shown - cut.used, scale):
        text = _centred(middle, cut.roll.width / 2, words, scale)
    elif _has_room(words, cut.roll.width, scale) and (shown - cut.used) / scale > 0.005:
        turned = (middle + 0.34 * TEXT_SIZE * scale, cut.roll.width / 2)
        text = Text(turned, words, anchor=Anchor.MIDDLE, angle=90.0)
    else:
        text = Text((shown, cut.roll.width + _WORDS * scale), words, anchor=Anchor.END)
    return [Group("rest", words, (text,))]
