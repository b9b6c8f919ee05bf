"""Asking a service over HTTPS: politely, within a time, and never further than its own house.

Replies are kept in a folder: a service is asked once an hour and may be down half a day.
"""

import http.client
import json
import urllib.error
import urllib.request
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from pathlib import Path
from typing import IO, Any, Protocol
from urllib.parse import urlsplit

from hoopwright import writing
from hoopwright.climate.forecast.form import ForecastError

IDENTITY = "hoopwright/0.1 (covered garden bed planner; one request an hour at most)"
"""Who asks. The U.S. National Weather Service wants a User-Agent that names the program; give
your own contact in it if you run this for others."""

TIME_OUT = 10.0  # [s]
LARGEST = 5_000_000  # [bytes]

Get = Callable[[str], str]


class Opener(Protocol):
    """What `getter` needs of a urllib opener."""

    def open(self, fullurl: urllib.request.Request, *, timeout: float) -> Any:
        """Return an open reply."""


class _SameHouse(urllib.request.HTTPRedirectHandler):
    """Follow at most three redirects, all to the host first asked."""

    max_redirections = 3
    max_repeats = 2

    def redirect_request(
        self,
        req: urllib.request.Request,
        fp: IO[bytes],
        code: int,
        msg: str,
        headers: http.client.HTTPMessage,
        newurl: str,
    ) -> urllib.request.Request | None:
        old, new = urlsplit(req.full_url), urlsplit(newurl)
        if (old.scheme, old.netloc) != (new.scheme, new.netloc):
            raise ForecastError(f"{_house(req.full_url)} sends on to another house; not followed")
        return super().redirect_request(req, fp, code, msg, headers, newurl)


def getter(
    identity: str = IDENTITY,
    time_out: float = TIME_OUT,
    opener: Opener | None = None,
    largest: int = LARGEST,
) -> Get:
    """Return a function from address to text.

    identity : sent as User-Agent; time_out : [s] for connecting and for each read
    opener   : another urllib opener, for tests and proxies; largest : [bytes] of a reply
    """
    used = opener or urllib.request.build_opener(_SameHouse)
    clean = "".join(letter for letter in identity if letter.isprintable())

    def get(address: str) -> str:
        request = urllib.request.Request(
            address,
            headers={
                "User-Agent": clean,
                "Accept": "application/geo+json, application/json",
            },
        )
        return _text(_read(used, request, time_out, largest), address)

    return get


def _read(opener: Opener, request: urllib.request.Request, time_out: float, largest: int) -> bytes:
    house = _house(request.full_url)
    try:
        with opener.open(request, timeout=time_out) as reply:
            raw = reply.read(largest + 1)
            promised = reply.headers.get("Content-Length")
    except ForecastError:
        raise
    except urllib.error.HTTPError as error:
        raise ForecastError(_refusal(house, error.code)) from None
    except TimeoutError:
        raise ForecastError(f"{house} did not answer within {time_out:g} s") from None
    except urllib.error.URLError as error:
        late = isinstance(error.reason, TimeoutError)
        said = f"did not answer within {time_out:g} s" if late else "cannot be reached"
        raise ForecastError(f"{house} {said}; is the network up?") from None
    except (http.client.HTTPException, OSError, ValueError):
        raise ForecastError(f"{house}: the reply cannot be understood; try again") from None
    if len(raw) > largest:
        raise ForecastError(f"{house}: the reply is over {largest // 1_000_000} MB; not read")
    if isinstance(promised, str) and promised.isdigit() and len(raw) < int(promised):
        raise ForecastError(f"{house}: the reply broke off; try again")
    return bytes(raw)


def _text(raw: bytes, address: str) -> str:
    if not raw.strip():
        raise ForecastError(f"{_house(address)}: the reply was empty; try again later")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise ForecastError(f"{_house(address)}: the reply is not UTF-8 text") from None


def _refusal(house: str, code: int) -> str:
    if code == 404:
        return f"{house} knows no forecast for this place (404); is it outside its country?"
    if code == 429:
        return f"{house} asks for fewer requests (429); wait an hour"
    if 300 <= code < 400:
        return f"{house} sends in circles ({code}); not followed"
    if code >= 500:
        return f"{house} is in trouble ({code}); try again later"
    return f"{house} refuses the request ({code})"


def _house(address: str) -> str:
    return urlsplit(address).hostname or "the service"


FRESH = timedelta(hours=1)
USABLE = timedelta(hours=12)


def _now() -> datetime:
    return datetime.now(UTC)


@dataclass
class KeptReplies:
    """A `get` that keeps replies. Call it like one; `notes` then says what copies were used.

    fresh  : a copy younger than this is used without asking
    usable : a copy younger than this stands in when the service fails
    """

    get: Get
    folder: Path
    fresh: timedelta = FRESH
    usable: timedelta = USABLE
    now: Callable[[], datetime] = _now
    notes: tuple[str, ...] = ()

    def __call__(self, address: str) -> str:
        """Return the text at an address, kept or new."""
        at = self.now()
        copy = self._copy(address)
        if copy is not None and timedelta(0) <= at - copy[0] < self.fresh:
            return copy[1]
        try:
            text = self.get(address)
        except ForecastError as error:
            if copy is None or not timedelta(0) <= at - copy[0] < self.usable:
                raise
            hours = (at - copy[0]).total_seconds() / 3600
            self.notes = (*self.notes, f"{error}. A copy {hours:.0f} h old was used.")
            return copy[1]
        self._keep(address, at, text)
        return text

    def _path(self, address: str) -> Path:
        return self.folder / f"{sha256(address.encode()).hexdigest()[:24]}.json"

    def _copy(self, address: str) -> tuple[datetime, str] | None:
        """Return when and what was kept; a damaged copy counts as none."""
        try:
            held = json.loads(self._path(address).read_text(encoding="utf-8"))
            at = datetime.fromisoformat(held["at"])
            text = held["text"]
        except (OSError, ValueError, KeyError, TypeError):
            return None
        if not isinstance(text, str) or at.tzinfo is None:
            return None
        return at, text

    def _keep(self, address: str, at: datetime, text: str) -> None:
        """Keep a reply; a full disk is no matter."""
        path = self._path(address)
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            held = {"at": at.isoformat(), "address": address, "text": text}
            writing.write(path, json.dumps(held))
        except OSError:
            self.notes = (*self.notes, f"The reply could not be kept in {self.folder}.")
