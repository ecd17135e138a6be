"""The papers as they print, page by page, for the screen."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from evenfall.app.papers import printed
from evenfall.app.papers.pdf import compiled_pages
from evenfall.flow import PAPERS, WorkedJob

PREVIEWS = tuple(printed())
"""The papers that have pages; the others are lists for other programs."""
KEPT = 4
"""Papers whose pages are kept; a page turned is then there at once."""


class _Same:
    """A job that is equal only to itself, so that comparing it costs nothing."""

    def __init__(self, worked: WorkedJob) -> None:
        self.worked = worked

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.worked is self.worked

    def __hash__(self) -> int:
        return id(self.worked)


def pages(worked: WorkedJob, name: str, photos: Path | None = None) -> tuple[str, ...]:
    """Set a paper and give its pages.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].
    name : str
        One of `PREVIEWS` [-].
    photos : Path, optional
        Folder of the photos [-].

    Returns
    -------
    tuple of str
        A page each, as SVG [-].
    """
    return _pages(_Same(worked), name, photos, _here(worked, photos))


def _here(worked: WorkedJob, photos: Path | None) -> frozenset[str]:
    """Name the photos of a job that have come."""
    if photos is None or not photos.is_dir():
        return frozenset()
    named = {sha for sha, *_ in PAPERS["photos"](worked)}
    return frozenset(f.name for f in photos.iterdir() if f.stem in named)


@lru_cache(maxsize=KEPT)
def _pages(
    same: _Same, name: str, photos: Path | None, here: frozenset[str]
) -> tuple[str, ...]:  # fmt: skip
    """Set a paper; ``here`` tells it from the same with other photos."""
    return compiled_pages(printed(photos)[name](same.worked))
