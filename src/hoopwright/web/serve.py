"""`hoopwright serve`: the whole tool in the browser, for one or for a room full of people."""

from __future__ import annotations

import errno
import os
import socket
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    import uvicorn

    from hoopwright.web.settings import ServerSettings


class NoPort(ValueError):
    """The address or port to listen on cannot be had."""


def serve(
    folder: Annotated[
        Path | None, typer.Option(help="Folder to keep plans in. Default: your data folder.")
    ] = None,
    port: Annotated[int, typer.Option(help="Port to listen on.", min=1, max=65535)] = 8327,
    lan: Annotated[
        str | None,
        typer.Option(
            metavar="ADDRESS",
            help="Let other machines in, each visitor with a join code: the address of this "
            "machine to listen on, as 192.168.1.5, or all.",
        ),
    ] = None,
    name: Annotated[
        list[str] | None, typer.Option(help="With --lan: another name this machine goes by.")
    ] = None,
    code: Annotated[
        str | None, typer.Option(help="With --lan: the join code, instead of a new one.")
    ] = None,
) -> None:
    """Open the tool in the browser, offline; only this machine can reach it unless --lan."""
    import uvicorn

    from hoopwright.store import Store, usual_folder
    from hoopwright.web.settings import ServerSettings, join_code

    address = {None: "127.0.0.1", "all": "0.0.0.0"}.get(lan, lan or "")
    own = () if lan is None else own_names() if lan == "all" else (*_called(), address)
    hosts = ServerSettings(Path()).hosts | {
        _as_host(word.lower()) for word in (*own, *(name or ()))
    }
    settings = ServerSettings(
        folder=folder or usual_folder(), hosts=hosts, lan=lan is not None, code=code or join_code()
    )
    # Opened once before the server is, so that a store that cannot be used is said in one line.
    Store(settings.folder).close()
    listening = _listening(address, port)
    here = "127.0.0.1" if lan in (None, "all") else _as_host(address)
    print(f"Open http://{here}:{port} in a browser. Ctrl+C stops; nothing is lost.")
    if lan:
        print(_room(settings.code, settings.owner_code, own, port))
    uvicorn.Server(configuration(settings)).run(sockets=[listening])


def configuration(settings: ServerSettings) -> uvicorn.Config:
    """Return how the application is run."""
    import uvicorn

    from hoopwright.web.app import application

    # Who asks is told by the connection alone: a header could name another at each try of a code.
    return uvicorn.Config(
        application(settings),
        log_level="warning",
        server_header=False,
        proxy_headers=False,
        timeout_keep_alive=30,
    )


def own_names() -> tuple[str, ...]:
    """Return the names and addresses that other machines may call this one by."""
    host = socket.gethostname()
    try:
        found = {str(place[4][0]) for place in socket.getaddrinfo(host, None)}
    except OSError:
        found = set()
    found |= _outward()
    return (*_called(), *sorted(found))


def _called() -> tuple[str, str]:
    """Return the names of this machine, alone and as its neighbours find it."""
    host = socket.gethostname()
    return host, f"{host}.local"


def _as_host(name: str) -> str:
    """Return a name as a browser writes it: an address of the newer kind in brackets."""
    return f"[{name}]" if ":" in name and not name.startswith("[") else name


def _outward() -> set[str]:
    """Return the address this machine has towards others; nothing is sent to find it."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            # An address of the documentation range (RFC 5737): no such machine exists.
            probe.connect(("192.0.2.1", 9))
            return {str(probe.getsockname()[0])}
        except OSError:
            return set()


def _listening(address: str, port: int) -> socket.socket:
    try:
        family, kind, _, _, place = socket.getaddrinfo(address, port, type=socket.SOCK_STREAM)[0]
    except OSError:
        raise NoPort(f"--lan {address}: is no address of a machine; or say all") from None
    listening = socket.socket(family, kind)
    if os.name == "posix":  # Elsewhere it would let a second program take the same port.
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind(place)
    except OSError as error:
        listening.close()
        if error.errno == errno.EADDRNOTAVAIL:
            raise NoPort(f"--lan {address}: is no address of this machine; or say all") from None
        raise NoPort(f"port {port} is taken; give another with --port") from None
    return listening


def _room(code: str, owner_code: str, names: tuple[str, ...], port: int) -> str:
    shown = [word for word in names if not word.startswith(("127.", "::", "fe80"))]
    places = "\n".join(f"  http://{word}:{port}" for word in shown if ":" not in word)
    return (
        f"Others open one of\n{places}\n"
        f"and join with the code  {code}\n"
        f"You see the plans already on this machine with the code  {owner_code}  (tell no one).\n"
        "The way between is not encrypted: use it on a network you trust."
    )
