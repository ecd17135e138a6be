"""EN 338:2016: strength classes of timber, as an open-source data file quotes them."""

from __future__ import annotations

from dataclasses import dataclass

from evenfall.working import Cited

SOURCE = "EN 338:2016"


@dataclass(frozen=True, slots=True)
class StrengthClass:
    """Characteristic values of one strength class, in SI.

    Parameters
    ----------
    name : str
        Name of the class [-].
    f_m_k, f_t_0_k, f_c_0_k, f_c_90_k, f_v_k : Cited
        Bending, tension, compression along and across the grain, shear [Pa].
    E_0_mean, E_05, E_90_mean, G_mean : Cited
        Moduli: mean and 5 % along the grain, across the grain, shear [Pa].
    rho_k, rho_mean : Cited
        Characteristic and mean density [kg/m3].
    """

    name: str
    f_m_k: Cited
    f_t_0_k: Cited
    f_c_0_k: Cited
    f_c_90_k: Cited
    f_v_k: Cited
    E_0_mean: Cited
    E_05: Cited
    E_90_mean: Cited
    G_mean: Cited
    rho_k: Cited
    rho_mean: Cited


def _class(name: str, n_mm2: tuple[float, ...], rho_k: float, rho_mean: float) -> StrengthClass:
    """Take strengths and moduli as printed, in N/mm2, and keep them in Pa."""

    def cited(value: float, unit: str) -> Cited:
        return Cited(value, unit, SOURCE, f"Table 1, {name}", "published, second-hand")

    strengths = [cited(value * 10**6, "Pa") for value in n_mm2]
    densities = [cited(value, "kg/m3") for value in (rho_k, rho_mean)]
    return StrengthClass(name, *strengths, *densities)


CLASSES: dict[str, StrengthClass] = {
    "C16": _class("C16", (16, 8.5, 17, 2.2, 3.2, 8000, 5400, 270, 500), 310, 370),
    "C24": _class("C24", (24, 14.5, 21, 2.5, 4.0, 11000, 7400, 370, 690), 350, 420),
}
