"""Compile the march, for one bed and for several side by side, into the cache that tests use.

Run by the controller of a parallel run while its workers collect: else each worker, and each
process that one of them starts, would compile it for itself.
"""

from bench.plain_covers import cover_optics, half_ellipse

from hoopwright.climate.demo import demo_weather
from hoopwright.heat.compiled import compiled_march
from hoopwright.heat.enclosure import Enclosure
from hoopwright.heat.lanes import WIDTH
from hoopwright.heat.run import BedInRun, Case, place_of, simulate_all
from hoopwright.heat.schedule import Schedule

if __name__ == "__main__":
    (year,) = demo_weather(1)
    day = year.part(slice(24), year.start)
    bed = BedInRun(Enclosure(3.66, 0.91, half_ellipse(0.91, 0.6)))
    case = Case(bed, cover_optics("film-6mil"), Schedule.closed(), place_of(day, bed))
    for beds in (1, WIDTH):
        simulate_all(day, [case] * beds, compiled_march())
