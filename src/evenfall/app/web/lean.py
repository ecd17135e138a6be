"""Styles and scripts as they are sent: without what only their reader needs.

The files stay as they are written; a well-kept minifier makes them lean. It has no wheel for every
machine (`pyproject.toml`): where it is missing, the files are sent as they are written.
"""

from __future__ import annotations

try:
    import minify
except ImportError:
    minify = None


def script(text: str) -> str:
    """Write a script lean.

    Parameters
    ----------
    text : str
        The script, of the language of 2020 or later [-].

    Returns
    -------
    str
        The same script, or as it was where no minifier is at hand [-].
    """
    return _lean("text/javascript", text)


def style(text: str) -> str:
    """Write a style sheet lean.

    Parameters
    ----------
    text : str
        The style sheet [-].

    Returns
    -------
    str
        The same style sheet, or as it was where no minifier is at hand [-].
    """
    return _lean("text/css", text)


def _lean(kind: str, text: str) -> str:
    return text if minify is None else str(minify.string(kind, text))
