"""Dimensions outside the object: shortest nearest, stacked, never through one another's words; and
words beside it, each with a line to what it names, kept apart and uncrossed."""

from collections.abc import Sequence
from itertools import pairwise

from hoopwright.drawing.font import text_height, text_width
from hoopwright.drawing.placing import SPACING, Frame, Placed, spread
from hoopwright.drawing.scene import (
    LINE_PITCH,
    TEXT_SIZE,
    Anchor,
    Circle,
    Layer,
    Leader,
    Line,
    LinearDimension,
    Point,
    Polyline,
    RunningDimension,
    Shape,
    Show,
    Side,
    Text,
    Tone,
)
from hoopwright.frozen import dataclass

_LETTERS = sum(text_height(TEXT_SIZE))


@dataclass(frozen=True)
class _Span:
    """One linear dimension in its frame: its ends, and where its words go along the line."""

    note: LinearDimension
    text: str
    low: float
    high: float
    outside: bool
    words_low: float
    words_high: float

    def taken(self) -> tuple[float, float]:
        """Return the stretch of line it occupies, words and outside arrows included."""
        if not self.outside:
            return self.low, self.high
        low, high = min(self.low, self.words_low), max(self.high, self.words_high)
        return min(low, self.low - 2 * SPACING.arrow), max(high, self.high + 2 * SPACING.arrow)


def _candidates(note: LinearDimension, frame: Frame, show: Show) -> tuple[_Span, ...]:
    """Return the ways to write a dimension: between its arrows, or past either end."""
    low, high = sorted((frame.along(note.start), frame.along(note.end)))
    text = note.label.format(show(note.length))
    width = text_width(text, TEXT_SIZE)
    middle = (low + high) / 2
    # Words stand clear above the line, so they may reach over the arrow heads.
    if max(width + SPACING.text_side, 2.5 * SPACING.arrow) <= high - low:
        inside = _Span(note, text, low, high, False, middle - width / 2, middle + width / 2)
        return (inside,)
    away = 2 * SPACING.arrow + SPACING.text_side
    return (
        _Span(note, text, low, high, True, high + away, high + away + width),
        _Span(note, text, low, high, True, low - away - width, low - away),
    )


def _level(span: _Span, levels: Sequence[list[_Span]]) -> int:
    """Return the nearest line a span may share: beyond everything it spans, beside the rest."""
    taken = span.taken()
    nearest = 0
    for number, level in enumerate(levels):
        for other in level:
            clearance = SPACING.text_side if span.outside or other.outside else -1e-7
            low, high = other.taken()
            if taken[0] < high + clearance and low < taken[1] + clearance:
                nearest = number + 1
    return nearest


def _struck(span: _Span, others: Sequence[LinearDimension], frame: Frame) -> int:
    """Return how many extension lines of longer dimensions would run through its words."""
    ends = (frame.along(point) for note in others for point in (note.start, note.end))
    return sum(span.words_low < end < span.words_high for end in ends)


def _arrange(notes: Sequence[LinearDimension], frame: Frame, show: Show) -> list[list[_Span]]:
    """Return the dimensions of one side line by line, nearest line first."""
    levels: list[list[_Span]] = []
    ordered = sorted(notes, key=lambda note: (note.length, note.start, note.end))
    for index, note in enumerate(ordered):
        longer = ordered[index + 1 :]
        choices = _candidates(note, frame, show)
        ranked = [
            (_level(span, levels), _struck(span, longer, frame), order, span)
            for order, span in enumerate(choices)
        ]
        level, _, _, span = min(ranked, key=lambda entry: entry[:3])
        while len(levels) <= level:
            levels.append([])
        levels[level].append(span)
    return levels


def _extension(frame: Frame, u: float, feature: float, line: float) -> tuple[Line, ...]:
    start = feature + SPACING.feature_gap
    return (frame.line(u, start, u, line + SPACING.overshoot),) if start < line else ()


