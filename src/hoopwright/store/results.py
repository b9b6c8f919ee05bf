"""Results of long work, kept by the fingerprint of what went in."""

import hashlib
import json
import time
import zlib
from typing import Any

from hoopwright.store.table import StoreTable

#: Results kept, the oldest forgotten first.
MOST_RESULTS = 2000


def key_of(kind: str, version: str, *parts: str) -> str:
    """Return the key of a result: the same work, version and input give the same key."""
    joined = json.dumps([kind, version, *parts])
    return hashlib.sha256(joined.encode("utf-8")).hexdigest()


class Results(StoreTable):
    """Plain data by key."""

    def get(self, key: str) -> Any | None:
        """Return what was kept, or None."""
        body = self._cell("SELECT body FROM result WHERE key = ?", key)
        return None if body is None else json.loads(zlib.decompress(body))

    def keep(self, key: str, kind: str, data: Any) -> None:
        """Keep plain data (what JSON can say) and forget the oldest beyond the limit."""
        body = zlib.compress(json.dumps(data, allow_nan=False).encode("utf-8"), 6)
        with self._writing() as base:
            base.execute(
                "INSERT OR REPLACE INTO result (key, kind, body, made) VALUES (?, ?, ?, ?)",
                (key, kind, body, time.time()),
            )
            base.execute(
                "DELETE FROM result WHERE key IN (SELECT key FROM result"
                " ORDER BY rowid DESC LIMIT -1 OFFSET ?)",
                (MOST_RESULTS,),
            )
