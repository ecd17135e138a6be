"""A desk that takes records from phones until it is killed: serves the shared address on a port."""

from __future__ import annotations

import resource
import signal
import sys
from pathlib import Path

import uvicorn

from evenfall.app.live.desk import Desk
from evenfall.app.site.application import make_site
from evenfall.app.site.pairing import Pairing
from evenfall.app.store.kept import Contents

HOST = "127.0.0.1"


def main(folder: str, port: int, most: int = 0) -> None:
    """Serve; with ``most`` no file may grow beyond so many bytes, until SIGUSR1: a full disk."""
    if most:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)  # so that a write fails with an error
        whole = resource.getrlimit(resource.RLIMIT_FSIZE)[1]
        resource.setrlimit(resource.RLIMIT_FSIZE, (most, whole))
        free = (whole, whole)
        signal.signal(signal.SIGUSR1, lambda *_: resource.setrlimit(resource.RLIMIT_FSIZE, free))
    desk = Desk(Path(folder))
    jobs = desk.store.jobs()
    job = jobs[0].id if jobs else desk.store.make(Contents({"format": 1}), "child").job
    pairing = Pairing(desk.store)
    site = make_site(desk, pairing, (HOST,), scheme="http")

    class Server(uvicorn.Server):
        async def startup(self, sockets: object = None) -> None:
            await super().startup()
            port = self.servers[0].sockets[0].getsockname()[1]
            sys.stdout.write(f"{port} {job} {pairing.token(job)[0]}\n")
            sys.stdout.flush()

    Server(uvicorn.Config(site, HOST, port, log_level="error", lifespan="off")).run()


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]), int(sys.argv[3]) if sys.argv[3:] else 0)
