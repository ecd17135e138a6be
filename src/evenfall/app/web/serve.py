"""Serving the desk on this machine, until control-C."""

from __future__ import annotations

import socket
import sys
import threading
import time
import urllib.request
import webbrowser
from contextlib import suppress
from pathlib import Path

import typer
import uvicorn
from fastapi import FastAPI

from evenfall.app.api.application import REFUSALS, make_api
from evenfall.app.api.sharing import routes as sharing_routes
from evenfall.app.demo import DEMO_ON, demo_job
from evenfall.app.listener import listener
from evenfall.app.live.desk import Desk
from evenfall.app.site.sharing import Sharing
from evenfall.app.store.bringing import bring
from evenfall.app.store.place import home
from evenfall.app.web.desk import add_pages, headers, wrong_page
from evenfall.errors import EvenfallError

HOST = "127.0.0.1"
HIGHEST_PORT = 65535
TRIES = 50
"""Ports that are tried, one after another, where the one asked for is taken."""
WRONG = 2
OWNER = "from a file"
HAND_OVER_S = 0.001
"""How long the worker may keep an answer waiting for the interpreter; a fifth of the usual."""


def serve(
    job: Path | None, port: int, open_browser: bool, store: Path | None = None, *,
    share: bool = False, share_at: str | None = None,
) -> None:  # fmt: skip
    """Show the desk until control-C.

    Parameters
    ----------
    job : Path, optional
        A job file, or a folder with one, that is brought in and opened [-].
    port : int
        Port on this machine; 0 picks one [-].
    open_browser : bool
        Whether to open the browser once the desk answers [-].
    store : Path, optional
        Where the jobs live; else `place.HOME` or the data of the user [-].
    share : bool
        Whether records are shared with paired phones from the start, until midnight [-].
    share_at : str, optional
        Address of this machine that the phones see, where it has several [-].
    """
    if not 0 <= port <= HIGHEST_PORT:
        typer.echo(f"--port: {port}, expected 0 to {HIGHEST_PORT}", err=True)
        raise typer.Exit(WRONG)
    try:
        desk = Desk(home(store))
        sharing = Sharing(desk)
        path = opened(desk, job)
        if share or share_at:
            sharing.start(share_at)
            typer.echo(_shared(sharing))
    except (EvenfallError, OSError) as error:
        typer.echo(str(error), err=True)
        raise typer.Exit(WRONG) from None
    sys.setswitchinterval(HAND_OVER_S)
    try:
        with _listening(port) as taken:
            base = f"http://{HOST}:{taken.getsockname()[1]}"
            config = uvicorn.Config(
                make_desk(desk, sharing), log_level="error", access_log=False, lifespan="off",
                timeout_graceful_shutdown=1, timeout_keep_alive=75,
            )  # fmt: skip
            server = uvicorn.Server(config)
            tell = (server, base, path, open_browser)
            threading.Thread(target=_tell, args=tell, daemon=True).start()
            with suppress(KeyboardInterrupt):  # how a person ends it
                server.run(sockets=[taken])
    finally:
        sharing.stop()
        desk.close()


def _shared(sharing: Sharing) -> str:
    """Say what is shared, with whom and until when."""
    until = sharing.until
    ends = until.strftime("%H:%M on %d %B") if until else "now"
    return (
        f"Shared on the local network: {sharing.url} until {ends}: days, records and photos of a "
        "job with the phones paired for it, nothing else. Pair them at the desk: /share"
    )


def make_desk(desk: Desk, sharing: Sharing | None = None) -> FastAPI:
    """Make the whole application: routes and pages.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].
    sharing : Sharing, optional
        The switch for phones; else one of its own, which is off [-].

    Returns
    -------
    FastAPI
        The application [-].
    """
    app = make_api(desk, wrong_page, headers())
    switch = sharing_routes(sharing or Sharing(desk))
    app.include_router(switch, prefix="/api", responses=REFUSALS)
    add_pages(app, desk)
    return app


def opened(desk: Desk, job: Path | None) -> str:
    """Bring a job in, and say at which address it stands.

    Without a job the address is that of the list; where that is empty, the invented example is
    brought in first.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].
    job : Path, optional
        A job file, or a folder with one [-].

    Returns
    -------
    str
        Path of the page [-].
    """
    if job is None:
        if not desk.store.jobs() and not desk.store.jobs(archived=True):
            bring(desk.store, demo_job(), "Evenfall", DEMO_ON)
            typer.echo("The list was empty: the invented example stands in it.")
        return "/"
    brought = bring(desk.store, job, OWNER, _always_on(job))
    if brought.how == "changed":
        number = brought.revision.number
        typer.echo(f"{job} has changed since it was brought in: now revision {number}.")
    return f"/job/{brought.revision.job}"


def _always_on(job: Path) -> str | None:
    """Give the day of the example; every other job is worked as of today."""
    demo = demo_job().resolve()
    return DEMO_ON if job.resolve() in (demo, demo / "job.yaml") else None


def _listening(port: int) -> socket.socket:
    """Take the port, or the next that is free."""
    for at in range(port, min(port + TRIES, HIGHEST_PORT + 1)):
        try:
            taken = listener(HOST, at)
        except OSError:
            continue
        if at != port:
            typer.echo(f"Port {port} is taken; the desk stands at the next free one, {at}.")
        return taken
    typer.echo(f"Port {port} and the next {TRIES} are taken; try --port 0.", err=True)
    raise typer.Exit(WRONG)


def _tell(server: uvicorn.Server, base: str, path: str, open_browser: bool) -> None:
    """Once the desk answers, say where it is and open the browser."""
    while not server.started:
        if server.should_exit:
            return
        time.sleep(0.01)
    url = f"{base}{path}"
    direct = urllib.request.build_opener(urllib.request.ProxyHandler({}))
    with suppress(OSError), direct.open(url) as answer:  # the page is drawn once, and kept
        answer.read()
    typer.echo(f"The desk: {url}  (control-C ends it; nothing leaves this machine)")
    if open_browser:
        webbrowser.open(url)
