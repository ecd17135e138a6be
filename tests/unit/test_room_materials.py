"""Materials of the firm's own in the layers: deck, quilt, ceiling, overlay; and the own board."""

from __future__ import annotations

import pytest
from tests.unit import rooms

from evenfall.errors import InvalidInput

OWN = {
    "deck": ("survey.deck.material", "larch-boards", 0.14, 55),
    "quilt": ("survey.below.quilt_material", "wool-quilt", 0.037, 1.5),
    "ceiling": ("survey.below.ceiling_material", "wood-wool-ceiling", 0.072, 4),
    "overlay board": ("design.overlay_material", "wood-fibre-25", 0.048, 5),
}
COURTYARD = rooms.job("courtyard")  # it has all four layers


@pytest.mark.parametrize("layer", OWN)
def test_a_layer_takes_the_values_of_the_material_that_it_names(layer):
    path, name, lambda_, mu = OWN[layer]
    w = rooms.designed(rooms.changed(COURTYARD, **{path: name}))
    found = next(a for a in w.heat.layers if a.name == layer)
    assert found.resistance == pytest.approx(found.thickness_mm / 1000 / lambda_)
    assert found.sd_m == pytest.approx(found.thickness_mm / 1000 * mu)
    assert "the rates" in found.source
    assert found.basis == "demo"


@pytest.mark.parametrize("layer", ["deck", "quilt", "ceiling"])
def test_what_stays_counts_in_the_old_roof_as_well(layer):
    """The courtyard's old void is ventilated: what lies over it is outside."""
    path, name, _, _ = OWN[layer]
    closed = rooms.changed(COURTYARD, **{"survey.below.old_vents": 0})
    plain = rooms.designed(closed).thicknesses.before_u.value
    assert rooms.designed(
        rooms.changed(closed, **{path: name})
    ).thicknesses.before_u.value != pytest.approx(plain, rel=1e-6)


@pytest.mark.parametrize("layer", OWN)
def test_a_material_that_the_rates_do_not_have_is_refused_with_those_they_have(layer):
    path = OWN[layer][0]
    with pytest.raises(InvalidInput, match=r"larch-boards.*wood-wool-ceiling") as told:
        rooms.designed(rooms.changed(COURTYARD, **{path: "cork"}))
    assert told.value.where == path


def test_rates_without_materials_say_so():
    bare = rooms.rates_with(materials=[])
    with pytest.raises(InvalidInput, match="none yet, write it into them"):
        rooms.designed(rooms.changed(COURTYARD, **{"survey.deck.material": "cork"}), bare)


def test_a_board_of_ones_own_has_its_conductivity_by_thickness_and_says_it_is_declared():
    rates = rooms.rates_with(
        rates__invented=False,
        boards=[
            {
                "name": "mine", "says": "own board", "length_mm": 1200, "width_mm": 600,
                "density_kg_m3": 30, "facing_sd_m": 5, "facing_kg_m2": 0.2, "mu": 60,
                "sizes": [
                    {"thickness_mm": 70, "lambda_w_mk": 0.026, "price_pence": 900},
                    {"thickness_mm": 130, "lambda_w_mk": 0.024, "price_pence": 1700},
                ],
            }
        ],
    )  # fmt: skip
    job = rooms.changed(
        rooms.job("garage"), **{"design.board": "mine", "design.thickness_mm": None}
    )
    w = rooms.designed(job, rates)
    board = next(a for a in w.heat.layers if a.name == "insulation")
    assert (board.thickness_mm, board.basis) == (130, "declared")
    assert board.resistance == pytest.approx(0.13 / 0.024)
    assert [r.boards for r in w.rise.other_rows] == [(70, 70), (130, 70), (130, 130)]
