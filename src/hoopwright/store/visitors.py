"""Who has joined. Only the fingerprint of a visitor's token is kept."""

from __future__ import annotations

import hashlib
import secrets
import time

from hoopwright.store.records import Visitor
from hoopwright.store.table import StoreTable

#: Visitors without a plan that are kept, the oldest forgotten first. Who has a plan is never
#: forgotten: nobody else could reach it.
MOST_IDLE = 1000


def _fingerprint(token: str) -> str:
    return hashlib.sha256(token.encode("utf-8")).hexdigest()


class Visitors(StoreTable):
    """Visitors by the token in their cookie."""

    def join(self, owner: str | None = None) -> str:
        """Return a new visitor's token; `owner` lets them see another's plans (the host's)."""
        token, visitor = secrets.token_urlsafe(32), secrets.token_urlsafe(9)
        with self._writing() as base:
            base.execute(
                "INSERT INTO visitor (id, token, owner, made) VALUES (?, ?, ?, ?)",
                (visitor, _fingerprint(token), owner or visitor, time.time()),
            )
            base.execute(
                "DELETE FROM visitor WHERE id IN (SELECT id FROM visitor"
                " WHERE owner NOT IN (SELECT owner FROM plan)"
                " ORDER BY rowid DESC LIMIT -1 OFFSET ?)",
                (MOST_IDLE,),
            )
        return token

    def known(self, token: str) -> Visitor | None:
        """Return the visitor of a token, or None."""
        row = self._row("SELECT id, owner FROM visitor WHERE token = ?", _fingerprint(token))
        return None if row is None else Visitor(*row)
