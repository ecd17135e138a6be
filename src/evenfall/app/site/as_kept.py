"""One entry from the roof as it is kept: the same judgement, however it comes."""

from __future__ import annotations

import json
from typing import Any

from pydantic import ValidationError

from evenfall.app.store.kept import Data
from evenfall.errors import InvalidInput
from evenfall.model.log_checks import shape_slips
from evenfall.model.logbook import ENTRY, LARGEST_ENTRY

CLOCK_KIND = "clock"
_MOST_SHOWN = 80  # letters of a wrong value


def as_kept(sent: Any) -> Data:
    """Write an entry the one way in which it is kept.

    Parameters
    ----------
    sent : Any
        The entry as it came [-].

    Returns
    -------
    dict
        The entry without what goes without saying [-].

    Raises
    ------
    InvalidInput
        It cannot be read, or would stop the whole job from being worked.
    """
    try:
        text = json.dumps(sent, allow_nan=False)
        if len(text.encode()) > LARGEST_ENTRY:
            raise InvalidInput(f"{len(text):,} bytes", f"at most {LARGEST_ENTRY:,}", where="entry")
        read = ENTRY.validate_json(text, strict=True)
    except ValidationError as error:
        raise _unread(error) from None
    except InvalidInput:
        raise
    except ValueError as error:
        raise InvalidInput("no plain entry", str(error)[:120], where="entry") from None
    for slip in shape_slips(read):
        raise InvalidInput(slip.found, slip.expected, where=slip.path, do=slip.do)
    plain: Data = read.model_dump(mode="json", exclude_defaults=True)
    return plain


def refuse_clock(entry: Data) -> None:
    """Refuse a new entry that tells of a clock.

    Parameters
    ----------
    entry : dict
        An entry that is not kept yet [-].

    Raises
    ------
    InvalidInput
        It does; one that the desk wrote is there already.
    """
    if entry["kind"] == CLOCK_KIND:
        raise InvalidInput('"clock"', "another kind; the desk alone tells of clocks", where="kind")


def _unread(error: ValidationError) -> InvalidInput:
    first = error.errors(include_url=False)[0]
    place = ".".join(str(step) for step in first["loc"])
    what = "nothing" if first["type"] == "missing" else repr(first.get("input"))[:_MOST_SHOWN]
    return InvalidInput(what, first["msg"], where=place, do="put it right on the phone")
