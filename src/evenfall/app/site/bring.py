"""The file that a day sheet gave back, brought into a job of the desk as if a phone had sent it."""

from __future__ import annotations

from evenfall.app.site.into_file import Loaded
from evenfall.app.site.keeping import MOST_AT_ONCE, Taken, keep
from evenfall.app.site.returned import Returned, check_job
from evenfall.app.store import shelves
from evenfall.app.store.kept import Revision
from evenfall.app.store.logged import log_of
from evenfall.app.store.store import Store


def bring_back(
    store: Store, job: str, returned: Returned, by: str
) -> tuple[Loaded, Revision | None]:
    """Bring records and photos into a job of the desk.

    Parameters
    ----------
    store : Store
        The jobs [-].
    job : str
        Id of the job [-].
    returned : Returned
        What came back from a telephone [-].
    by : str
        Name of the file, for the history [-].

    Returns
    -------
    tuple
        What was new, there before or refused; and the new revision, where there is one [-].

    Raises
    ------
    InvalidInput
        It is of another job.
    KeyError
        There is no such job.
    """
    document = store.contents(store.head(job)).document
    check_job(returned, str(document.get("job", {}).get("reference", "")))
    before = {str(e["id"]) for e in log_of(document)}
    new_photos = shelves.missing(store, job, returned.photos)
    parts = [returned.entries[n : n + MOST_AT_ONCE]
             for n in range(0, max(len(returned.entries), 1), MOST_AT_ONCE)]  # fmt: skip
    taken = [keep(store, job, part, {} if n else returned.photos, by=by)
             for n, part in enumerate(parts)]  # fmt: skip
    revisions = [t.revision for t in taken if t.revision is not None]
    return _loaded(taken, before, new_photos), revisions[-1] if revisions else None


def _loaded(taken: list[Taken], before: set[str], new_photos: list[str]) -> Loaded:
    kept = [id_ for t in taken for id_ in t.kept]
    refused = [(r.id, _why(r.error)) for t in taken for r in t.refused]
    lost = {id_ for id_, _ in refused}
    return Loaded(
        tuple(k for k in kept if k not in before), tuple(k for k in kept if k in before),
        tuple(refused), sum(sha not in lost for sha in new_photos), taken[-1].wanted,
    )  # fmt: skip


def _why(error: dict[str, str]) -> str:
    place = f"{error['where']}: " if error.get("where") else ""
    return f"{place}{error['what']}, expected {error['expected']}"
