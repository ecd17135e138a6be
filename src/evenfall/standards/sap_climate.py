"""SAP Table U1: mean external temperature by month and region (latitude and height: Table U4).

Read in independent public copies, which agree: three for regions 1 to 8, two for 0, 9 and 10, one
for 11 to 21. The height adjustment is remembered. SAP carries no humidity.
"""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.errors import InvalidInput
from evenfall.working import Basis, Cited

SOURCE = "SAP 2012"


@dataclass(frozen=True, slots=True)
class Region:
    """One region of the table.

    Parameters
    ----------
    number : int
        Region of SAP, 0 for the UK average [-].
    name : str
        Its name [-].
    latitude : float
        Representative latitude north [deg].
    height : float
        Representative height above sea level [m].
    temperatures : tuple of float
        Mean external temperature from January to December [C].
    source, where : str
        Document and place [-].
    basis : str
        How the values are known [-].
    """

    number: int
    name: str
    latitude: float
    height: float
    temperatures: tuple[float, ...]
    source: str = SOURCE
    where: str = "Table U1, p. 172; Table U4"
    basis: Basis = "published"


# fmt: off
REGIONS: tuple[Region, ...] = (
    Region(0, "UK average", 53.5, 79,
           (4.3, 4.9, 6.5, 8.9, 11.7, 14.6, 16.6, 16.4, 14.1, 10.6, 7.1, 4.2)),
    Region(1, "Thames", 51.6, 53,
           (5.1, 5.6, 7.4, 9.9, 13.0, 16.0, 17.9, 17.8, 15.2, 11.6, 8.0, 5.1)),
    Region(2, "South East England", 51.1, 55,
           (5.0, 5.4, 7.1, 9.5, 12.6, 15.4, 17.4, 17.5, 15.0, 11.7, 8.1, 5.2)),
    Region(3, "Southern England", 50.9, 50,
           (5.4, 5.7, 7.3, 9.6, 12.6, 15.4, 17.3, 17.3, 15.0, 11.8, 8.4, 5.5)),
    Region(4, "South West England", 50.5, 85,
           (6.1, 6.4, 7.5, 9.3, 11.9, 14.5, 16.2, 16.3, 14.6, 11.8, 9.0, 6.4)),
    Region(5, "Severn", 51.5, 99,
           (4.9, 5.3, 7.0, 9.3, 12.2, 15.0, 16.7, 16.7, 14.4, 11.1, 7.8, 4.9)),
    Region(6, "Midlands", 52.6, 116,
           (4.3, 4.8, 6.6, 9.0, 11.8, 14.8, 16.6, 16.5, 14.0, 10.5, 7.1, 4.2)),
    Region(7, "West Pennines", 53.5, 71,
           (4.7, 5.2, 6.7, 9.1, 12.0, 14.7, 16.4, 16.3, 14.1, 10.7, 7.5, 4.6)),
    Region(8, "NW England / SW Scotland", 54.6, 119,
           (3.9, 4.3, 5.6, 7.9, 10.7, 13.2, 14.9, 14.8, 12.8, 9.7, 6.6, 3.7)),
    Region(9, "Borders", 55.2, 101,
           (4.0, 4.5, 5.8, 7.9, 10.4, 13.3, 15.2, 15.1, 13.1, 9.7, 6.6, 3.7)),
    Region(10, "North East England", 54.4, 78,
           (4.0, 4.6, 6.1, 8.3, 10.9, 13.8, 15.8, 15.6, 13.5, 10.1, 6.7, 3.8)),
    Region(11, "East Pennines", 53.5, 79,
           (4.3, 4.9, 6.5, 8.9, 11.7, 14.6, 16.6, 16.4, 14.1, 10.6, 7.1, 4.2)),
    Region(12, "East Anglia", 52.1, 29,
           (4.7, 5.2, 7.0, 9.5, 12.5, 15.4, 17.6, 17.6, 15.0, 11.4, 7.7, 4.7)),
    Region(13, "Wales", 52.6, 138,
           (5.0, 5.3, 6.5, 8.5, 11.2, 13.7, 15.3, 15.3, 13.5, 10.7, 7.8, 5.2)),
    Region(14, "West Scotland", 55.9, 113,
           (4.0, 4.4, 5.6, 7.9, 10.4, 13.0, 14.5, 14.4, 12.5, 9.3, 6.5, 3.8)),
    Region(15, "East Scotland", 56.2, 117,
           (3.6, 4.0, 5.4, 7.7, 10.1, 12.9, 14.6, 14.5, 12.5, 9.2, 6.1, 3.2)),
    Region(16, "North East Scotland", 57.3, 123,
           (3.3, 3.6, 5.0, 7.1, 9.3, 12.2, 14.0, 13.9, 12.0, 8.8, 5.7, 2.9)),
    Region(17, "Highland", 57.5, 218,
           (3.1, 3.2, 4.4, 6.6, 8.9, 11.4, 13.2, 13.1, 11.3, 8.2, 5.4, 2.7)),
    Region(18, "Western Isles", 57.7, 59,
           (5.2, 5.0, 5.8, 7.6, 9.7, 11.8, 13.4, 13.6, 12.1, 9.6, 7.3, 5.2)),
    Region(19, "Orkney", 59.0, 53,
           (4.4, 4.2, 5.0, 7.0, 8.9, 11.2, 13.1, 13.2, 11.7, 9.1, 6.6, 4.3)),
    Region(20, "Shetland", 60.1, 50,
           (4.6, 4.1, 4.7, 6.5, 8.3, 10.5, 12.4, 12.8, 11.4, 8.8, 6.5, 4.6)),
    Region(21, "Northern Ireland", 54.6, 72,
           (4.8, 5.2, 6.4, 8.4, 10.9, 13.5, 15.0, 14.9, 13.1, 10.0, 7.2, 4.7)),
)
# fmt: on

LAPSE = Cited(
    0.006, "K/m", SOURCE, "height adjustment: 0.3 K per 50 m above the region's", "from memory"
)


def external_temperatures(region: int, height: float | None = None) -> tuple[Cited, ...]:
    """Give the monthly mean temperature of a region, colder for a site above its height.

    A site below the representative height gets no credit.

    Parameters
    ----------
    region : int
        Region of SAP, 0 to 21 [-].
    height : float, optional
        Height of the site above sea level; none leaves the table as it is [m].

    Returns
    -------
    tuple of Cited
        January to December [C].

    Examples
    --------
    >>> external_temperatures(1)[0]
    Cited(5.1 C, SAP 2012, published)
    >>> external_temperatures(1, 153)[0].value, external_temperatures(1, 153)[0].basis
    (4.5, 'from memory')

    References
    ----------
    SAP 2012 Table U1 (published); height adjustment from memory.
    """
    if region not in range(len(REGIONS)):
        raise InvalidInput(f"region {region}", "a SAP region from 0 to 21", where="region")
    row = REGIONS[region]
    climb = 0.0 if height is None else max(0.0, height - row.height)
    basis = LAPSE.basis if climb else row.basis
    where = f"Table U1, region {region}" + (f", {climb:g} m higher" if climb else "")
    return tuple(
        Cited(theta - LAPSE * climb, "C", row.source, where, basis) for theta in row.temperatures
    )
