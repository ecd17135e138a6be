"""What the job says of the wind must fit together: charts, houses upwind, edges, parapets."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.model.job import Job, Side, Site
from evenfall.model.slip import Slip
from evenfall.standards import en_1991_1_4 as en

MM = 1000


def wind_slips(job: Job) -> Iterator[Slip]:
    """Find what of the wind does not fit together.

    Parameters
    ----------
    job : Job
        A job whose single values are sound [-].

    Yields
    ------
    Slip
        One for each mistake [-].
    """
    yield from _charts(job.site)
    for index, side in enumerate(job.survey.sides):
        yield from _edge(f"survey.sides[{index}]", side, job.site.roof_height_m)


def _charts(site: Site) -> Iterator[Slip]:
    """Find a factor for towns elsewhere or alone, and houses upwind that are half measured."""
    if site.exposure_chart_town is not None and site.exposure_chart is None:
        yield Slip(
            "site.exposure_chart_town", "c_e,T of chart NA.8 alone", "c_e of chart NA.7 as well",
            do="write exposure_chart, or take exposure_chart_town out",
        )  # fmt: skip
    elif site.exposure_chart_town is not None and site.terrain != "town":
        yield Slip(
            "site.exposure_chart_town", f"chart NA.8 for a {site.terrain.replace('_', ' ')}",
            "a town: that chart is for sites in towns alone",
            do="take exposure_chart_town out, or write terrain: town",
        )  # fmt: skip
    given = (site.houses_upwind_height_m is not None, site.houses_upwind_m is not None)
    if given[0] != given[1]:
        missing = "houses_upwind_m" if given[0] else "houses_upwind_height_m"
        yield Slip(
            f"site.{missing}", "houses upwind, half measured", "their height and how far off",
            do=f"write {missing} as well",
        )  # fmt: skip


def _edge(path: str, side: Side, roof_height_m: float) -> Iterator[Slip]:
    parapet_m = (side.parapet_height_mm or 0.0) / MM
    if side.kind == "parapet" and parapet_m > roof_height_m:
        yield Slip(
            f"{path}.parapet_height_mm", f"parapet {side.side} {parapet_m:g} m high",
            f"at most {roof_height_m:g} m, the height of the wall under it "
            f"({en.SOURCE} Table 7.2 reads parapets by h_p/h, far below 1)",
            do="measure it from the old covering, in millimetres",
        )  # fmt: skip
    shaped = [k for k in ("rounded_edge_mm", "sloped_edge_deg") if getattr(side, k) is not None]
    if shaped and side.kind not in ("eaves", "verge"):
        yield Slip(
            f"{path}.{shaped[0]}", f"a {side.kind.replace('_', ' ')} with that edge",
            "eaves or a verge", do="take it out, or correct the kind",
        )  # fmt: skip
    elif len(shaped) > 1:
        yield Slip(path, f"{side.side} both rounded and sloped", "one of the two")
