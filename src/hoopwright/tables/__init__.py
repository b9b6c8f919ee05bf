"""Published numbers and the catalogue, as data with sources; typed reader; user overlays.

    from hoopwright.tables.catalogue import Catalogue

    catalogue = Catalogue()                       # our tables, each read when first asked for
    pipe = catalogue.pipe("pvc40-3/4")            # SI: pipe.outside_diameter [m]
    pipe.stuff.strain_limit.likely                # a Figure: low, likely, high, source, sure
    catalogue.with_overlay("my-prices.toml")      # the user's own rows laid over ours

`catalogue` : Catalogue, with pipe, board, species, batten, cover, strap, screw, clip, stake,
    rail and reach by key, `prices_of(key)`, `everything_in(table)` and a mapping a table
    (`pipes`, `boards`, `covers`, ...). A wrong key raises `UnknownKeyError` with the nearest.
`fits` : what grips, passes or holds what (`strap_for`, `clip_for`, `sleeve_rod_for`,
    `batten_screw_for`, `strap_screw_for`).
`pipes`, `wood`, `covers`, `fittings`, `people` : the records of the rows, frozen, in SI.
`reader` : `rows_of(Record, table)` and `table_of(Record, table)` for a table of one's own,
    `ranges_of(table, unit, low, high)` for one of ranges; a record, `Sourced` or `Named`, says
    its columns as `Annotated[float, number("m", low, high)]`.
    The module that defines it must not postpone annotations. A wrong table raises `TableError`
    with file, line, column.
`overlay` : how a user's TOML or CSV is laid over our rows.

Nothing is imported here, so that a command that needs no table pays for none.
"""
