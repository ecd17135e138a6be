"""The page's modules in one plain script, for a file that asks for nothing and opens anywhere.

A page from a file may not import modules; so each becomes a function that gives back what it
exports. Only the plain forms that our own modules use are known; any other is refused.
"""

from __future__ import annotations

import re
from pathlib import Path

SITE = Path(__file__).parent / "static" / "site"
_IMPORT = re.compile(r"^import \{ ([^}]*) \} from '\./([\w-]+)\.js'\n", re.MULTILINE)
_EXPORT = re.compile(r"^export (?=(?:async function|function|class|const) (\w+))", re.MULTILINE)
_OTHER = re.compile(r"^(?:import|export)\b.*$|</script", re.MULTILINE | re.IGNORECASE)
_AS = re.compile(r"(\w+) as (\w+)")


def inlined(*entries: str, folder: Path = SITE) -> str:
    """Put modules and all that they import into one script.

    Parameters
    ----------
    *entries : str
        Names of modules, without their ending [-].
    folder : Path
        Where they lie [-].

    Returns
    -------
    str
        Plain JavaScript; what ``day.js`` exports is then in ``$day`` [-].

    Raises
    ------
    ValueError
        A module imports in a ring, or in a form that is not known.
    """
    done: dict[str, str] = {}
    for name in entries:
        _take(name, folder, done, ())
    return "\n".join(done.values())


def _take(name: str, folder: Path, done: dict[str, str], above: tuple[str, ...]) -> None:
    """Put a module behind all that it needs."""
    if name in above:
        raise ValueError(f"modules import in a ring: {' > '.join((*above, name))}")
    if name in done:
        return
    source = (folder / f"{name}.js").read_text(encoding="utf-8")
    for wanted in _IMPORT.finditer(source):
        _take(wanted[2], folder, done, (*above, name))
    given = [found[1] for found in _EXPORT.finditer(source)]
    body = _EXPORT.sub("", _IMPORT.sub(_parted, source))
    if strange := _OTHER.search(body):
        raise ValueError(f"{name}.js: cannot be inlined: {strange[0]!r}")
    done[name] = f"const ${name} = (() => {{\n{body}return {{ {', '.join(given)} }}\n}})()"


def _parted(found: re.Match[str]) -> str:
    """Take names from a module that stands above."""
    names = _AS.sub(r"\1: \2", found[1])
    return f"const {{ {names} }} = ${found[2]}\n"
