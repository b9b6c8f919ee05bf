"""The units a bed is shown in are for the eye: they change no number of it."""

from hypothesis import given, settings
from hypothesis import strategies as st

from hoopwright.answers.data import design_data, order_data, rung_data
from hoopwright.design import design_of
from hoopwright.plan import read_plan_text

PLACES = ("", 'latitude = "47 N"\nlongitude = "8 E"', 'latitude = "44 N"\nlongitude = "106 W"')


@st.composite
def plans(draw):
    return f"""
[site]
ground_snow = "20 psf"
{draw(st.sampled_from(PLACES))}
[bed]
length = "{draw(st.integers(1500, 5000))} mm"
width = "{draw(st.integers(36, 48))} in"
[hoops]
spacing = "{draw(st.integers(20, 40))} in"
[cover]
style = "{draw(st.sampled_from(["framed", "wrapped"]))}"
"""


def numbers(data):
    """Return every number, and every word but those for a reader, in the order they stand."""
    if isinstance(data, dict):
        return [
            found
            for key, value in data.items()
            if key not in ("says", "do")
            for found in (key, *numbers(value))
        ]
    if isinstance(data, list):
        return [found for value in data for found in numbers(value)]
    return [data]


def worked_out(text):
    design = design_of(read_plan_text(text))
    ladder = design.ladder
    rungs = [*ladder.wind, *ladder.snow, *ladder.hail]
    return numbers(
        [design_data(design), order_data(design.order), [rung_data(rung) for rung in rungs]]
    )


@settings(max_examples=6, deadline=None)
@given(plans())
def test_the_same_bed_in_feet_and_in_metres_has_the_same_numbers(plan):
    assert worked_out('units = "us"\n' + plan) == worked_out('units = "metric"\n' + plan)
