"""Routes of the worked job: the stream of what moves, the page, drawings, workings, trying."""

from __future__ import annotations

import json
from collections.abc import AsyncIterator
from typing import Annotated, Any

from fastapi import APIRouter, Query
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import Response, StreamingResponse

from evenfall.app.api import models as m
from evenfall.app.api.jobs import listed_or_404, problems_of
from evenfall.app.api.refusals import Refused, fault, of_error
from evenfall.app.as_json import plain
from evenfall.app.live import numbers
from evenfall.app.live.desk import Desk
from evenfall.app.live.page import page_of, totals
from evenfall.app.live.snapshot import Snapshot, again, finding_data, moved
from evenfall.app.live.worker import Run, heard
from evenfall.app.web.draw import WIDE, draw
from evenfall.drawing import to_svg
from evenfall.errors import InvalidInput
from evenfall.flow import DRAWINGS, KEYS, Step, WorkedJob

NDJSON = "application/x-ndjson"
FRESH = {"cache-control": "no-store"}
PLACE = {room: number for number, room in enumerate(KEYS)}
LONGEST_S = 120.0
"""How long a request waits for a job to be worked; a first working takes some seconds."""


def routes(desk: Desk) -> APIRouter:
    """Make the routes of the worked job.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].

    Returns
    -------
    APIRouter
        The routes [-].
    """
    router = APIRouter(tags=["work"])
    _live(router, desk)
    _shown(router, desk)
    return router


def _live(router: APIRouter, desk: Desk) -> None:
    @router.get("/jobs/{id}/work", response_class=StreamingResponse)
    async def work(id: str, since: Annotated[int | None, Query(ge=0)] = None) -> Response:
        """Tell what moved since a revision, a line of JSON as each room is worked."""

        def begin() -> tuple[Any, Any, Run | None]:
            listed_or_404(desk, id)
            return desk.run(id)

        known = desk.worker.newer(id, since)
        if known:  # an edit of this very page: the answer is on its way already
            return StreamingResponse(lines(desk, known, since), media_type=NDJSON, headers=FRESH)
        head, sound, run = await run_in_threadpool(begin)
        if run is None:
            faults = [f.model_dump() for f in problems_of(sound)]
            last = {"done": True, "revision": head.number, "problems": faults}
            return Response(_line(last), media_type=NDJSON, headers=FRESH)
        return StreamingResponse(lines(desk, run, since), media_type=NDJSON, headers=FRESH)

    @router.post("/jobs/{id}/stop")
    def stop(id: str) -> m.SavedOut:
        """Stop the work on a job; the next edit or question begins it again."""
        listed = listed_or_404(desk, id)
        desk.worker.stop(id)
        return m.SavedOut(id=id, revision=listed.revision, problems=[])

    @router.get("/jobs/{id}/page")
    def page(id: str, wait: Annotated[float, Query(ge=0, le=LONGEST_S)] = 0) -> m.PageOut:
        """Give the whole present state; ``wait`` seconds for the newest revision, if need be."""
        listed = listed_or_404(desk, id)
        head, sound, run = desk.run(id)
        if run and wait:
            run.ended.wait(wait)
        kept = desk.worker.kept(id)
        now = kept.snapshots.get(kept.worked_of) or Snapshot(0)
        failed = [m.Fault(**of_error(run.error))] if run and run.error else []
        return m.PageOut(
            id=id, name=listed.name, revision=head.number, worked=kept.worked_of,
            on=desk.on(id).isoformat(), problems=problems_of(sound) + failed,
            **page_of(now, kept.worked),
        )  # fmt: skip

    @router.post("/jobs/{id}/try")
    def attempt(id: str, body: m.TryIn) -> m.TriedOut:
        """Say what some changes would move; nothing is saved."""
        base = worked_of(desk, id)
        return tried(desk, id, base, [c.model_dump(exclude_unset=True) for c in body.changes])


def _line(told: dict[str, Any]) -> bytes:
    return json.dumps(told, ensure_ascii=False, allow_nan=False).encode() + b"\n"


async def lines(desk: Desk, run: Run, since: int | None) -> AsyncIterator[bytes]:
    """Write the stream of a run.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].
    run : Run
        The run [-].
    since : int, optional
        The revision from which it is told what moved; with none all is told [-].

    Yields
    ------
    bytes
        A line of JSON as each room is worked [-].
    """
    snapshots = desk.worker.kept(run.job).snapshots
    before = snapshots.get(since) if since is not None and since != run.revision else None
    between = {
        i for n, s in list(snapshots.items()) if before and before.revision < n < run.revision
        for i in s.moved
    }  # fmt: skip
    if before is None or moved("meta", run.now, before):
        yield _told("meta", run, before)
    async for step in heard(run):
        if step.option:
            yield _line({"option": step.option, "room": step.room, "revision": run.revision})
        elif step.room == "findings":
            yield _line(_findings(run, step, before))
        elif step.room in KEYS:
            yield _told(step.room, run, before)
    yield _last(run, before, between)


def _told(room: str, run: Run, before: Snapshot | None) -> bytes:
    values = moved(room, run.now, before)
    run.now.moved.update(values)
    place = {"at": PLACE.get(room, 0), "of": len(PLACE)}
    told = {"room": room, "revision": run.revision, **place, "values": values}
    return _line(told | {"totals": totals({room: run.now.rooms.get(room)})})


def _findings(run: Run, step: Step, before: Snapshot | None) -> dict[str, Any]:
    old = (
        {f["key"]: f for f in map(finding_data, before.rooms.get("findings", ()))} if before else {}
    )
    new = {f["key"]: f for f in map(finding_data, step.answer)}
    return {
        "room": "findings", "revision": run.revision, "findings": list(new.values()),
        "come": [k for k in new if k not in old], "gone": [k for k in old if k not in new],
        "totals": totals(run.now.rooms, step.answer),
    }  # fmt: skip