def _draw_span(span: _Span, frame: Frame, v: float) -> Placed:
    """Return a linear dimension on the line at v."""
    low, high = span.low, span.high
    ends = {frame.along(point): frame.outward(point) for point in (span.note.start, span.note.end)}
    shapes: list[Shape] = []
    if span.outside:
        shapes += [frame.arrow(low, v, 1.0), frame.arrow(high, v, -1.0)]
        first, last = low - 2 * SPACING.arrow, high + 2 * SPACING.arrow
        if span.words_low > high:
            last = span.words_high
        else:
            first = span.words_low
        shapes.append(frame.line(first, v, last, v))
    else:
        shapes += [frame.arrow(low, v, -1.0), frame.arrow(high, v, 1.0)]
        shapes.append(frame.line(low, v, high, v))
    middle = (span.words_low + span.words_high) / 2
    lift = -SPACING.text_gap if frame.words_inward else SPACING.text_gap
    shapes.append(
        Text(
            frame.at(middle, v + lift),
            span.text,
            Layer.DIMENSIONS,
            Anchor.MIDDLE,
            angle=frame.angle,
        )
    )
    extension = tuple(
        line for u, feature in ends.items() for line in _extension(frame, u, feature, v)
    )
    base = frame.at((low + high) / 2, v)
    return Placed(span.note, tuple(shapes), extension, base, (span.note.length,), (span.text,))


def place_linear(
    notes: Sequence[LinearDimension], frame: Frame, show: Show, start: float = 0.0
) -> tuple[tuple[Placed, ...], float]:
    """Return the linear dimensions of one side where they stand, and how far out they reach.

    start : [m of paper] outward from the object's edge, where the first may begin
    """
    placed: list[Placed] = []
    v = start
    for number, level in enumerate(_arrange(notes, frame, show)):
        first = SPACING.first if number == 0 and start == 0.0 else SPACING.between + _LETTERS
        v += max(first, _LETTERS + SPACING.between if frame.words_inward else first)
        placed += [_draw_span(span, frame, v) for span in level]
    reach = v + (0.0 if frame.words_inward else _LETTERS + SPACING.text_gap)
    return tuple(placed), (reach if placed else start)


def _number_texts(
    frame: Frame, places: Sequence[float], v: float, texts: Sequence[str], along: bool
) -> list[Text]:
    """Return the numbers at the ends of their extension lines."""
    down, up = text_height(TEXT_SIZE)
    half = (up - down) / 2
    made = []
    for u, text in zip(places, texts, strict=True):
        if along:
            below = frame.words_inward and frame.side.horizontal
            position = frame.at(u, v + (up if below else down))
            made.append(Text(position, text, Layer.DIMENSIONS, Anchor.MIDDLE))
        elif frame.side.horizontal:
            anchor = Anchor.END if frame.words_inward else Anchor.START
            position = frame.at(u + half, v)
            made.append(Text(position, text, Layer.DIMENSIONS, anchor, angle=90.0))
        else:
            anchor = Anchor.START if frame.words_inward else Anchor.END
            made.append(Text(frame.at(u - half, v), text, Layer.DIMENSIONS, anchor))
    return made


def place_running(
    note: RunningDimension, frame: Frame, show: Show, start: float = 0.0
) -> tuple[Placed, float]:
    """Return a running dimension where it stands, and how far out it reaches [m of paper].

    Its numbers stand level where they have room, and are turned to read along their extension
    lines where they have not; turned numbers that are still too close step aside together.
    """
    origin, feature = frame.along(note.origin), frame.outward(note.origin)
    places = [origin + station / frame.scale for station in note.stations]
    texts = list(note.texts) or [show(station) for station in note.stations]
    widths = [text_width(text, TEXT_SIZE) for text in texts]
    v = start + (SPACING.first if start == 0.0 else SPACING.between + _LETTERS / 2)
    level = frame.side.horizontal and all(
        b - a >= (wa + wb) / 2 + SPACING.text_side
        for a, b, wa, wb in zip(places, places[1:], widths, widths[1:], strict=False)
    )
    pitch = _LETTERS + SPACING.cut_gap
    shown = list(places) if level else spread(places, [pitch] * (len(places) - 1))
    moved = max((abs(a - b) for a, b in zip(places, shown, strict=True)), default=0.0)
    elbow = v + SPACING.overshoot
    numbers = elbow + (SPACING.shoulder if moved > 1e-6 else 0.0)
    texts_at = _number_texts(frame, shown, numbers + SPACING.text_gap, texts, level)
    shapes: list[Shape] = [
        frame.line(min(origin, *places), v, max(origin, *places), v),
        Circle(frame.at(origin, v), 0.0009 * frame.scale, Layer.DIMENSIONS, Tone.PAPER),
        *(frame.arrow(u, v, 1.0) for u in places if u - origin > SPACING.arrow),
        *texts_at,
    ]
    if moved > 1e-6:
        shapes += [frame.line(u, elbow, to, numbers) for u, to in zip(places, shown, strict=True)]
    extension = tuple(line for u in places for line in _extension(frame, u, feature, v))
    reach = numbers + SPACING.text_gap + (_LETTERS if level else max(widths))
    base = frame.at(origin, v)
    return Placed(note, tuple(shapes), extension, base, note.stations, tuple(texts)), reach


