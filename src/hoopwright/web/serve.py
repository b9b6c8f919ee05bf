"""`hoopwright serve`: the whole tool in the browser, for one or for a room full of people."""

from __future__ import annotations

import socket
from pathlib import Path
from typing import Annotated

import typer


class NoPort(ValueError):
    """The port to listen on is taken."""


def serve(
    folder: Annotated[
        Path | None, typer.Option(help="Folder to keep plans in. Default: your data folder.")
    ] = None,
    port: Annotated[int, typer.Option(help="Port to listen on.", min=1, max=65535)] = 8327,
    lan: Annotated[
        bool, typer.Option("--lan", help="Let other machines in, each visitor with a join code.")
    ] = False,
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
    from hoopwright.web.app import application
    from hoopwright.web.settings import Settings, join_code

    own = own_names() if lan else ()
    hosts = Settings(Path()).hosts | {word.lower() for word in (*own, *(name or ()))}
    settings = Settings(
        folder=folder or usual_folder(), hosts=hosts, lan=lan, code=code or join_code()
    )
    # Opened once before the server is, so that a store that cannot be used is said in one line.
    Store(settings.folder).close()
    listening = _listening("0.0.0.0" if lan else "127.0.0.1", port)
    print(f"Open http://127.0.0.1:{port} in a browser. Ctrl+C stops; nothing is lost.")
    if lan:
        print(_room(settings.code, settings.owner_code, own, port))
    config = uvicorn.Config(
        application(settings), log_level="warning", server_header=False, timeout_keep_alive=30
    )
    uvicorn.Server(config).run(sockets=[listening])


def own_names() -> tuple[str, ...]:
    """Return the names and addresses that other machines may call this one by."""
    host = socket.gethostname()
    try:
        found = {str(place[4][0]) for place in socket.getaddrinfo(host, None)}
    except OSError:
        found = set()
    found |= _outward()
    return (host, f"{host}.local", *sorted(found))


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
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((address, port))
    except OSError:
        listening.close()
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
