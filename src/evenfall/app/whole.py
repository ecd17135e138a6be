"""Write a folder whole or not at all: a temporary folder beside it, then one rename."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Mapping
from fnmatch import fnmatch
from pathlib import Path

from evenfall.errors import InvalidInput

MARK = ".evenfall-papers"


def write_folder(folder: Path, files: Mapping[str, bytes], keep: str = "") -> None:
    """Write files into a folder, replacing what Evenfall wrote there before, and nothing else.

    Parameters
    ----------
    folder : Path
        Where; it may not exist yet [-].
    files : mapping of str to bytes
        Name and content of each file [-].
    keep : str
        Pattern of what stays though Evenfall wrote it, such as prices of old quotations [-].

    Raises
    ------
    InvalidInput
        The folder is none that Evenfall wrote, or a file of another's has the name of one to be
        written; nothing is touched.
    """
    folder = folder.absolute()
    if folder.exists() and not _ours(folder):
        raise InvalidInput(
            f"{folder} already holds other files", "an empty or a new folder", where="--out",
            do="name another folder",
        )  # fmt: skip
    others = _others(folder, files, keep)
    folder.parent.mkdir(parents=True, exist_ok=True)
    new = Path(tempfile.mkdtemp(prefix=".evenfall-", dir=folder.parent))
    try:
        for name, content in {**files, MARK: "\n".join(sorted(files)).encode()}.items():
            (new / name).parent.mkdir(parents=True, exist_ok=True)
            (new / name).write_bytes(content)
        for name in others:
            (new / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(folder / name, new / name, follow_symlinks=False)
        new.chmod(0o755)
        _swap(new, folder)
    finally:
        shutil.rmtree(new, ignore_errors=True)


def _ours(folder: Path) -> bool:
    return folder.is_dir() and ((folder / MARK).is_file() or not any(folder.iterdir()))


def _others(folder: Path, files: Mapping[str, bytes], keep: str) -> tuple[str, ...]:
    """Name what stays: files of others, and old ones of ours that are kept.

    The mark lists what was written; in an older one without a list, whatever is not written anew
    counts as another's.
    """
    if not folder.exists():
        return ()
    mark = folder / MARK
    ours = set(mark.read_text(encoding="utf-8").splitlines()) if mark.is_file() else set()
    found = {
        p.relative_to(folder).as_posix()
        for p in folder.rglob("*") if p.is_symlink() or not p.is_dir()
    } - {MARK}  # fmt: skip
    strange = sorted(found & set(files) - ours) if ours else []
    if strange:
        raise InvalidInput(
            f"{strange[0]} in {folder}, which Evenfall did not write", "a name of its own",
            where="--out", do="give that file another name, or name another folder",
        )  # fmt: skip
    return tuple(sorted(n for n in found - set(files) if n not in ours or fnmatch(n, keep)))


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
