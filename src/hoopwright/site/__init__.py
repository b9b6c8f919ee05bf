"""Where the bed stands: latitude, elevation, exposure, shelter."""

from hoopwright.site.place import Exposure, Site
from hoopwright.site.standard import StandardName, standard_of

__all__ = ["Exposure", "Site", "StandardName", "standard_of"]
