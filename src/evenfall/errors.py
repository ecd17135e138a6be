"""The tree of mistakes. A failing roof is not here: that is a Finding.

::

    EvenfallError
    ├── InvalidInput   what a person gave cannot be used: where, what, expected, what to do
    │   └── InvalidFile    the same for a whole file: every mistake at once
    ├── OutOfScope     a formula is asked beyond the range that its source states
    └── Conflict       two versions of one thing; both are kept
"""

from __future__ import annotations

from dataclasses import dataclass


class EvenfallError(Exception):
    """The root: everything raised on purpose by this project."""


class InvalidInput(EvenfallError, ValueError):
    """A value given by a person that cannot be used.

    Parameters
    ----------
    what : str
        What was found [-].
    expected : str
        What was expected [-].
    where : str
        Key or argument that carries the value [-].
    do : str
        What to do about it [-].
    """

    def __init__(self, what: str, expected: str, *, where: str = "", do: str = "") -> None:
        self.what, self.expected, self.where, self.do = what, expected, where, do
        place = f"{where}: " if where else ""
        cure = f"; {do}" if do else ""
        super().__init__(f"{place}{what}, expected {expected}{cure}")


@dataclass(frozen=True, order=True)
class Mistake:
    """One mistake in a file, with its place (line and column count from 1)."""

    line: int
    column: int
    path: str
    found: str
    expected: str
    nearest: str = ""
    do: str = ""

    def told(self, file: str) -> str:
        """Say it as ``file:line:column: path: found, expected, nearest word``."""
        place = f"{file}:{self.line}:{self.column}: {self.path or 'file'}: "
        near = f'; did you mean "{self.nearest}"?' if self.nearest else ""
        cure = f"; {self.do}" if self.do else ""
        return f"{place}{self.found}; expected {self.expected}{near}{cure}"


class InvalidFile(InvalidInput):
    """A file that cannot be used, with every mistake found in it.

    Parameters
    ----------
    file : str
        Name of the file as the person gave it [-].
    mistakes : tuple of Mistake
        All of them, in the order of the file [-].
    """

    def __init__(self, file: str, mistakes: tuple[Mistake, ...]) -> None:
        self.file, self.mistakes = file, tuple(sorted(mistakes))
        count = len(self.mistakes)
        super().__init__(f"{count} mistake{'s' * (count != 1)}", "a job file", where=file)

    def __str__(self) -> str:
        return "\n".join(m.told(self.file) for m in self.mistakes)


class OutOfScope(EvenfallError, ValueError):
    """A formula asked beyond the range that its source states.

    Parameters
    ----------
    name : str
        The quantity, with its unit where it has one [-].
    value : object
        The value given [-].
    limit : str
        The range in words, such as ``"0 to 30 degrees"`` [-].
    source : str
        Document and clause that set the limit [-].
    """

    def __init__(self, name: str, value: object, limit: str, source: str) -> None:
        self.name, self.value, self.limit, self.source = name, value, limit, source
        super().__init__(f"{name} = {value} is outside {limit} ({source})")


class Conflict(EvenfallError):
    """Two versions of one thing; both are handed back, neither is lost."""

    def __init__(self, what: str, yours: object, other: object) -> None:
        self.what, self.yours, self.other = what, yours, other
        super().__init__(f"{what}: yours is {yours}, the other is {other}")
