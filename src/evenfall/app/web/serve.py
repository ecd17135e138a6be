"""Serving the desk on this machine, until control-C."""

from __future__ import annotations

import os
import socket
import threading
import time
import urllib.request
import webbrowser
from collections.abc import Callable
from contextlib import suppress
from datetime import date
from pathlib import Path

import typer
import uvicorn

from evenfall.app.demo import DEMO_ON, demo_job
from evenfall.app.web.desk import make_app
from evenfall.app.web.source import Source
from evenfall.errors import EvenfallError

HOST = "127.0.0.1"
HIGHEST_PORT = 65535
TRIES = 50
"""Ports that are tried, one after another, where the one asked for is taken."""
WRONG = 2


def serve(job: Path, port: int, open_browser: bool) -> None:
    """Show a job at the desk until control-C.

    Parameters
    ----------
    job : Path
        A job file, or a folder with one [-].
    port : int
        Port on this machine; 0 picks one [-].
    open_browser : bool
        Whether to open the browser once the desk answers [-].
    """
    if not 0 <= port <= HIGHEST_PORT:
        typer.echo(f"--port: {port}, expected 0 to {HIGHEST_PORT}", err=True)
        raise typer.Exit(WRONG)
    try:
        source = Source(job, _today(job))
    except EvenfallError as error:
        typer.echo(str(error), err=True)
        raise typer.Exit(WRONG) from None
    with _listening(port) as listener:
        url = f"http://{HOST}:{listener.getsockname()[1]}/"
        server = uvicorn.Server(
            uvicorn.Config(make_app(source), log_level="error", access_log=False, lifespan="off")
        )
        threading.Thread(target=_tell, args=(server, url, open_browser), daemon=True).start()
        with suppress(KeyboardInterrupt):  # how a person ends it
            server.run(sockets=[listener])


def _today(job: Path) -> Callable[[], date]:
    """Say when the job is worked: the example on its own day, every other today."""
    demo = demo_job().resolve()
    if job.resolve() in (demo, demo / "job.yaml"):
        return lambda: date.fromisoformat(DEMO_ON)
    return date.today


def _listening(port: int) -> socket.socket:
    """Take the port, or the next that is free."""
    for at in range(port, min(port + TRIES, HIGHEST_PORT + 1)):
        listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        if os.name == "posix":  # elsewhere this would share a port that is taken
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listener.bind((HOST, at))
        except OSError:
            listener.close()
            continue
        if at != port:
            typer.echo(f"Port {port} is taken; the desk stands at the next free one, {at}.")
        return listener
    typer.echo(f"Port {port} and the next {TRIES} are taken; try --port 0.", err=True)
    raise typer.Exit(WRONG)


def _tell(server: uvicorn.Server, url: str, open_browser: bool) -> None:
    """Once the desk answers, say where it is and open the browser."""
    while not server.started:
        if server.should_exit:
            return
        time.sleep(0.01)
    direct = urllib.request.build_opener(urllib.request.ProxyHandler({}))
    with suppress(OSError), direct.open(url) as answer:  # the page is drawn once, and kept
        answer.read()
    typer.echo(f"The desk: {url}  (control-C ends it; nothing leaves this machine)")
    if open_browser:
        webbrowser.open(url)
