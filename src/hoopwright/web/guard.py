"""What every request passes before any page sees it, and what every answer carries.

Origin against other sites' forms, a cap on the body, a rate for each visitor, and the security
headers. Plain ASGI, so that bodies are counted as they come. Host, against DNS rebinding, is for
Starlette's own middleware, which stands behind this one.
"""

from contextlib import suppress
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import JSONResponse, PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from hoopwright.store import StoreError
from hoopwright.web.settings import ServerSettings
from hoopwright.web.visitors import COOKIE, OPEN_TO_ALL, RateLimit, owner_of

CONTENT = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
    "font-src 'self'; connect-src 'self'; manifest-src 'self'; form-action 'self'; "
    "base-uri 'none'; frame-ancestors 'none'"
)
HEADERS = {
    "Content-Security-Policy": CONTENT,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
    "Cache-Control": "no-store",
}
#: Visitors' worth of requests that one address may make.
ROOM = 10
#: Ends of paths where a weather file, loggers' files or a backup may be sent.
LARGE = ("/weather", "/evidence", "/keep/backup")
_SAFE = ("GET", "HEAD", "OPTIONS")


class TooLarge(Exception):
    """The body is larger than is let in."""


class Guard:
    """The door: refuses, or passes on with the headers added."""

    def __init__(self, app: ASGIApp, settings: ServerSettings) -> None:
        """Stand before an application."""
        self._app, self._settings = app, settings
        rate, burst = settings.limits.rate, settings.limits.burst
        self._rate = RateLimit(rate, burst)
        # A room may come from one address, behind one router.
        self._of_address = RateLimit(ROOM * rate, ROOM * burst)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Handle one request."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        request = Request(scope)
        try:
            refusal = self._refusal(request)
        except StoreError as error:
            refusal = PlainTextResponse(str(error), 503, headers={"Retry-After": "5"})
        out = _with_headers(send, request.url.path)
        if refusal is not None:
            await refusal(scope, receive, out)
            return
        await self._capped(scope, receive, out)

    def _refusal(self, request: Request) -> Response | None:
        """Return the answer to a request that goes no further, or None."""
        if request.method not in _SAFE and not same_origin(request.headers):
            return PlainTextResponse("Refused: the request came from another site.", 403)
        most = self._most(request.url.path)
        if _length(request.headers) > most:
            return too_large(most)
        if not self._settings.lan:
            return None
        return self._of_a_visitor(request)

    def _most(self, path: str) -> int:
        limits = self._settings.limits
        return limits.weather if path.endswith(LARGE) else limits.upload

    def _of_a_visitor(self, request: Request) -> Response | None:
        address = request.client.host if request.client else "unknown"
        name = request.cookies.get(COOKIE) or address
        if not (self._rate.allows(name) and self._of_address.allows(address)):
            wait = {"Retry-After": "1"}
            return PlainTextResponse("Too many requests; wait a moment.", 429, headers=wait)
        if request.url.path.startswith(OPEN_TO_ALL) or owner_of(request) is not None:
            return None
        if request.url.path.startswith("/api"):
            return JSONResponse({"detail": "join first, at /join"}, 401)
        return RedirectResponse("/join", 303)

    async def _capped(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, its body counted as it comes."""
        most = self._most(scope["path"])
        seen, begun, over = 0, False, False

        async def counted() -> Message:
            nonlocal seen, over
            message = await receive()
            seen += len(message.get("body", b""))
            if seen > most:
                over = True
                raise TooLarge
            return message

        async def answered(message: Message) -> None:
            nonlocal begun
            # Whatever the application makes of a body cut short, the answer is ours.
            if over and not begun:
                return
            begun = True
            await send(message)

        with suppress(TooLarge):
            await self._app(scope, counted, answered)
        if over and not begun:
            await too_large(most)(scope, receive, send)


def too_large(most: int) -> Response:
    """Return the answer to a body that is too large."""
    return PlainTextResponse(f"Too large: at most {most // 1024} KB can be sent here.", 413)


def same_origin(headers: Headers) -> bool:
    """Return whether a request that changes something comes from our own pages, or no browser.

    Browsers send Origin with every such request, and Sec-Fetch-Site where they know it.
    """
    fetched = headers.get("sec-fetch-site")
    if fetched is not None and fetched not in ("same-origin", "none"):
        return False
    origin = headers.get("origin")
    if origin is None:
        return True
    try:
        return urlsplit(origin).netloc.lower() == headers.get("host", "").lower()
    except ValueError:
        return False


def _length(headers: Headers) -> int:
    given = headers.get("content-length", "0")
    return int(given) if given.isdecimal() and len(given) < 16 else 0


def _with_headers(send: Send, path: str) -> Send:
    shipped = path.startswith(("/static/", "/fonts/"))

    async def sent(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            if shipped and message["status"] == 200:
                headers["Cache-Control"] = "max-age=3600"
            for name, value in HEADERS.items():
                headers.setdefault(name, value)
        await send(message)

    return sent
