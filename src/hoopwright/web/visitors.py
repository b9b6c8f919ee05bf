"""Who is asking: the machine's own user, or a visitor who has joined with a code."""

import re
import secrets
import threading
import time
from collections import OrderedDict

from fastapi import Request

from hoopwright.store import Store
from hoopwright.web.settings import ServerSettings

COOKIE = "hoopwright"
OWNER = "local"
#: Seconds a visitor stays known: 30 days.
STAY = 30 * 86400
#: Pages open to those who have not joined.
OPEN_TO_ALL = ("/join", "/read/", "/static/", "/fonts/")


class RateLimit:
    """A bucket of allowances for each name: `rate` a second, at most `burst` saved up."""

    def __init__(self, rate: float, burst: float) -> None:
        """Take the rate and the burst."""
        self._rate, self._burst = rate, burst
        self._held: OrderedDict[str, tuple[float, float]] = OrderedDict()
        self._turn = threading.Lock()

    def allows(self, name: str, counted: bool = True) -> bool:
        """Return whether one more is allowed now, and count it unless told not to."""
        now = time.monotonic()
        with self._turn:
            left, then = self._held.pop(name, (self._burst, now))
            left = min(self._burst, left + (now - then) * self._rate)
            allowed = left >= 1.0
            self._held[name] = (left - 1.0 if allowed and counted else left, now)
            while len(self._held) > 10_000:
                self._held.popitem(last=False)
        return allowed


def owner_of(request: Request) -> str | None:
    """Return whose plans the asker sees, or None where they have not joined."""
    settings: ServerSettings = request.app.state.settings
    if not settings.lan:
        return OWNER
    store: Store = request.app.state.store
    return store.visitors.known(request.cookies.get(COOKIE, ""))


def _as_typed(code: str) -> bytes:
    """Return a code as it is compared: with or without its dash, in any case of letters."""
    plain = code.strip().lower()
    # A code of nothing but dashes stays what it is.
    return (re.sub(r"[\s\-\u2010-\u2015]", "", plain) or plain).encode("utf-8")


def joined(settings: ServerSettings, store: Store, code: str) -> str | None:
    """Return a new visitor's token where the code is right, or None."""
    given = _as_typed(code)
    as_owner = secrets.compare_digest(given, _as_typed(settings.owner_code))
    as_visitor = secrets.compare_digest(given, _as_typed(settings.code))
    if as_owner:
        return store.visitors.join(OWNER)
    return store.visitors.join() if as_visitor else None
