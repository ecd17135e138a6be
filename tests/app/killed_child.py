"""A desk that writes without end and tells each write that was acknowledged; it will be killed."""

from __future__ import annotations

import io
import json
import sys
from pathlib import Path
from random import Random

from PIL import Image

from evenfall.app.store import shelves
from evenfall.app.store.kept import Contents
from evenfall.app.store.store import Store


def tell(**what: object) -> None:
    sys.stdout.write(json.dumps(what) + "\n")
    sys.stdout.flush()


def photo(number: int) -> bytes:
    file = io.BytesIO()
    Image.new("RGB", (40, 30), (number % 256, number // 256 % 256, 7)).save(file, "PNG")
    return file.getvalue()


def main(folder: str, seed: int) -> None:
    random, store = Random(seed), Store(Path(folder))
    job = store.make(Contents({"format": 1, "n": 0}), "child").job
    tell(job=job, revision=1, n=0)
    number, shown = 0, 0
    while True:
        number += 1
        head = store.head(job).number
        deed = random.choice(("edit", "edit", "edit", "undo", "photo", "issue"))
        if deed == "undo" and store.contents(store.head(job)).document["n"]:
            new = store.undo(job, head, "child")
            tell(job=job, revision=new.number, n=store.contents(new).document["n"])
        elif deed == "photo":
            kept = shelves.keep_photo(store, job, [photo(number)], "", "child")
            tell(photo=kept.hash)
        elif deed == "issue":
            body = random.randbytes(random.randrange(1, 60_000))
            sent = shelves.keep_issued(
                store, job, head, "p.pdf", body, who="child", worked_on="", worked=""
            )
            tell(issued=sent.id, hash=sent.hash)
        else:
            shown += 1
            filling = {"format": 1, "n": shown, "words": random.randbytes(2000).hex()}
            new = store.save(job, head, Contents(filling), "child")
            tell(job=job, revision=new.number, n=shown)


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]))
