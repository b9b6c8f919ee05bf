"""Asking a service over HTTPS: politely, within a time, and never further than its own house."""

from __future__ import annotations

import http.client
import urllib.error
import urllib.request
from collections.abc import Callable
from typing import IO, Any, Protocol
from urllib.parse import urlsplit

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
