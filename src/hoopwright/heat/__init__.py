"""What warms and cools under the cover, one phenomenon a module.

    from hoopwright.heat.run import BedInRun, place_of, simulate
    from hoopwright.heat.enclosure import Enclosure
    from hoopwright.heat.covers import optics_of
    from hoopwright.heat.schedule import Schedule
    from hoopwright.heat.compare import gain

    curve = ((0.0, 0.0), (0.45, 0.61), (0.91, 0.0))
    bed = BedInRun(Enclosure(length=3.66, width=0.91, curve=curve))
    place = place_of(weather, bed)              # sun, sky, snow: shared by every cover on the bed
    film = optics_of(Catalogue().cover("film-6mil-uv4"))
    under = simulate(weather, bed, film, Schedule.closed(), place)
    bare = simulate(weather, bed, film, Schedule.open_bed(), place)
    gain(under.leaf, bare.leaf, weather).mean   # [K] of the nightly minima

A run is plain Python unless it is given `compiled.compiled_march()`; both are one source.
"""
