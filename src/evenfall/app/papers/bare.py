"""A photo for the client: the picture and what is drawn on it, nothing else of its file."""

from __future__ import annotations

import hashlib
import io
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.util import find_spec
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
TEXT_SHARE = 1 / 26  # the height of a note's letters
TIP = 5.0  # length of an arrow's tip, in widths of its line; half as wide to each side
INK, UNDER = (196, 32, 24), (255, 255, 255)
LIST = "photos.txt"
"""What each photo shows, beside the client's copies."""
ENDINGS = (".jpg", ".png", ".webp")
FACE = "SourceSansPro-Bold.otf"


@dataclass(frozen=True, slots=True)
class Copy:
    """A photo for the client: where it belongs, what it shows, and its file; none yet to come."""

    sha: str
    head: str
    says: str
    jpeg: bytes | None
    wide: int = 0
    high: int = 0


def bare_picture(
    raw: bytes, name: str, key: str, marks: tuple[PhotoMarking, ...] = (), most_px: int = MOST_PX
) -> Image:
    """Open a photo, set it upright, draw its marks, and leave out place, time and camera.

    Parameters
    ----------
    raw : bytes
        The file [-].
    name, key : str
        What to call it and where it stands, for a mistake [-].
    marks : tuple of PhotoMarking
        What is drawn on it [-].
    most_px : int
        The longer side at most [-].

    Returns
    -------
    Image
        Pixels alone [-].

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
    upright.thumbnail((most_px, most_px))
    clean = Image.new("RGB", upright.size)
    clean.paste(upright)
    pen = ImageDraw.Draw(clean)
    for mark in marks:
        _draw(pen, clean.size, mark)
    return clean


def bare_jpeg(picture: Image, quality: int = QUALITY) -> bytes:
    """Write pixels as a JPEG without any other word in it.

    Parameters
    ----------
    picture : Image
        Of `bare_picture` [-].
    quality : int
        How closely it keeps the pixels [-].

    Returns
    -------
    bytes
        The file [-].
    """
    target = io.BytesIO()
    picture.save(target, "JPEG", quality=quality)
    return target.getvalue()


def copies(
    worked: WorkedJob, folder: Path, most_px: int = MOST_PX, quality: int = QUALITY
) -> Iterator[Copy]:
    """Make the client's copies of the photos of the roof, one after another.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].
    folder : Path
        Where they lie, each named by its SHA-256 [-].
    most_px, quality : int
        The longer side at most, and how closely the JPEG keeps it [-].

    Yields
    ------
    Copy
        In the order of the hold points; without a file where the photo is not here [-].

    Raises
    ------
    InvalidInput
        A file that is not the photo that was taken, or no picture.
    """
    for sha, head, about, entry in PAPERS["photos"](worked):
        marks = entry.marks if entry else ()
        notes = "; ".join(f"“{m.text.strip()}”" for m in marks if m.text.strip())
        says = " ".join(t for t in (about, f"Drawn on it: {notes}." if notes else "") if t)
        file = next((f for e in ENDINGS if (f := folder / f"{sha}{e}").is_file()), None)
        if file is None:
            yield Copy(sha, head, says, None)
            continue
        raw = file.read_bytes()
        if hashlib.sha256(raw).hexdigest() != sha:
            raise InvalidInput(f"{file.name} was changed", "the photo as it was taken",
                               where="photos")  # fmt: skip
        picture = bare_picture(raw, file.name, "photos", marks, most_px)
        yield Copy(sha, head, says, bare_jpeg(picture, quality), *picture.size)


def client_photos(
    worked: WorkedJob, folder: Path
) -> tuple[tuple[tuple[str, bytes], ...], tuple[str, ...]]:
    """Make files of the client's copies, with a list of what each shows.

    Parameters
    ----------
    worked : WorkedJob
        The worked job [-].
    folder : Path
        Where the photos lie, each named by its SHA-256 [-].

    Returns
    -------
    tuple
        Names and files in the order of the hold points, and those that are not here [-].

    Raises
    ------
    InvalidInput
        A file that is not the photo that was taken, or no picture.
    """
    made, missing, told = list[tuple[str, bytes]](), list[str](), list[str]()
    for number, copy in enumerate(copies(worked, folder), 1):
        if copy.jpeg is None:
            missing.append(copy.sha)
            continue
        plain = re.sub(r"[^a-z0-9]+", "-", copy.head.lower()).strip("-")
        made.append((f"{number:03d}-{plain}.jpg", copy.jpeg))
        told.append(f"{made[-1][0]}: {copy.head}. {copy.says}".strip())
    if told:
        made.append((LIST, ("\n".join(told) + "\n").encode()))
    return tuple(made), tuple(missing)


def _draw(pen: ImageDraw, size: tuple[int, int], mark: PhotoMarking) -> None:
    wide = max(2, round(max(size) * WIDTH_SHARE))
    points = [(x * size[0] / 1000, y * size[1] / 1000) for x, y in mark.points]
    if mark.kind == "arrow" and len(points) > 1:
        _arrow(pen, points, wide)
    elif mark.kind == "ring":
        xs, ys = zip(*points, strict=True)
        r = round(max(size) * RING_SHARE) if len(points) == 1 else 0
        box = (min(xs) - r, min(ys) - r, max(xs) + r, max(ys) + r)
        pen.ellipse([v + d for v, d in zip(box, (-wide, -wide, wide, wide), strict=True)],
                    outline=UNDER, width=3 * wide)  # fmt: skip
        pen.ellipse(box, outline=INK, width=wide)
    if mark.text:
        _note(pen, size, mark.text, points[0], wide)


def _arrow(pen: ImageDraw, points: list[tuple[float, float]], wide: int) -> None:
    (ax, ay), (bx, by) = points[-2:]
    long = math.hypot(bx - ax, by - ay) or 1.0
    ux, uy, tip = (bx - ax) / long, (by - ay) / long, TIP * wide
    root = (bx - tip * ux, by - tip * uy)
    wings = [(root[0] - s * tip / 2 * uy, root[1] + s * tip / 2 * ux) for s in (1, -1)]
    for colour, width in ((UNDER, 3 * wide), (INK, wide)):
        pen.line([*points[:-1], root], fill=colour, width=width)
        pen.polygon([(bx, by), *wings], fill=INK, outline=UNDER, width=wide)


def _note(
    pen: ImageDraw, size: tuple[int, int], text: str, at: tuple[float, float], wide: int
) -> None:
    """Write a note in letters that are read, kept on the picture."""
    from PIL import ImageFont

    spec = find_spec("font_source_sans_pro")
    high = round(max(size) * TEXT_SHARE)
    face: ImageFont.FreeTypeFont | ImageFont.ImageFont = ImageFont.load_default(high)
    if spec is not None and spec.origin is not None:
        face = ImageFont.truetype(str(Path(spec.origin).parent / "files" / FACE), high)
    left, top, right, bottom = pen.textbbox((0, 0), text, font=face, stroke_width=wide)
    x = max(0.0, min(at[0] + 2 * wide, size[0] - (right - left) - wide))
    y = max(0.0, min(at[1] + 2 * wide, size[1] - (bottom - top) - 2 * wide))
    pen.text((x, y), text, fill=INK, font=face, stroke_width=wide, stroke_fill=UNDER)
