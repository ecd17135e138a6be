"""The record of the roof inside a job's document: to it is only ever added.

The log is a set of entries, told apart by their id and kept in its order, so that equal sets are
equal bytes. Whoever saves a job, takes a change back or brings its file in again hands the log on.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from typing import Any

from evenfall.app.store.kept import Contents, Data

RECORD, LOG = "record", "log"
PATH = f"{RECORD}.{LOG}"
"""Where the log stands in a job file."""


def log_of(document: Data) -> list[Data]:
    """Give the entries of a document.

    Parameters
    ----------
    document : dict
        A job as data, whole or partial [-].

    Returns
    -------
    list of dict
        Its entries; those without an id are none [-].

    Examples
    --------
    >>> log_of({"record": {"log": [{"id": "a"}, "b"]}}), log_of({"record": "none yet"})
    ([{'id': 'a'}], [])
    """
    record = document.get(RECORD)
    log = record.get(LOG) if isinstance(record, dict) else None
    listed = log if isinstance(log, list) else []
    return [e for e in listed if isinstance(e, dict) and isinstance(e.get("id"), str)]


def with_log(document: Data, entries: Iterable[Data]) -> Data:
    """Give a document with some entries more; what it holds already goes before.

    Parameters
    ----------
    document : dict
        A job as data; it stays as it is [-].
    entries : iterable of dict
        Entries of the log [-].

    Returns
    -------
    dict
        The same document where nothing was missing [-].

    Examples
    --------
    >>> with_log({"record": {"log": [{"id": "b"}]}}, [{"id": "a"}, {"id": "b", "n": 1}])
    {'record': {'log': [{'id': 'a'}, {'id': 'b'}]}}
    """
    own = log_of(document)
    there = {str(e["id"]) for e in own}
    more = [e for e in entries if e["id"] not in there]
    if not more:
        return document
    record = document.get(RECORD)
    record = record if isinstance(record, dict) else {}
    log = sorted([*own, *more], key=lambda e: str(e["id"]))
    return {**document, RECORD: {**record, LOG: log}}


def without_log(document: Data) -> Data:
    """Give a document without its log: what a copy for another roof begins with.

    Parameters
    ----------
    document : dict
        A job as data; it stays as it is [-].

    Returns
    -------
    dict
        The same document where it has no log [-].
    """
    record = document.get(RECORD)
    if not isinstance(record, dict) or LOG not in record:
        return document
    rest = {k: v for k, v in record.items() if k != LOG}
    document = {k: v for k, v in document.items() if k != RECORD}
    return {**document, RECORD: rest} if rest else document


def carried(contents: Contents, onto: Contents) -> Contents:
    """Hand the log of a revision on to the next one.

    Parameters
    ----------
    contents : Contents
        What the next one is to hold [-].
    onto : Contents
        What the one before it holds [-].

    Returns
    -------
    Contents
        The first, with every entry of both; the second's word counts where they differ [-].
    """
    kept = log_of(onto.document)
    if not kept or log_of(contents.document) == kept:
        return contents
    theirs = with_log({RECORD: {LOG: kept}}, log_of(contents.document))
    document = with_log(without_log(contents.document), log_of(theirs))
    return Contents(document, contents.rates, contents.weather, (None, *contents.hashes[1:]))


def digest(ids: Iterable[str]) -> str:
    """Give one word for a set of entries, which a phone can make too.

    Parameters
    ----------
    ids : iterable of str
        Ids of the entries, in any order [-].

    Returns
    -------
    str
        SHA-256 of the ids in their order, a line each [-].

    Examples
    --------
    >>> digest(["b", "a"]) == digest(["a", "b"])
    True
    """
    return hashlib.sha256("\n".join(sorted(set(ids))).encode()).hexdigest()


def photos_of(entry: Mapping[str, Any]) -> list[str]:
    """Name the photos that an entry points to.

    Parameters
    ----------
    entry : mapping
        An entry of the log [-].

    Returns
    -------
    list of str
        SHA-256 of their bytes [-].
    """
    named = [*(entry.get("photos") or ()), entry.get("sha256")]
    return [n for n in dict.fromkeys(named) if isinstance(n, str)]
