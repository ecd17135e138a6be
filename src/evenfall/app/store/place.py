"""Where the jobs live on this machine, unless a person says otherwise."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from pathlib import Path

HOME = "EVENFALL_HOME"
"""Name of the variable that says where the jobs live."""


def home(
    asked: Path | None = None,
    told: Mapping[str, str] | None = None,
    platform: str = sys.platform,
    user: Path | None = None,
) -> Path:
    """Find the folder of the jobs: what was asked, else `HOME`, else the data of the user.

    Parameters
    ----------
    asked : Path, optional
        Folder that the person named [-].
    told : mapping, optional
        Variables of the machine [-].
    platform : str
        Kind of machine, as Python names it [-].
    user : Path, optional
        Folder of the user [-].

    Returns
    -------
    Path
        The folder; it may not exist yet [-].

    Examples
    --------
    >>> home(None, {}, "linux", Path("/users/ann")).as_posix()
    '/users/ann/.local/share/evenfall'
    >>> home(None, {"EVENFALL_HOME": "/jobs"}, "linux").as_posix()
    '/jobs'
    """
    told = os.environ if told is None else told
    user = user or Path.home()
    if asked is not None:
        return asked
    if told.get(HOME):
        return Path(told[HOME])
    if platform == "win32":
        return Path(told.get("LOCALAPPDATA") or user / "AppData" / "Local") / "Evenfall"
    if platform == "darwin":
        return user / "Library" / "Application Support" / "Evenfall"
    return Path(told.get("XDG_DATA_HOME") or user / ".local" / "share") / "evenfall"
