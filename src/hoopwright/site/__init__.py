"""Where the bed stands: latitude, elevation, exposure, shelter."""
