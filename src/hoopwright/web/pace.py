"""How long work still takes, told from its own pace."""

import math
import time
from collections.abc import Callable

#: Share and seconds of work that its pace is measured over at least.
ENOUGH, LEAST = 0.04, 1.0


class Pace:
    """The pace of one piece of work over the later half of what is done since its first news:
    starting and compiling are no part.

    staged : whether shares are told by `StagePace`, of all the time that work takes
    """

    def __init__(self, *, staged: bool = False) -> None:
        """Begin without news."""
        self._staged = staged
        self._news: list[tuple[float, float]] = []
        self._end: float | None = None

    def heard(self, now: float, share: float) -> None:
        """Take news: the share that is done [-] at a time [s]."""
        if share > 0.0:
            self._news.append((now, share))
        while not self._staged and len(self._news) > 1 and self._news[1][1] <= share / 2:
            del self._news[0]
        if not self._news:
            return
        took, done = now - self._news[0][0], share - self._news[0][1]
        if done < ENOUGH or took < LEAST:
            return
        # News of several workers comes in bursts; half of what was thought before stands.
        end = now + took / done * (1.0 - share)
        self._end = end if self._end is None else (self._end + end) / 2

    def left(self, now: float) -> float | None:
        """Return the seconds left by the pace so far, or None where it is not known yet."""
        return None if self._end is None else self._end - now

    def words(self, now: float) -> str:
        """Return the time left in words, to be read after what is being done; "" if unknown."""
        left = self.left(now)
        return "" if left is None else f" {time_words(left)}"


class StagePace:
    """Work in stages, told as the share of its time that is done.

    thought : seconds that each stage is thought to take, in their order; put right as more is known
    """

    def __init__(self, progress: Callable[[float, str], None], thought: dict[str, float]) -> None:
        """Begin the first stage."""
        self.thought, self._progress = thought, progress
        self._begun = self._since = time.monotonic()
        self._stage = next(iter(thought))

    def tell(self, stage: str, part: float, words: str) -> None:
        """Tell that a part of a stage is done [-]: the more of it is, the more its own pace counts,
        and the less what it was thought to take."""
        now = time.monotonic()
        if stage != self._stage:
            self._stage, self._since = stage, now
        order = list(self.thought)
        later = sum(self.thought[one] for one in order[order.index(stage) + 1 :])
        left = (1.0 - part) * (now - self._since + (1.0 - part) * self.thought[stage]) + later
        done = now - self._begun
        self._progress(done / max(done + left, 1e-9), words)


def time_words(left: float) -> str:
    """Return the seconds left as a person would say them."""
    if left < 0.0:
        return "Longer than it looked; not long now."
    return "A few seconds more." if left < 10.0 else f"About {time_told(left)} more."


#: Up to so many seconds, a time is rounded up to so many.
STEPS = ((10.0, 1), (60.0, 5), (120.0, 10), (300.0, 30), (math.inf, 60))


def time_told(seconds: float) -> str:
    """Return a time rounded up to what a person would say."""
    step = next(step for most, step in STEPS if seconds <= most)
    whole = max(1, step * math.ceil(seconds / step))
    if whole < 120:
        return f"{whole} s"
    return f"{whole // 60}{' ½' if whole % 60 else ''} min"
