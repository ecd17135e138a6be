"""Write a folder whole or not at all: a temporary folder beside it, then one rename."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path

from evenfall.errors import InvalidInput

MARK = ".evenfall-papers"


def write_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write files into a folder, replacing what Evenfall wrote there before.

    Parameters
    ----------
    folder : Path
        Where; it may not exist yet [-].
    files : mapping of str to bytes
        Name and content of each file [-].

    Raises
    ------
    InvalidInput
        The folder holds something that Evenfall did not write; nothing is touched.
    """
    folder = folder.absolute()
    if folder.exists() and not _ours(folder):
        raise InvalidInput(
            f"{folder} already holds other files", "an empty or a new folder", where="--out",
            do="name another folder",
        )  # fmt: skip
    folder.parent.mkdir(parents=True, exist_ok=True)
    new = Path(tempfile.mkdtemp(prefix=".evenfall-", dir=folder.parent))
    try:
        for name, content in {**files, MARK: b""}.items():
            (new / name).parent.mkdir(parents=True, exist_ok=True)
            (new / name).write_bytes(content)
        new.chmod(0o755)
        _swap(new, folder)
    finally:
        shutil.rmtree(new, ignore_errors=True)


def _ours(folder: Path) -> bool:
    return folder.is_dir() and ((folder / MARK).is_file() or not any(folder.iterdir()))


def _swap(new: Path, folder: Path) -> None:
    if not folder.exists():
        new.rename(folder)
        return
    old = folder.with_name(new.name + "-old")
    folder.rename(old)
    try:
        new.rename(folder)
    except OSError:
        old.rename(folder)
        raise
    shutil.rmtree(old, ignore_errors=True)
