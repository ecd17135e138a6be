"""A desk whose disk takes no more: it says so, acknowledges nothing, and goes on with room again.

The desk runs in a process of its own in which the system refuses to let any file grow beyond a
size. The write fails where it fails on a full disk: in the middle of a photo, or of a commit.
"""

from __future__ import annotations

import hashlib
import signal
from pathlib import Path

import httpx2 as httpx
from tests.app.roof_entries import ANN, AT, hash_of, jpeg, reading
from tests.app.test_site_killed import OnRoof, is_there, serving

from evenfall.app.site.admission import COOKIE

LEAST = 400_000
"""Bytes that a file may have: enough for the tables of an empty desk and its first records."""
MANY = 60


def noted(n: int) -> str:
    """A note that cannot be pressed together."""
    return "".join(hashlib.sha256(f"{n}/{part}".encode()).hexdigest() for part in range(5))


def test_a_full_disk_is_told_nothing_of_it_is_acknowledged_and_the_rest_stays(
    tmp_path: Path,
) -> None:
    phone, shot = OnRoof(), jpeg(7, 1100, 900, noise=True)
    assert len(shot) > LEAST
    with serving(tmp_path, LEAST) as (child, url, job, token):
        phone.pair(url, token)
        head = {"cookie": f"{COOKIE}={phone.cookie}"}
        with httpx.Client(headers=head, trust_env=False, timeout=20) as line:
            alone = line.put(f"{url}api/{job}/photos/{hash_of(shot)}", content=shot)
            pack = f'[["{hash_of(shot)}", {len(shot)}]]\n'.encode() + shot
            packed = line.post(f"{url}api/{job}/photos", content=pack)
            for answer in (alone, packed):
                assert (answer.status_code, answer.json()["error"]["code"]) == (507, "full")
                assert "the phone keeps its records" in answer.json()["error"]["do"]
            for first in range(1, 2000, MANY):
                entries = [reading(n=n, note=noted(n)) for n in range(first, first + MANY)]
                body = {"device": ANN, "sent_at": AT, "entries": entries}
                answer = line.post(f"{url}api/{job}/entries", json=body)
                if answer.status_code != 200:
                    break
                phone.kept |= set(answer.json()["kept"])
                phone.entries |= {e["id"]: e for e in entries}
            assert (answer.status_code, answer.json()["error"]["code"]) == (507, "full")
            assert phone.kept
            assert not {e["id"] for e in entries} & phone.kept
            assert line.get(f"{url}api/me").status_code == 200  # it still answers
            is_there(tmp_path, job, phone)
            assert not list((tmp_path / "photos").iterdir())  # no half photo
            child.send_signal(signal.SIGUSR1)  # there is room again: the same desk goes on
            answer = line.post(f"{url}api/{job}/entries", json=body)
            assert answer.json()["kept"] == [e["id"] for e in entries]
            phone.kept |= {e["id"] for e in entries}
            phone.entries |= {e["id"]: e for e in entries}
    is_there(tmp_path, job, phone)
