"""A photo for the client: the picture and what is drawn on it, nothing else of its file."""

from __future__ import annotations

import hashlib
import io
import re
from pathlib import Path
from typing import TYPE_CHECKING

from evenfall.errors import InvalidInput
from evenfall.flow import PAPERS, WorkedJob

if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageDraw import ImageDraw

    from evenfall.model.logbook import PhotoMarking

MOST_PX = 1400
QUALITY = 82
WIDTH_SHARE = 1 / 160  # of the longer side: the width of what is drawn on a photo
RING_SHARE = 1 / 14  # the radius of a ring of one point
INK = (196, 32, 24)


def bare_picture(raw: bytes, name: str, key: str, marks: tuple[PhotoMarking, ...] = ()) -> Image:
    """Open a photo, set it upright, draw its marks, and leave out place, time and camera.

    Parameters
    ----------
    raw : bytes
        The file [-].
    name, key : str
        What to call it and where it stands, for a mistake [-].
    marks : tuple of PhotoMarking
        What is drawn on it [-].

    Returns
    -------
    Image
        Pixels alone, at most `MOST_PX` on the longer side [-].

    Raises
    ------
    InvalidInput
        It is no picture.
    """
    from PIL import Image, ImageDraw, ImageOps, UnidentifiedImageError

    try:
        with Image.open(io.BytesIO(raw)) as picture:
            upright = ImageOps.exif_transpose(picture).convert("RGB")
    except (UnidentifiedImageError, OSError, ValueError, SyntaxError,
            Image.DecompressionBombError):  # fmt: skip
        raise InvalidInput(f"{name} is no picture", "a photo", where=key) from None
    upright.thumbnail((MOST_PX, MOST_PX))
    clean = Image.new("RGB", upright.size)
    clean.paste(upright)
    pen = ImageDraw.Draw(clean)
    for mark in marks:
        _draw(pen, clean.size, mark)
    return clean


def bare_jpeg(picture: Image) -> bytes:
    """Write pixels as a JPEG without any other word in it.

    Parameters
    ----------
    picture : Image
        Of `bare_picture` [-].

    Returns
    -------
    bytes
        The file [-].
    """
    target = io.BytesIO()
    picture.save(target, "JPEG", quality=QUALITY)
    return target.getvalue()


def client_photos(
    worked: WorkedJob, folder: Path
) -> tuple[tuple[tuple[str, bytes], ...], tuple[str, ...]]:
    """Make the client's copies of the photos of the roof.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].
    folder : Path
        Where they lie, each named by its SHA-256 [-].

    Returns
    -------
    tuple
        Names and files in the order of the hold points, and those that are not here [-].

    Raises
    ------
    InvalidInput
        A file that is not the photo that was taken, or no picture.
    """
    made, missing = list[tuple[str, bytes]](), list[str]()
    for number, (sha, head, _, entry) in enumerate(PAPERS["photos"](worked), 1):
        file = next((f for e in (".jpg", ".png", ".webp") if (f := folder / f"{sha}{e}").is_file()),
                    None)  # fmt: skip
        if file is None:
            missing.append(sha)
            continue
        raw = file.read_bytes()
        if hashlib.sha256(raw).hexdigest() != sha:
            raise InvalidInput(f"{file.name} was changed", "the photo as it was taken",
                               where="photos")  # fmt: skip
        picture = bare_picture(raw, file.name, "photos", entry.marks if entry else ())
        name = re.sub(r"[^a-z0-9]+", "-", head.lower()).strip("-")
        made.append((f"{number:03d}-{name}.jpg", bare_jpeg(picture)))
    return tuple(made), tuple(missing)


def _draw(pen: ImageDraw, size: tuple[int, int], mark: PhotoMarking) -> None:
    wide = max(2, round(max(size) * WIDTH_SHARE))
    points = [(x * size[0] / 1000, y * size[1] / 1000) for x, y in mark.points]
    if mark.kind == "arrow" and len(points) > 1:
        pen.line(points, fill=INK, width=wide)
        (x, y), tip = points[-1], 3 * wide
        pen.ellipse((x - tip, y - tip, x + tip, y + tip), fill=INK)
    elif mark.kind == "ring":
        xs, ys = zip(*points, strict=True)
        r = round(max(size) * RING_SHARE) if len(points) == 1 else 0
        box = (min(xs) - r, min(ys) - r, max(xs) + r, max(ys) + r)
        pen.ellipse(box, outline=INK, width=wide)
    if mark.text:
        pen.text((points[0][0] + wide, points[0][1] + wide), mark.text, fill=INK)
