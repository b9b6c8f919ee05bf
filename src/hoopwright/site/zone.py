"""The time zone of a place."""


def zone_name(latitude: float, longitude: float) -> str:
    """Return the IANA name of the zone at a place [deg], or "" where none is known.

    From an outline map, good to about 1 km. tzfpy is imported only here.
    """
    import tzfpy

    return str(tzfpy.get_tz(longitude, latitude))
