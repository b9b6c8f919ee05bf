"""Who has joined. Only the fingerprint of a visitor's token is kept."""

import secrets
import time

from hoopwright.store.plans import digest_of
from hoopwright.store.table import StoreTable

#: Visitors without a plan that are kept, the oldest forgotten first. Who has a plan is never
#: forgotten: nobody else could reach it.
MOST_IDLE = 1000


class Visitors(StoreTable):
    """Visitors by the token in their cookie."""

    def join(self, owner: str | None = None) -> str:
        """Return a new visitor's token; `owner` lets them see another's plans (the host's)."""
        token, visitor = secrets.token_urlsafe(32), secrets.token_urlsafe(9)
        with self._writing() as base:
            base.execute(
                "INSERT INTO visitor (id, token, owner, made) VALUES (?, ?, ?, ?)",
                (visitor, digest_of(token), owner or visitor, time.time()),
            )
            base.execute(
                "DELETE FROM visitor WHERE id IN (SELECT id FROM visitor"
                " WHERE owner NOT IN (SELECT owner FROM plan)"
                " ORDER BY rowid DESC LIMIT -1 OFFSET ?)",
                (MOST_IDLE,),
            )
        return token

    def known(self, token: str) -> str | None:
        """Return the owner whose plans the visitor of a token sees, or None."""
        return self._cell("SELECT owner FROM visitor WHERE token = ?", digest_of(token))
