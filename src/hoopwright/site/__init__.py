"""Where the bed stands: latitude, elevation, exposure, shelter."""

from hoopwright.site.place import Exposure, Site

__all__ = ["Exposure", "Site"]
