"""The switch: this desk's records shared with paired phones on the local network, until midnight.

Nothing listens on the network before somebody turns the switch, and then only `/site/` is served.
"""

from __future__ import annotations

import socket
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import datetime, timedelta

import uvicorn

from evenfall.app.listener import listener
from evenfall.app.live.desk import Desk
from evenfall.app.site.application import make_site, plain_door
from evenfall.app.site.authority import Certified, certified, private
from evenfall.app.site.pairing import Pairing
from evenfall.errors import InvalidInput

PORT = 8018
"""Where phones ask; the next free ones where it is taken."""
TRIES = 20
LOOKED_EVERY_S = 1.0
"""How often it is seen whether midnight has come; also after the machine has slept."""
STARTS_WITHIN_S = 10.0
NOWHERE = "192.0.2.1"
"""An address that is nowhere (RFC 5737); nothing is sent to it."""


@dataclass
class _Open:
    """What listens while the switch is on."""

    address: str
    port: int
    door: int
    until: datetime
    certified: Certified
    servers: list[uvicorn.Server] = field(default_factory=list)
    threads: list[threading.Thread] = field(default_factory=list)


def local_address() -> str:
    """Find the address of this machine on the network of its standard route.

    Returns
    -------
    str
        The address [-].

    Raises
    ------
    InvalidInput
        The machine is on no network.
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe, suppress(OSError):
        probe.connect((NOWHERE, 9))  # sends nothing: it only asks which way it would go
        return str(probe.getsockname()[0])
    raise InvalidInput(
        "this machine is on no network", "the network that the phones are on", where="share",
        do="join it, and try again; or take the day sheet as one file",
    )  # fmt: skip


def midnight(now: datetime) -> datetime:
    """Give the end of a day.

    Parameters
    ----------
    now : datetime
        A moment of it, by the clock on the wall [-].

    Returns
    -------
    datetime
        The next midnight [-].
    """
    return datetime.combine(now.date() + timedelta(days=1), datetime.min.time(), now.tzinfo)


def _wall() -> datetime:
    return datetime.now().astimezone()


class Sharing:
    """The switch of a desk; off until somebody turns it.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].
    clock : callable
        Says what time it is, by the clock on the wall [-].
    """

    def __init__(self, desk: Desk, clock: Callable[[], datetime] = _wall) -> None:
        self.desk, self.clock = desk, clock
        self._open: _Open | None = None
        self._watching: threading.Thread | None = None
        self._lock = threading.RLock()

    @property
    def pairing(self) -> Pairing:
        """The paired phones."""
        return Pairing(self.desk.store, lambda: self.clock())

    @property
    def on(self) -> bool:
        """Whether phones can ask now."""
        now_open = self._open
        return now_open is not None and self.clock() < now_open.until

    @property
    def until(self) -> datetime | None:
        """When it ends by itself."""
        now_open = self._open
        return now_open.until if now_open and self.on else None

    @property
    def url(self) -> str:
        """Where phones ask; nothing while it is off."""
        now_open = self._open
        return f"https://{now_open.address}:{now_open.port}/site/" if now_open and self.on else ""

    @property
    def certificate_url(self) -> str:
        """Where a phone fetches the certificate; nothing while it is off."""
        o = self._open
        return f"http://{o.address}:{o.door}/site/certificate" if o and self.on else ""

    @property
    def fingerprint(self) -> str:
        """What the phone must show of the certificate."""
        now_open = self._open
        return now_open.certified.fingerprint if now_open else ""

    def start(self, address: str | None = None) -> None:
        """Turn the switch on, until midnight.

        Parameters
        ----------
        address : str, optional
            Address of this machine that the phones see; else that of the standard route [-].

        Raises
        ------
        InvalidInput
            The machine is on no private network, or no port is free.
        """
        with self._lock:
            if self.on:
                return
            self.stop()
            here = str(private(address or local_address()))
            signed = certified(self.desk.store.folder, here)
            secure, door = _listening(here), _listening(here)
            ports = secure.getsockname()[1], door.getsockname()[1]
            opened = _Open(here, *ports, midnight(self.clock()), signed)
            self._open = opened
            self._serve(opened, secure, door)

    def _serve(self, opened: _Open, secure: socket.socket, door: socket.socket) -> None:
        signed = opened.certified
        told = (signed.authority, signed.fingerprint)
        hosts, desk, pairing = (opened.address,), self.desk, self.pairing

        def over() -> bool:
            return self._open is not opened or not self.on

        site = make_site(
            desk, pairing, hosts, authority=lambda: told, over=over, clock=lambda: self.clock()
        )
        plain = make_site(
            desk, pairing, hosts, scheme="http", authority=lambda: told, over=over
        )  # fmt: skip
        common = {"log_level": "error", "access_log": False, "lifespan": "off",
                  "timeout_graceful_shutdown": 1}  # fmt: skip
        tls = {"ssl_certfile": str(signed.chain), "ssl_keyfile": str(signed.key)}
        self._run(opened, uvicorn.Config(site, **common, **tls), secure)  # type: ignore[arg-type]
        self._run(opened, uvicorn.Config(plain_door(plain), **common), door)  # type: ignore[arg-type]
        self._watching = threading.Thread(target=self._watch, args=(opened,), daemon=True)
        self._watching.start()
        ends = time.monotonic() + STARTS_WITHIN_S
        while not all(s.started for s in opened.servers) and time.monotonic() < ends:
            time.sleep(0.01)

    def _run(self, opened: _Open, config: uvicorn.Config, listener: socket.socket) -> None:
        server = uvicorn.Server(config)

        def run() -> None:
            with listener:
                server.run(sockets=[listener])

        thread = threading.Thread(target=run, name="sharing", daemon=True)
        opened.servers.append(server)
        opened.threads.append(thread)
        thread.start()

    def _watch(self, opened: _Open) -> None:
        """End it at midnight."""
        while self._open is opened:
            if self.clock() >= opened.until:
                self._end(opened)
                return
            time.sleep(LOOKED_EVERY_S)

    def stop(self) -> None:
        """Turn the switch off; phones keep what they have, and stay paired."""
        with self._lock:
            if self._open is not None:
                self._end(self._open)

    def _end(self, opened: _Open) -> None:
        with self._lock:
            if self._open is opened:
                self._open = None
        for server in opened.servers:
            server.should_exit = True
        for thread in opened.threads:
            thread.join(timeout=5)


def _listening(address: str) -> socket.socket:
    """Take the first free port for phones."""
    for port in range(PORT, PORT + TRIES):
        try:
            taken = listener(address, port)
        except OSError:
            continue
        taken.listen(128)
        return taken
    what = f"the ports {PORT} to {PORT + TRIES - 1} of {address} are taken, or not to be had"
    raise InvalidInput(what, "a free one", where="share", do="end what holds them, and try again")