def _last(run: Run, before: Snapshot | None, between: set[str]) -> bytes:
    """Write the last line: what moved in rooms that were not worked again, and the sums."""
    if run.state == "left":
        return _line({"done": False, "revision": run.revision, "left": True})
    if run.worked is None:
        error = of_error(run.error) if run.error else {}
        return _line({"done": True, "revision": run.revision, "problems": [error]})
    worked = {step.room for step in run.told if not step.option}
    values: dict[str, Any] = {}
    for key in KEYS:
        if key not in worked and key != "meta":
            values |= moved(key, run.now, before)
    values |= again((i for i in between if i not in values), run.now, before)
    run.now.moved.update(values)
    return _line({
        "done": True, "revision": run.revision, "values": values,
        "findings": [finding_data(f) for f in run.worked.findings],
        "totals": totals(run.now.rooms, run.worked.findings),
    })  # fmt: skip


def worked_of(desk: Desk, job: str) -> WorkedJob:
    """Give the newest revision of a job, worked to its end, or refuse.

    Parameters
    ----------
    desk : Desk
        Jobs kept and worked [-].
    job : str
        Id of the job [-].

    Returns
    -------
    WorkedJob
        The job [-].
    """
    listed_or_404(desk, job)
    _, sound, run = desk.run(job)
    if run is None:
        told = problems_of(sound)[0].model_dump()
        raise Refused(400, told, problems=[f.model_dump() for f in problems_of(sound)])
    run.ended.wait(LONGEST_S)
    if run.worked is None:
        if run.error:
            raise Refused(400, of_error(run.error))
        what, do = "the job was changed while it was worked", "ask again"
        raise Refused(503, fault(503, what, "a job at rest", do=do))
    return run.worked


def tried(desk: Desk, job: str, base: WorkedJob, changes: list[dict[str, Any]]) -> m.TriedOut:
    """Work some changes out beside the job."""
    from evenfall.flow import work_out

    head = desk.store.head(job)
    contents = desk.changed(desk.store.contents(head), changes)
    contents.document.get("design", {}).pop("options", None)
    sound = desk.cases.make(contents, desk.on(job))
    if sound.case is None:
        told = problems_of(sound)
        raise Refused(400, told[0].model_dump(), problems=[f.model_dump() for f in told])
    worked = work_out(sound.case, base)
    old, new = _snapshot(base), _snapshot(worked)
    values: dict[str, Any] = {}
    for key in KEYS:
        if key not in ("options", "meta", "findings"):
            values |= moved(key, new, old)
    was = {f["key"]: f for f in map(finding_data, base.findings)}
    now = {f["key"]: f for f in map(finding_data, worked.findings)}
    return m.TriedOut(
        before=totals(old.rooms, base.findings), after=totals(new.rooms, worked.findings),
        moved=values, come=[f for k, f in now.items() if k not in was],
        gone=[f for k, f in was.items() if k not in now],
    )  # fmt: skip


def _snapshot(worked: WorkedJob) -> Snapshot:
    return Snapshot(0, {key: getattr(worked, key) for key in KEYS})


def _shown(router: APIRouter, desk: Desk) -> None:
    @router.get("/jobs/{id}/drawings/{name}.svg", response_class=Response)
    def drawing(
        id: str, name: str, light: str = "css",
        width: Annotated[float | None, Query(gt=0, le=10000)] = None,
        height: Annotated[float | None, Query(gt=0, le=10000)] = None,
        prefix: Annotated[str, Query(pattern="^[a-z0-9-]{0,30}$")] = "", live: bool = False,
    ) -> Response:  # fmt: skip
        """Draw one drawing of the newest revision."""
        if light not in ("css", "paper", "print", "dusk", "sun"):
            raise Refused(404, fault(404, f'no light "{light[:20]}"', "css, paper or print"))
        worked = worked_of(desk, id)
        if name not in DRAWINGS:
            return Response(_for_the_screen(worked, name, width, height), headers=FRESH,
                            media_type="image/svg+xml")  # fmt: skip
        found = DRAWINGS[name](worked)
        if found is None:
            raise Refused(404, fault(404, "nothing to draw there", "a job that has it"))
        many = found if isinstance(found, tuple) else (found,)
        text = "".join(
            to_svg(one, width, light, height_px=height, prefix=f"{prefix or name}-{n}", live=live)  # type: ignore[arg-type]
            for n, one in enumerate(many)
        )
        return Response(text, media_type="image/svg+xml", headers=FRESH)

    @router.get("/jobs/{id}/workings/{number:path}")
    def working(id: str, number: str) -> dict[str, Any]:
        """Say how a number came about: formula, numbers, source, basis."""
        try:
            found = numbers.find(worked_of(desk, id), number)
        except KeyError:
            what = f'no number "{number[:80]}"'
            told = fault(404, what, "an id such as heat.u", where="number")
            raise Refused(404, told) from None
        text = numbers.values(number, found)
        told = plain(found)
        shown = told if isinstance(told, dict) else {"value": told}
        return {"id": number, "text": text[number].text if number in text else "", **shown}


def _for_the_screen(worked: WorkedJob, name: str, width: float | None, height: float | None) -> str:
    """Draw what only the screen shows: a tracing sheet, an evening, the section at a side."""
    try:
        return draw(worked, name, width or WIDE, height)
    except InvalidInput as error:
        raise Refused(404, fault(404, error.what, error.expected, where=error.where)) from None
