"""Limits of U for flat roofs and of f_Rsi, each with the basis on which it is known.

England: Approved Document L volume 1, 2021 (section 11 read in a public copy, tables published,
second-hand or from memory); Wales 2022 and Scotland 2022 published, second-hand; Northern Ireland
and Ireland from memory; f_CRsi of BRE IP 1/06.
"""

import pytest

from evenfall.standards.thermal_limits import (
    F_CRSI,
    ROOF_LIMITS,
    ROOFLIGHT,
    TRIGGER_ELEMENT,
    TRIGGER_ENVELOPE,
)

SECOND, MEMORY = "published, second-hand", "from memory"


@pytest.mark.parametrize(
    ("nation", "kind", "U", "basis"),
    [
        ("England", "improved", 0.16, SECOND),
        ("England", "threshold", 0.35, MEMORY),
        ("England", "new", 0.15, SECOND),
        ("Wales", "improved", 0.16, SECOND),
        ("Wales", "threshold", 0.35, SECOND),
        ("Wales", "new", 0.13, SECOND),
        ("Scotland", "improved", 0.12, SECOND),
        ("Scotland", "threshold", 0.35, SECOND),
        ("Scotland", "new", 0.12, SECOND),
        ("Northern Ireland", "improved", 0.18, MEMORY),
        ("Northern Ireland", "threshold", 0.35, MEMORY),
        ("Northern Ireland", "new", 0.16, MEMORY),
        ("Ireland", "improved", 0.25, MEMORY),
        ("Ireland", "new", 0.16, SECOND),
    ],
)
def test_limit_of_a_nation(nation, kind, U, basis):
    limit = getattr(ROOF_LIMITS[nation], kind)
    assert (limit.value, limit.unit, limit.basis) == (U, "W/(m2K)", basis)


def test_ireland_has_no_threshold():
    assert ROOF_LIMITS["Ireland"].threshold is None


def test_england_does_not_use_the_0_18_of_the_edition_before():
    assert ROOF_LIMITS["England"].improved != pytest.approx(0.18)


@pytest.mark.parametrize(("trigger", "share"), [(TRIGGER_ELEMENT, 0.5), (TRIGGER_ENVELOPE, 0.25)])
def test_triggers_of_england_were_read(trigger, share):
    assert (trigger.value, trigger.basis) == (share, "published")


@pytest.mark.parametrize(
    ("nation", "element", "envelope", "basis"),
    [
        ("England", 0.5, 0.25, "published"),
        ("Wales", 0.5, 0.25, SECOND),
        ("Scotland", None, None, None),
        ("Northern Ireland", None, None, None),
        ("Ireland", None, 0.25, MEMORY),
    ],
)
def test_shares_that_bring_the_duty_are_those_known_and_no_others(nation, element, envelope, basis):
    limits = ROOF_LIMITS[nation]
    assert (limits.element, limits.envelope) == (element, envelope)
    known = [share for share in (limits.element, limits.envelope) if share is not None]
    assert all(share.basis == basis for share in known)


def test_only_scotland_lets_no_renovated_roof_be_worse_than_its_second_number():
    assert [n for n, limits in ROOF_LIMITS.items() if limits.in_all_cases] == ["Scotland"]


def test_rooflight_of_england():
    assert (ROOFLIGHT.value, ROOFLIGHT.basis) == (2.2, SECOND)


@pytest.mark.parametrize(
    ("use", "f", "basis"),
    [
        ("dwelling", 0.75, SECOND),
        ("office", 0.50, MEMORY),
        ("storage", 0.30, MEMORY),
        ("kitchen", 0.80, MEMORY),
        ("pool", 0.90, MEMORY),
    ],
)
def test_critical_temperature_factor(use, f, basis):
    assert (F_CRSI[use].value, F_CRSI[use].basis) == (f, basis)
