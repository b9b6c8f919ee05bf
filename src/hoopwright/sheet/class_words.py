"""How a class is spoken of: its money, its households, and labels drawn together."""

import datetime
from collections.abc import Iterable, Sequence

from hoopwright.answers.voice import Voice, kind_of, listed, numbered, plural
from hoopwright.programme.budget import Budget
from hoopwright.programme.class_work import WorkedClass
from hoopwright.programme.station import Label
from hoopwright.sheet.content import Paper
from hoopwright.sheet.document import paper_of
from hoopwright.tables.languages import ENGLISH, words_of


def class_voice(worked: WorkedClass, letter: str = "") -> Voice:
    """Return how the class's readers are spoken to: in the first bed's units, and where a bed's
    letter is given in its household's language."""
    words = words_of(worked.bed(letter).language) if letter else ENGLISH
    return Voice(next(iter(worked.designs.values())).system, worked.order.currency, words)


def class_paper(worked: WorkedClass) -> Paper:
    """Return the paper of the class's sheets."""
    return paper_of(next(iter(worked.designs.values())))


def bed_size(worked: WorkedClass, letter: str, say: Voice) -> str:
    """Return the two sizes of a bed over its boards."""
    bed = worked.designs[letter].bed
    return say.area(bed.outer_length, bed.outer_width)


def together_words(worked: WorkedClass, say: Voice) -> str:
    """Return what the order comes to, what sharing saves, and how near it is to the least."""
    bulk = worked.bulk
    shelf = f", the shelf {say.money(bulk.shelf_worth)}" if bulk.shelf_worth > 0.005 else ""
    return (
        f"{plural(len(worked.designs), 'bed')}: {say.money(worked.order.total)} together, "
        f"{say.money(bulk.alone_total)} each alone. Sharing saves {say.money(bulk.saving)}{shelf}. "
        f"{bound_words(worked, say)}"
    )


def bound_words(worked: WorkedClass, say: Voice) -> str:
    """Return how near the order is to the least possible."""
    gap = worked.bulk.gap
    if gap > 0.0005:
        least = "the least any shared cutting of these pieces can cost (proven)."
        return f"Within {say.show(gap, 'share')} of {least}"
    return (
        "No cheaper shared order of these pieces exists (proven, for cuts across and then along "
        "the roll)."
    )


def budget_words(budget: Budget, say: Voice) -> str:
    """Return how the order stands to the budget."""
    if budget.left >= 0:
        return f"Budget {say.money(budget.budget)}: {say.money(budget.left)} left."
    return f"Over the budget of {say.money(budget.budget)} by {say.money(-budget.left)}."


def dropped_words(budget: Budget, say: Voice) -> str:
    """Return which beds would have to go for the rest to keep to the budget, "" for none."""
    if budget.left >= 0 or not budget.dropped:
        return ""
    beds = ", ".join(budget.dropped)
    return f"Or without bed {beds}: the rest costs {say.money(budget.dropped_total)}."


def household(worked: WorkedClass, letter: str, names: bool) -> str:
    """Return a household as the user's file names it, or nothing where names stay away."""
    return worked.bed(letter).household if names else ""


def day_words(day: datetime.date | None, say: Voice | None = None) -> str:
    """Return the day of the class in words, or "a day to be set"."""
    if say and say.words is not ENGLISH:
        return day.isoformat() if day else say.tell("a day to be set")
    return f"{day.day} {day:%B %Y}" if day else "a day to be set"


def beds_words(letters: Sequence[str], of: int) -> str:
    """Return beds by their letters, "all beds" where they are."""
    if len(letters) == of:
        return "all beds"
    word = "bed" if len(letters) == 1 else "beds"
    return f"{word} {listed(letters)}"


def labels_words(labels: Iterable[Label]) -> str:
    """Return labels drawn together: "A hoop 1 to 7 and ridge; B clip x 40"."""
    by_bed: dict[str, dict[str, list[str]]] = {}
    for label in labels:
        kind = kind_of(label.part)
        by_bed.setdefault(label.letter, {}).setdefault(kind, []).append(label.part)
    return "; ".join(
        f"{letter} {listed([_kind_words(kind, parts) for kind, parts in kinds.items()])}"
        for letter, kinds in by_bed.items()
    )


def _kind_words(kind: str, parts: Sequence[str]) -> str:
    distinct = list(dict.fromkeys(parts))
    if len(distinct) == 1:
        return distinct[0] if len(parts) == 1 else f"{distinct[0]} x {len(parts)}"
    if len(distinct) == len(parts):
        return parts_words(distinct)
    return f"{kind} x {len(parts)}"


def parts_words(parts: Sequence[str], say: Voice | None = None) -> str:
    """Return different parts of one kind: "hoop 1 to 7", "first and last end panel", "clip"."""
    if len(parts) == 1:
        return parts[0]
    kind, numbers = kind_of(parts[0]), [part.split()[-1] for part in parts]
    heads = list(dict.fromkeys(" ".join(part.split()[:-1]) for part in parts))
    if all(number.isdigit() for number in numbers):
        if len(heads) == 1:
            counted = [int(number) for number in numbers]
            return f"{heads[0]} {say.numbered(counted) if say else numbered(counted)}"
        if len(set(numbers)) == 1:
            return f"{listed(heads)} {numbers[0]}"
    if all(part.endswith(kind) and len(part) > len(kind) for part in parts):
        return f"{listed([part[: -len(kind)].strip() for part in parts])} {kind}"
    return listed(parts)
