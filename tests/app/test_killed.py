"""Kill -9 at a random moment: whatever was acknowledged is there, whole.

A killed program leaves what the system has taken; that a write is also on the disk when it is
acknowledged rests on ``synchronous=FULL``, which is asserted in the process that is killed, too.
"""

from __future__ import annotations

import hashlib
import json
import subprocess
import sys
import time
from pathlib import Path
from random import Random

import pytest

from evenfall.app.store import shelves
from evenfall.app.store.database import FULL
from evenfall.app.store.store import Store

CHILD = Path(__file__).with_name("killed_child.py")
MANY = 10
RUNS = [pytest.param(n, marks=[pytest.mark.long] if n >= MANY else []) for n in range(100)]


def acknowledged(folder: Path, seed: int) -> list[dict[str, object]]:
    """What a child had told when it was killed, at a moment that chance decides."""
    random = Random(seed)
    command = [sys.executable, str(CHILD), str(folder), str(seed)]
    with subprocess.Popen(command, stdout=subprocess.PIPE) as child:
        assert child.stdout is not None
        told = [child.stdout.readline() for _ in range(random.randrange(1, 60))]
        time.sleep(random.random() * 0.02)
        child.kill()
        told += child.stdout.read().splitlines(keepends=True)
    return [json.loads(line) for line in told if line.endswith(b"\n")]


@pytest.mark.parametrize("seed", RUNS)
def test_nothing_acknowledged_is_lost_when_the_desk_is_killed(tmp_path: Path, seed: int) -> None:
    told = acknowledged(tmp_path, seed)
    store = Store(tmp_path)
    assert store.base.execute("PRAGMA synchronous").fetchone()[0] == FULL
    assert store.base.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
    job = str(told[0]["job"])
    for line in told:
        if "revision" in line:
            revision = store.revision(job, int(str(line["revision"])))
            assert store.contents(revision).document["n"] == line["n"]
        elif "photo" in line:
            file, _ = shelves.photo_file(store, str(line["photo"]))
            assert hashlib.sha256(file.read_bytes()).hexdigest() == line["photo"]
        else:
            _, body = shelves.issued_body(store, job, int(str(line["issued"])))
            assert hashlib.sha256(body).hexdigest() == line["hash"]
    head = store.head(job)
    assert len(store.history(job)) == head.number  # no gap, nothing half there
    store.save(job, head.number, store.contents(head), "afterwards")
    store.close()
