"""Laws of gutters and overflows: more rain never helps, a wider way out never harms."""

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.unit import plans

from evenfall.calc.drainage.run_off import run_off_l_s
from evenfall.model.drained import NewGutter, Overflow
from evenfall.model.surveyed import Slope
from evenfall.stages.design import water
from evenfall.stages.design.blocked import Lie, blocked
from evenfall.stages.design.hanging import Wanted


@settings(max_examples=20, deadline=None)
@given(
    r=st.floats(0.01, 0.04),
    more=st.floats(1.0, 1.6),
    length=st.floats(2.0, 12.0),
    depth=st.floats(1.5, 7.0),
)
def test_more_rain_never_means_a_smaller_gutter_outlet_or_pipe(r, more, length, depth):
    ring = ((0.0, 0.0), (length, 0.0), (length, depth), (0.0, depth))
    plan, gutter = plans.plan(ring), plans.job().survey.gutters[0]
    wanted = Wanted(renew=True, new=(NewGutter(side="A-B", outlet_at="middle"),))
    less, harder = (
        water.work(rain, (gutter,), plan, (0.0, -1.0), 25.0, 120.0, wanted).hung[0]
        for rain in (r, r * more)
    )
    assert harder.width_mm >= less.width_mm
    assert harder.pipe_mm >= less.pipe_mm
    if harder.width_mm == less.width_mm:
        assert harder.outlet_mm >= less.outlet_mm


@settings(max_examples=20, deadline=None)
@given(width=st.floats(60, 600), wider=st.floats(1.0, 3.0), r=st.floats(0.01, 0.04))
def test_a_wider_overflow_never_lets_the_water_stand_deeper_and_more_rain_never_less(
    width, wider, r
):
    kinds = ("verge", "verge", "wall", "verge")
    plan = plans.plan(kinds=kinds, openings=(plans.outlet("drain", 3.0, 0.2),))
    lie = Lie(Slope(0.0, 0.0, 25.0), plans.falls(), 120.0, 75.0)

    def depth(rain: float, wide: float) -> float:
        slot = Overflow(name="s", side="A-B", along_m=3.0, width_mm=wide, height_mm=60,
                        sill_above_roof_mm=10)  # fmt: skip
        flow = run_off_l_s.show(rain, 34.72)
        held = blocked(plan, lie, (slot,), (0.0, -1.0), 25.0, flow).held
        assert held is not None
        return held.depth.value

    assert depth(r, width * wider) <= depth(r, width) + 1e-9
    assert depth(r * wider, width) >= depth(r, width) - 1e-9
    assert depth(r, width) <= 0.075 + 1e-9, "it runs over the kerb at the latest"
