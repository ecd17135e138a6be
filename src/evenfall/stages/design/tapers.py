"""Heat through boards cut to falls: the tapered plan cut up, and its mean transmittance."""

from __future__ import annotations

from evenfall.calc.geometry.clipping import clip_polygon
from evenfall.calc.physics.tapered_plan import Cut, cut_up, mean_u
from evenfall.model.choice import BuildUp
from evenfall.model.surveyed import OpeningAt, Taper
from evenfall.standards import iso_6946
from evenfall.working import Table, Working, measured

MM = 1000
SOURCE = f"{iso_6946.SOURCE} (2007 Annex C, 2017 Annex E)"


def cuts(tapers: tuple[Taper, ...], openings: tuple[OpeningAt, ...]) -> tuple[Cut, ...]:
    """Cut the tapered plan into rectangles and triangles, less where no board lies.

    Parameters
    ----------
    tapers : tuple of Taper
        Parts of the plan over which the taper changes evenly [mm].
    openings : tuple of OpeningAt
        Where no board lies [m].

    Returns
    -------
    tuple of Cut
        Shapes and their tapers; empty where no board is tapered [m].
    """
    found: list[Cut] = []
    for taper in tapers:
        found += cut_up(taper.ring, [max(0.0, mm) / MM for mm in taper.added_mm])
        for opening in openings:
            for piece in clip_polygon(opening.hole, taper.ring):
                added = [max(0.0, taper.slope.at(p)) / MM for p in piece]
                found += cut_up(piece, added, off=True)
    return tuple(found)


def mean(R_T: Working, cut: tuple[Cut, ...], build: BuildUp, mm: int) -> Working:
    """Work out the mean transmittance of the tapered plan, before gaps and screws.

    Parameters
    ----------
    R_T : Working
        Total resistance where the taper has no thickness [m2K/W].
    cut : tuple of Cut
        Shapes of the plan [m].
    build : BuildUp
        The board; tapered ones are taken to be of the same foam as the board under them [-].
    mm : int
        Even insulation under the taper [mm].

    Returns
    -------
    Working
        Transmittance [W/(m2K)].
    """
    lambda_ = conductivity(build, mm)
    known = measured(
        lambda_, "W/(m K)", f"the rates: {build.board.name}, as the boards", build.basis
    )
    of = (("R_0", "m2K/W", R_T), ("λ", "W/(m K)", known))
    return Working(
        "Mean transmittance of the tapered plan", "U", "W/(m2K)", SOURCE,
        mean_u(cut, R_T.value, lambda_), of, "Σ U A / Σ A of the parts", "from memory",
    )  # fmt: skip


def conductivity(build: BuildUp, mm: int) -> float:
    """Give the conductivity of the tapered boards: as sold, or that of the uppermost even board.

    Fill-up under them is of the even board, so the worse of the two is taken for all of it.

    Parameters
    ----------
    build : BuildUp
        The board [-].
    mm : int
        Even insulation under the taper [mm].

    Returns
    -------
    float
        Conductivity [W/(m K)].
    """
    return max(build.board.conductivity(build.boards(mm)[-1]), build.taper_lambda_w_mk or 0.0)


def thickest_r(cut: tuple[Cut, ...], build: BuildUp, mm: int) -> float:
    """Give the resistance of the taper where it is thickest; 0 without tapered boards.

    Parameters
    ----------
    cut : tuple of Cut
        Shapes of the plan [m].
    build : BuildUp
        The board [-].
    mm : int
        Even insulation under the taper [mm].

    Returns
    -------
    float
        Resistance [m2K/W].
    """
    return max((c.added[-1] for c in cut), default=0.0) / conductivity(build, mm)


def mean_mm(cut: tuple[Cut, ...]) -> float:
    """Give the mean thickness of the taper, for weight; never for heat.

    Parameters
    ----------
    cut : tuple of Cut
        Shapes of the plan [m].

    Returns
    -------
    float
        Mean thickness; 0 without tapered boards [mm].
    """
    area = sum(c.area for c in cut)
    return sum(c.area * sum(c.added) / len(c.added) for c in cut) / area * MM if cut else 0.0


def table(R_T: Working, cut: tuple[Cut, ...], build: BuildUp, mm: int) -> Table:
    """List the shapes of the tapered plan with the transmittance of each.

    Parameters
    ----------
    R_T : Working
        Total resistance where the taper has no thickness [m2K/W].
    cut : tuple of Cut
        Shapes of the plan [m].
    build : BuildUp
        The board [-].
    mm : int
        Even insulation under the taper [mm].

    Returns
    -------
    Table
        A line for each shape; openings are taken off [-].
    """
    columns = (("shape", "-"), ("area", "m2"), ("thin", "mm"), ("thick", "mm"), ("U", "W/(m2K)"))
    lambda_ = conductivity(build, mm)
    rows = tuple(
        (c.shape, round(c.area, 3), round(mm + c.added[0] * MM), round(mm + c.added[-1] * MM),
         round(c.U(R_T.value, lambda_), 4))
        for c in cut
    )  # fmt: skip
    return Table("The tapered plan, part by part", columns, rows, SOURCE, R_T.basis)
