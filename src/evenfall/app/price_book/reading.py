"""The price book read from YAML or from a workbook: the same model, the same mistakes told."""

from __future__ import annotations

from pathlib import Path

from evenfall.app.price_book.from_xlsx import document_of
from evenfall.app.reading import Read, checked, read_file
from evenfall.errors import InvalidFile, Mistake
from evenfall.model.rates import Rates
from evenfall.model.rates_checks import slips


def read_rates(path: Path) -> Read[Rates]:
    """Read a price book.

    Parameters
    ----------
    path : Path
        A YAML, JSON or XLSX file [-].

    Returns
    -------
    Read
        The rates, and where each value stands: line and column, or row and column [-].

    Raises
    ------
    InvalidFile
        With every mistake in the file.
    """
    if path.suffix.lower() != ".xlsx":
        return read_file(path, Rates, slips)
    try:
        raw = path.read_bytes()
    except OSError as error:
        mistake = Mistake(
            1, 1, "", f"a file that cannot be opened ({error.strerror})", "a workbook"
        )
        raise InvalidFile(str(path), (mistake,)) from None
    return checked(document_of(raw, str(path)), str(path), Rates, slips)
