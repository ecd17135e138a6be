"""What a file that is called a photo really is: by its bytes, never by its name."""

from __future__ import annotations

import warnings
from dataclasses import dataclass
from pathlib import Path

from evenfall.errors import InvalidInput

MOST_PIXELS = 120_000_000
"""A file of some kilobytes may unfold to more; a camera has at most 108 million."""
TYPES = {"JPEG": "image/jpeg", "PNG": "image/png", "WEBP": "image/webp"}
ASKED = "a photo: JPEG, PNG or WebP"
_HEADS = (
    (b"PK\x03\x04", "a packed folder (zip)"),
    (b"\x1f\x8b", "a packed file (gzip)"),
    (b"%PDF", "a PDF"),
    (b"GIF8", "a moving picture (GIF)"),
)
_FIRST = 2000


@dataclass(frozen=True, slots=True)
class Picture:
    """Type and size of a photo."""

    type: str
    wide: int
    high: int


class WrongType(InvalidInput):
    """A file of another kind than was asked for."""


def look(file: Path) -> Picture:
    """See that a file is a photo that may be opened.

    Parameters
    ----------
    file : Path
        The file [-].

    Returns
    -------
    Picture
        Its type, and its size in pixels [-].

    Raises
    ------
    WrongType
        It is something else, such as a drawing with a script in it.
    InvalidInput
        It is broken, or would unfold to too many pixels.
    """
    from PIL import Image

    with file.open("rb") as stream:
        head = stream.read(_FIRST)
    if named := kind_of(head):
        raise WrongType(named, ASKED, where="photo")
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            with Image.open(file, formats=list(TYPES)) as picture:
                wide, high = picture.size
                if wide * high > MOST_PIXELS:
                    raise _too_many(wide, high)
                found = Picture(TYPES[picture.format or ""], wide, high)
                picture.verify()
    except InvalidInput:
        raise
    except Image.DecompressionBombError:
        raise _too_many(0, 0) from None
    except Exception:  # the library has many kinds of error for a file that is not one
        raise WrongType("a file that is no photo, or a broken one", ASKED, where="photo") from None
    return found


def kind_of(head: bytes) -> str:
    """Name a file that is no photo by its first bytes.

    Parameters
    ----------
    head : bytes
        The first of it [-].

    Returns
    -------
    str
        What it is; nothing where that is not known [-].

    Examples
    --------
    >>> kind_of(b"<svg onload='...'>"), kind_of(bytes(9))
    ('a drawing or page (SVG, HTML), which may carry a script', '')
    """
    for start, name in _HEADS:
        if head.startswith(start):
            return name
    words = head.lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    if words.startswith((b"<svg", b"<?xml", b"<!doctype", b"<html", b"<script")):
        return "a drawing or page (SVG, HTML), which may carry a script"
    return "an empty file" if not head else ""


def _too_many(wide: int, high: int) -> InvalidInput:
    size = f"a picture of {wide} × {high} pixels" if wide else "a picture of too many pixels"
    return InvalidInput(size, f"at most {MOST_PIXELS:,}", where="photo", do="send a smaller one")
