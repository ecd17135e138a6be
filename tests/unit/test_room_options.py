"""Options side by side: differences to the job as it stands, to the penny."""

from evenfall.stages.price import options

HERE = (768_512.0, 5, 0.158, 1)


def test_an_option_is_told_by_what_it_costs_more_or_less():
    named = (("thicker", "20 mm more"), ("kept", "Keep the fascia"))
    found = options.work(named, HERE, ((801_233.0, 6, 0.139, 0), (742_018.0, 4, 0.158, 2)))
    assert [(o.name, o.total_pence, o.more_pence) for o in found.options] == [
        ("thicker", 801_233, 32_721), ("kept", 742_018, -26_494),
    ]  # fmt: skip
    assert [(o.days, o.u, o.stops) for o in found.options] == [(6, 0.139, 0), (4, 0.158, 2)]
    assert found.why_empty == ""


def test_a_job_without_options_says_so():
    found = options.work((), HERE, ())
    assert found.options == ()
    assert found.why_empty
