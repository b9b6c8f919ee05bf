"""Published numbers and the catalogue, as data with sources; typed reader; user overlays.

    from hoopwright.tables.catalogue import Catalogue

    catalogue = Catalogue()                       # our tables, each read when first asked for
    pipe = catalogue.pipe("pvc40-3/4")            # SI: pipe.outside_diameter [m]
    pipe.stuff.strain_limit.value                 # a Figure: value, low, high, source, sure
    catalogue.with_overlay("my-prices.toml")      # the user's own rows laid over ours

A wrong key raises `UnknownKeyError` with the nearest spellings; a wrong table raises `TableError`
with file, line and column. Nothing is imported here, so that a command that needs no table
pays for none.
"""