_LINE = LINE_PITCH * TEXT_SIZE


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    def turn(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return turn(a, b, c) * turn(a, b, d) < 0 and turn(c, d, a) * turn(c, d, b) < 0


def _size(leader: Leader, frame: Frame) -> float:
    """Return how much of the side the words take [m of paper]."""
    lines = leader.text.split("\n")
    if frame.side.horizontal:
        return max(text_width(line, TEXT_SIZE) for line in lines)
    return len(lines) * _LINE


def _places(leaders: Sequence[Leader], frame: Frame, gap: float) -> list[float]:
    sizes = [_size(leader, frame) for leader in leaders]
    separations = [(a + b) / 2 + gap for a, b in pairwise(sizes)]
    return spread([frame.along(leader.tip) for leader in leaders], separations)


def _uncrossed(leaders: Sequence[Leader], frame: Frame, v: float, gap: float) -> list[Leader]:
    """Return the leaders in an order in which no two lines cross, found by swapping neighbours."""
    ordered = sorted(leaders, key=lambda leader: (frame.along(leader.tip), leader.text))
    for _ in range(len(ordered) ** 2):
        ends = [frame.at(u, v) for u in _places(ordered, frame, gap)]
        pairs = (
            (i, j)
            for i in range(len(ordered))
            for j in range(i + 1, len(ordered))
            if _cross(ordered[i].tip, ends[i], ordered[j].tip, ends[j])
        )
        found = next(pairs, None)
        if found is None:
            break
        i, j = found
        ordered[i], ordered[j] = ordered[j], ordered[i]
    return ordered


def place_leaders(
    leaders: Sequence[Leader], frame: Frame, start: float
) -> tuple[tuple[Placed, ...], float]:
    """Return the leaders of one side where they stand, and how far out they reach.

    start : [m of paper] outward from the object's edge
    """
    if not leaders:
        return (), start
    v = start + SPACING.first
    gap = SPACING.label_gap * (3 if frame.side.horizontal else 1)
    ordered = _uncrossed(leaders, frame, v, gap)
    places = _places(ordered, frame, gap)
    placed = [_draw(leader, u, v, frame) for leader, u in zip(ordered, places, strict=True)]
    if frame.side.horizontal:
        deepest = max(len(leader.text.split("\n")) for leader in leaders) * _LINE
    else:
        deepest = max(
            text_width(line, TEXT_SIZE) for leader in leaders for line in leader.text.split("\n")
        )
    return tuple(placed), v + SPACING.shoulder + SPACING.text_gap + deepest


def _draw(leader: Leader, u: float, v: float, frame: Frame) -> Placed:
    layer = Layer.DECISION if leader.decision else Layer.DIMENSIONS
    words = Layer.DECISION if leader.decision else Layer.TEXT
    lines = leader.text.split("\n")
    down, up = text_height(TEXT_SIZE)
    block = (len(lines) - 1) * _LINE + up + down
    dot = Circle(leader.tip, 0.0005 * frame.scale, layer, Tone.INK)
    if frame.side.horizontal:
        path: tuple[Point, ...] = (leader.tip, frame.at(u, v))
        far = v + SPACING.text_gap
        top = far + block if frame.side is Side.ABOVE else far
        sign = -1 if frame.side is Side.ABOVE else 1
        texts = [
            Text(frame.at(u, top + sign * (up + i * _LINE)), line, words, Anchor.MIDDLE)
            for i, line in enumerate(lines)
        ]
    else:
        path = (leader.tip, frame.at(u, v), frame.at(u, v + SPACING.shoulder / 2))
        anchor = Anchor.START if frame.side is Side.RIGHT else Anchor.END
        far = v + SPACING.shoulder / 2 + SPACING.text_gap
        texts = [
            Text(frame.at(u + block / 2 - up - i * _LINE, far), line, words, anchor)
            for i, line in enumerate(lines)
        ]
    shapes: tuple[Shape, ...] = (Polyline(path, layer), dot, *texts)
    return Placed(leader, shapes, (), leader.tip, (), tuple(lines))
