"""Entries as a phone writes them, and photos, for the tests of the record."""

from __future__ import annotations

import hashlib
import io
from typing import Any

from PIL import Image

ANN, BEN = "a" * 32, "b" * 32
AT = "2026-11-25T10:00:00Z"


def id_of(device: str, n: int) -> str:
    return hashlib.sha256(f"{device}/{n}".encode()).hexdigest()[:32]


def reading(device: str = ANN, n: int = 1, value: float = 14.5, **more: Any) -> dict[str, Any]:
    return {
        "id": id_of(device, n), "device": device, "n": n, "at": AT, "who": "Ann",
        "kind": "reading", "what": "moisture", "value": value, "unit": "%", "name": f"joist-{n}",
        **more,
    }  # fmt: skip


def jpeg(number: int = 1, wide: int = 40, high: int = 30, noise: bool = False) -> bytes:
    file = io.BytesIO()
    if noise:
        picture = Image.effect_noise((wide, high), 40 + number % 50).convert("RGB")
    else:
        picture = Image.new("RGB", (wide, high), (number * 53 % 256, number * 97 % 256, 7))
    picture.save(file, "JPEG", quality=80)
    return file.getvalue()


def hash_of(body: bytes) -> str:
    return hashlib.sha256(body).hexdigest()
