"""The firm's logo: a picture file named in the rates, checked, and made small enough to print."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

from evenfall.errors import InvalidInput
from evenfall.model.case import Case

LARGEST = 5_000_000
"""Bytes of a picture file; a logo has no business to be larger."""
MOST_PX = 900
"""Pixels of the longer side on a paper: 40 mm at 570 to the inch."""
HIGH_MM, WIDE_MM = 14.0, 45.0
KINDS = ("PNG", "JPEG")
WHERE = "the rates: firm.logo"


def read_logo(rates_file: Path, name: str | None) -> bytes | None:
    """Read the logo that the rates name.

    Parameters
    ----------
    rates_file : Path
        The rates; the logo is looked for beside it [-].
    name : str or None
        Name of the picture file [-].

    Returns
    -------
    bytes or None
        A PNG without anything but its pixels; None where the rates name none [-].

    Raises
    ------
    InvalidInput
        There is no such file, or it is no picture.
    """
    if name is None:
        return None
    path = rates_file.parent / name
    try:
        with path.open("rb") as stream:
            raw = stream.read(LARGEST + 1)
    except OSError as error:
        raise InvalidInput(
            f"{name} cannot be read ({error.strerror})", "a PNG or JPEG file beside the rates",
            where=WHERE,
        ) from None  # fmt: skip
    if len(raw) > LARGEST:
        raise InvalidInput(f"{name} has more than {LARGEST:,} bytes", "a smaller picture",
                           where=WHERE)  # fmt: skip
    return _pixels(raw, name)


def _pixels(raw: bytes, name: str) -> bytes:
    """Decode and encode again: what comes out is a picture, whatever went in."""
    from PIL import Image, UnidentifiedImageError

    try:
        with Image.open(io.BytesIO(raw), formats=KINDS) as picture:
            picture.thumbnail((MOST_PX, MOST_PX))
            plain = picture.convert("RGBA")
    except (UnidentifiedImageError, OSError, ValueError, SyntaxError,
            Image.DecompressionBombError):  # fmt: skip
        raise InvalidInput(
            f"{name} is no picture", "a PNG or JPEG file", where=WHERE,
            do="save the logo as PNG, or leave the key out",
        ) from None  # fmt: skip
    target = io.BytesIO()
    plain.save(target, "PNG")
    return target.getvalue()


def firm_logo(case: Case) -> dict[str, Any]:
    """Give the logo as the templates take it.

    Parameters
    ----------
    case : Case
        With the logo, if the firm has one [-].

    Returns
    -------
    dict
        ``logo`` with its bytes, its height on paper and its words; empty without one [mm].
    """
    if case.logo is None:
        return {}
    from PIL import Image

    with Image.open(io.BytesIO(case.logo)) as picture:
        width, height = picture.size
    high = min(HIGH_MM, WIDE_MM * height / width)
    return {"logo": {"bytes": list(case.logo), "format": "png", "height": high,
                     "alt": f"Logo of {case.rates.firm.name}"}}  # fmt: skip
