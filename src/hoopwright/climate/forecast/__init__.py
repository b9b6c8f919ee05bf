"""The coming days: open forecast services read into hourly weather, or a plain refusal.

    national_forecast.fetch_national(place, get, now)   the U.S. National Weather Service's grid
    global_forecast.fetch_global(place, get, now)       an open global service, with past days
    typical.forecast_from_file(path, place, now)        a reply saved before
    typical.typical_forecast(year, first, days)         the same days of a typical year

`get` is from `http.getter`, or a `http.KeptReplies` around it. Everything that goes wrong raises
ForecastError with one sentence.
"""
