"""A desk that shares with phones, in memory or on a real port, for the tests."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from fastapi.testclient import TestClient
from tests.app.roof_entries import ANN

from evenfall.app.live.desk import Desk
from evenfall.app.site.admission import COOKIE
from evenfall.app.site.application import make_site
from evenfall.app.site.pairing import Pairing
from evenfall.app.store.kept import Contents

HOST = "192.168.7.20"
BASE = f"https://{HOST}:8018"


@dataclass
class Clock:
    """A clock that a test moves."""

    now: datetime = datetime(2026, 11, 25, 10, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now

    def later(self, **much: float) -> None:
        self.now += timedelta(**much)


class Shared:
    """A desk with one job that it shares."""

    def __init__(self, desk: Desk) -> None:
        self.desk, self.clock, self.over = desk, Clock(), False
        self.pairing = Pairing(desk.store, self.clock)
        self.app = make_site(
            desk, self.pairing, (HOST,), authority=lambda: (b"PEM", "AB12"),
            over=lambda: self.over, clock=self.clock,
        )  # fmt: skip
        self.job = desk.store.make(Contents({"format": 1, "job": {"title": "Kitchen"}}), "Ann").job

    def stranger(self, address: str = "192.168.7.66") -> TestClient:
        """Somebody on the network."""
        return TestClient(
            self.app, BASE, client=(address, 50_000), raise_server_exceptions=False,
            follow_redirects=False,
        )  # fmt: skip

    def phone(self, name: str = "Ann's phone", job: str | None = None) -> TestClient:
        """A phone that is paired."""
        client = self.stranger("192.168.7.30")
        token, _ = self.pairing.token(job or self.job)
        answer = client.post("/site/pair", json={"token": token, "name": name})
        assert (answer.status_code, answer.json()) == (200, {"job": job or self.job})
        assert COOKIE in client.cookies
        return client

    def send(self, client: TestClient, *entries: Any, device: str = ANN, ahead: float = 0) -> Any:
        """Sync some entries; give the answer."""
        sent = (self.clock.now + timedelta(seconds=ahead)).isoformat()
        body = {"device": device, "sent_at": sent, "job": self.job, "entries": list(entries)}
        return client.post(f"/site/api/{self.job}/entries", json=body)
