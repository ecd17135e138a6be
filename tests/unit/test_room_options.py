"""Options side by side: differences to the job as it stands, to the penny."""

from dataclasses import replace

from evenfall.model.priced import Facts
from evenfall.stages.price import options

HERE = Facts(768_512, 5, 0.158, 1, (120,), 75, 20, 10)


def facts(total, days, u, stops):
    return replace(HERE, total_pence=total, days=days, u=u, stops=stops)


def test_an_option_is_told_by_what_it_costs_more_or_less():
    named = (("thicker", "20 mm more"), ("kept", "Keep the fascia"))
    found = options.work(named, HERE, (facts(801_233, 6, 0.139, 0), facts(742_018, 4, 0.158, 2)))
    assert [(o.name, o.total_pence, o.more_pence) for o in found.options] == [
        ("thicker", 801_233, 32_721), ("kept", 742_018, -26_494),
    ]  # fmt: skip
    assert [(o.days, o.u, o.stops) for o in found.options] == [(6, 0.139, 0), (4, 0.158, 2)]
    assert found.why_empty == ""


def test_a_job_without_options_says_so():
    found = options.work((), HERE, ())
    assert found.options == ()
    assert found.why_empty
