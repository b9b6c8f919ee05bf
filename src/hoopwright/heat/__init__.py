"""What warms and cools under the cover, one phenomenon a module.

    from hoopwright.heat.run import Bed, place_of, simulate
    from hoopwright.heat.enclosure import Enclosure, half_ellipse
    from hoopwright.heat.covers import cover_optics
    from hoopwright.heat.schedule import Schedule
    from hoopwright.heat.compare import night_gains

    bed = Bed(Enclosure(length=3.66, width=0.91, curve=half_ellipse(0.91, 0.61)))
    place = place_of(weather, bed)              # sun, sky, snow: shared by every cover on the bed
    film = cover_optics("film-6mil-uv4")
    under = simulate(weather, bed, film, Schedule.closed(), place)
    bare = simulate(weather, bed, film, Schedule.open_bed(), place)
    night_gains(under, bare).leaf.mean          # [K]

A run is plain Python unless it is given `compiled.compiled_march()`; both are one source.
"""
