"""Where the bed stands: latitude, elevation, exposure, shelter."""

from hoopwright.site.place import Exposure, Site
from hoopwright.site.standard import Standard, StandardName, standard_of

__all__ = ["Exposure", "Site", "Standard", "StandardName", "standard_of"]
