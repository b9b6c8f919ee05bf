"""Forecast replies read into hours: right ones well, broken ones with one plain sentence."""

import json
import os
import random
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib import resources
from pathlib import Path

import numpy as np
import pytest

from hoopwright.climate.demo import demo_weather
from hoopwright.climate.forecast.clock import standard_offset, wall_clock, zone_at
from hoopwright.climate.forecast.form import Forecast, ForecastError, ForecastPlace
from hoopwright.climate.forecast.global_forecast import address, fetch_global, read_global
from hoopwright.climate.forecast.http import KeptReplies, getter
from hoopwright.climate.forecast.json_reply import duration, interval
from hoopwright.climate.forecast.national_forecast import (
    fetch_national,
    point_address,
    read_grid,
    read_point,
)
from hoopwright.climate.forecast.typical import forecast_from_file, typical_forecast

EXAMPLES = resources.files("hoopwright.climate.forecast").joinpath("examples")
GRID = EXAMPLES.joinpath("national_grid.json").read_text("utf-8")
POINT = EXAMPLES.joinpath("national_point.json").read_text("utf-8")
GLOBAL = EXAMPLES.joinpath("global.json").read_text("utf-8")
NOW = datetime(2026, 5, 14, 12, tzinfo=UTC)
PLACE = ForecastPlace("a made-up valley", 44.0, -110.0, time_zone="America/Denver")

SHARED = Path(os.environ.get("HOOPWRIGHT_SHARED", Path(__file__).parents[3] / "shared"))
REAL = SHARED / "forecast" / "detailed_forecast.json"
needs_real = pytest.mark.skipif(
    not REAL.exists(), reason="the real forecast files are not here (set HOOPWRIGHT_SHARED)"
)


@contextmanager
def replay(answers, askers: list[str] | None = None) -> Iterator[str]:
    """Serve path -> (status, headers, body) on this machine; yields the house's address."""

    class Handler(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            if askers is not None:
                askers.append(self.headers.get("User-Agent", ""))
            status, headers, body = answers(self.path.split("?")[0], server.server_port)
            self.send_response(status)
            for name, value in headers.items():
                self.send_header(name, value)
            if "Content-Length" not in headers:
                self.send_header("Content-Length", str(len(body)))
            self.end_headers()
            self.wfile.write(body)

        def log_message(self, *_args) -> None:
            pass

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    server.handle_error = lambda *_about: None  # a client that gave up is no news
    thread = threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}"
    finally:
        server.shutdown()
        server.server_close()


def always(status: int, body: bytes, headers=None):
    return lambda _path, _port: (status, headers or {}, body)


def whole(found: Forecast) -> None:
    weather = found.weather
    count = len(weather)
    for name in (
        "air_temperature",
        "dew_point",
        "pressure",
        "global_horizontal",
        "direct_normal",
        "diffuse_horizontal",
        "sky_cover",
        "wind_speed",
        "wind_direction",
    ):
        values = getattr(weather, name)
        assert values.shape == (count,)
        assert np.isfinite(values).all(), name
    for values in (found.gust, found.snowfall, found.rain_chance, found.thunder, found.hail):
        assert values.shape == (count,)
    assert count >= 24
    assert (weather.dew_point <= weather.air_temperature).all()
    assert (weather.global_horizontal >= 0).all()


def test_the_made_grid_reads_back_as_it_was_made() -> None:
    found = read_grid(GRID, PLACE, NOW)
    whole(found)
    weather = found.weather
    assert weather.start == datetime(2026, 5, 14)  # 07:00 universal, seven hours behind
    assert weather.station.utc_offset == -7
    assert weather.station.elevation == 2050
    entries = json.loads(GRID)["properties"]["temperature"]["values"]
    # The value that begins at 01:00 is that of the hour that ends there.
    assert weather.air_temperature[0] == entries[1]["value"]
    assert weather.air_temperature[10] == entries[11]["value"]
    assert np.nansum(weather.precipitation) == pytest.approx(6.0)
    assert np.nansum(found.snowfall) == pytest.approx(0.020)
    assert np.nanmax(found.gust) == pytest.approx(1.7 * 13.8 / 3.6 + 40 / 3.6, rel=0.05)
    assert found.hail.sum() == 4
    assert np.argmax(weather.global_horizontal[:24]) in (11, 12, 13)
    assert any("clear sky" in note for note in found.notes)


def test_the_made_global_reply_reads_back_as_it_was_made() -> None:
    found = read_global(GLOBAL, PLACE, NOW)
    whole(found)
    reply = json.loads(GLOBAL)["hourly"]
    weather = found.weather
    assert weather.start == datetime(2026, 5, 11, 23)  # the hour that ends at the first time
    assert weather.air_temperature == pytest.approx(reply["temperature_2m"])
    assert weather.pressure[0] == pytest.approx(79100)
    assert weather.global_horizontal.max() == pytest.approx(max(reply["shortwave_radiation"]))
    assert found.thunder.sum() == found.hail.sum() == 1


def test_both_services_are_asked_politely_and_answer(tmp_path) -> None:
    def answers(path, _port):
        body = {
            "/points/44,-110": POINT,
            "/gridpoints/XXX/1,1": GRID,
            "/v1/forecast": GLOBAL,
        }.get(path)
        return (200, {}, body.encode()) if body else (404, {}, b"{}")

    askers: list[str] = []
    with replay(answers, askers) as house:
        get = getter(identity="hoopwright test\r\n")
        whole(fetch_national(PLACE, get, NOW, house))
        whole(fetch_global(PLACE, get, NOW, house))
        with pytest.raises(ForecastError, match="knows no forecast for this place"):
            fetch_national(ForecastPlace("sea", 10, 10), get, NOW, house)
    assert askers == ["hoopwright test"] * 4


@needs_real
def test_the_real_grid_through_a_replay_server() -> None:
    """A reply of the U.S. National Weather Service of 4 February 2022 (public domain)."""
    point = json.loads((REAL.parent / "points.json").read_text())
    assert read_point(json.dumps(point))[1] in ("America/New_York", "America/Chicago")

    def answers(path, _port):
        if path.startswith("/points"):
            return 200, {}, (REAL.parent / "points.json").read_bytes()
        return 200, {}, REAL.read_bytes()

    place = ForecastPlace("a coast", 30.0, -85.0)
    now = datetime(2022, 2, 4, 6, tzinfo=UTC)
    with replay(answers) as house:
        found = fetch_national(place, getter(), now, house)
    whole(found)
    weather = found.weather
    layers = json.loads(REAL.read_text())["properties"]
    assert len(weather) >= 150
    assert weather.start == datetime(2022, 2, 3, 16)
    assert weather.air_temperature[0] == pytest.approx(layers["temperature"]["values"][1]["value"])
    assert weather.wind_speed.max() == pytest.approx(
        max(v["value"] for v in layers["windSpeed"]["values"]) / 3.6, abs=0.01
    )
    rain = sum(v["value"] for v in layers["quantitativePrecipitation"]["values"])
    assert np.nansum(weather.precipitation) == pytest.approx(rain, abs=0.5)
    assert weather.station.elevation == pytest.approx(3.9624)
    assert found.thunder.any()


@needs_real
@pytest.mark.parametrize(
    "name",
    [
        "gridpoints_forecast_hourly_si.json",
        "gridpoints_forecast_hourly_empty_us.json",
        "stations_observations.json",
        "points.json",
    ],
)
def test_other_real_replies_are_refused_as_no_grid(name: str) -> None:
    with pytest.raises(ForecastError):
        read_grid((REAL.parent / name).read_text(), PLACE, None)


def test_stale_and_future_forecasts_are_refused() -> None:
    with pytest.raises(ForecastError, match=r"3\.0 days old"):
        read_grid(GRID, PLACE, datetime(2026, 5, 17, 5, tzinfo=UTC))
    with pytest.raises(ForecastError, match="from the future"):
        read_grid(GRID, PLACE, datetime(2026, 5, 13, 5, tzinfo=UTC))
    with pytest.raises(ForecastError, match="days old"):
        read_global(GLOBAL, PLACE, datetime(2026, 5, 20, tzinfo=UTC))
    whole(read_grid(GRID, PLACE, None))


def changed(text: str, change) -> str:
    reply = json.loads(text)
    change(reply)
    return json.dumps(reply)


def _unit(name, unit):
    def change(reply):
        reply["properties"][name]["uom"] = unit

    return change


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (_unit("temperature", "wmoUnit:degF"), "cannot be|missing"),
        (_unit("temperature", "wmoUnit:furlong"), "none of degC"),
        (_unit("windSpeed", None), "none of km_h-1"),
        (_unit("skyCover", 7), "none of percent"),
        (lambda r: r["properties"].pop("temperature"), "temperature is missing"),
        (lambda r: r["properties"].pop("skyCover"), "sky cover is missing"),
        (lambda r: r["properties"].pop("updateTime"), "'updateTime' is missing"),
        (lambda r: r["properties"].update(validTimes="2026-05-14T07:00:00+00:00"), "no interval"),
        (lambda r: r["properties"].update(validTimes="2026-05-14T07:00:00/P3D"), "time zone"),
        (
            lambda r: r["properties"].update(elevation={"value": None, "unitCode": "wmoUnit:m"}),
            "elevation",
        ),
        (lambda r: r["properties"]["temperature"].update(values=[]), "temperature is missing"),
        (
            lambda r: r["properties"]["temperature"].update(
                values=r["properties"]["temperature"]["values"][:5]
            ),
            "only 4 hours",
        ),
        (lambda r: r["properties"]["temperature"]["values"][3].update(value="hot"), "not a number"),
        (lambda r: r["properties"]["temperature"]["values"][3].update(value=4000), "cannot be"),
        (
            lambda r: r["properties"]["temperature"]["values"][3].update(validTime="x/PT1H"),
            "no ISO 8601 time",
        ),
        (
            lambda r: r["properties"]["temperature"]["values"][3].update(
                validTime="2026-05-14T07:00:00+00:00/P1Y"
            ),
            "no length of time",
        ),
        (lambda r: r.pop("properties"), "'properties' is missing"),
    ],
)
def test_a_broken_grid_is_refused_with_what_is_wrong(change, message) -> None:
    text = changed(GRID, change)
    if "degF" in str(getattr(change, "__closure__", "")) or message == "cannot be|missing":
        # Degrees Fahrenheit are a known unit: the values simply come out cold.
        found = read_grid(text, PLACE, NOW)
        assert found.weather.air_temperature.max() < 0
        return
    with pytest.raises(ForecastError, match=message):
        read_grid(text, PLACE, NOW)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (lambda r: r["hourly_units"].update(temperature_2m="furlongs"), "none of degC"),
        (lambda r: r["hourly"].pop("cloud_cover"), "'cloud_cover' is missing"),
        (lambda r: r["hourly"]["temperature_2m"].pop(), "values for 120 hours"),
        (lambda r: r["hourly"]["time"].__setitem__(4, "noon"), "is no time"),
        (lambda r: r["hourly"]["time"].pop(50), "do not follow"),
        (lambda r: r.update(error=True, reason="too many"), "refuses the request: too many"),
        (lambda r: r.update(elevation=None), "elevation"),
        (lambda r: r["hourly"].update(time=[]), "no forecast of days"),
    ],
)
def test_a_broken_global_reply_is_refused_with_what_is_wrong(change, message) -> None:
    with pytest.raises(ForecastError, match=message):
        read_global(changed(GLOBAL, change), PLACE, NOW)


@pytest.mark.parametrize(
    ("answers", "message"),
    [
        (always(200, b""), "empty"),
        (always(200, b"   "), "empty"),
        (always(500, b"oops"), "in trouble"),
        (always(503, b""), "in trouble"),
        (always(429, b""), "fewer requests"),
        (always(403, b""), "refuses the request"),
        (always(200, b"<html>maintenance</html>"), "a web page"),
        (always(200, GLOBAL[:3000].encode()), "cut short"),
        (always(200, GLOBAL.encode()[:500], {"Content-Length": "90000"}), "broke off"),
        (always(200, b"\xff\xfe\x00junk"), "not UTF-8"),
        (always(200, b"[1, 2, 3]"), "not an object"),
        (always(302, b"", {"Location": "http://example.invalid/x"}), "another house"),
        (always(302, b"", {"Location": "/v1/forecast"}), "in circles"),
        (always(200, b"[" * 100_000), "no JSON"),
        (always(200, b" " * 6_000_000), "over 5 MB"),
    ],
)
def test_a_service_in_trouble_says_so_in_one_sentence(answers, message) -> None:
    with replay(answers) as house, pytest.raises(ForecastError, match=message) as caught:
        fetch_global(PLACE, getter(time_out=5.0), NOW, house)
    assert "\n" not in str(caught.value)


def test_a_redirect_within_the_house_is_followed() -> None:
    def answers(path, _port):
        if path == "/v1/forecast":
            return 302, {"Location": "/moved"}, b""
        return 200, {}, GLOBAL.encode()

    with replay(answers) as house:
        whole(fetch_global(PLACE, getter(), NOW, house))


def test_a_silent_or_absent_service_is_named() -> None:
    stop = threading.Event()

    def silent(_path, _port):
        stop.wait(3)
        return 200, {}, b"{}"

    with replay(silent) as house:
        with pytest.raises(ForecastError, match=r"did not answer within 0.2 s"):
            fetch_global(PLACE, getter(time_out=0.2), NOW, house)
        stop.set()
    with pytest.raises(ForecastError, match="cannot be reached"):
        getter(time_out=1.0)("http://127.0.0.1:9/nothing")


def mutated(text: str, dice: random.Random) -> str:
    """Return the reply with one to four random wounds, to its letters or to its structure."""
    for _ in range(dice.randint(1, 4)):
        if dice.random() < 0.4:
            at = dice.randrange(len(text))
            wound = dice.choice(["", chr(dice.randrange(32, 0x2FF)), text[at : at + 40], "null"])
            text = text[:at] + wound + text[at + dice.randint(0, 30) :]
            continue
        try:
            reply = json.loads(text)
        except ValueError:
            return text
        node, path = reply, []
        while isinstance(node, (dict, list)) and node and (len(path) < 2 or dice.random() < 0.8):
            key = dice.choice(list(node)) if isinstance(node, dict) else dice.randrange(len(node))
            path.append((node, key))
            node = node[key]
        if not path:
            return text
        holder, key = path[-1]
        holder[key] = (
            dice.choice(
                [
                    None,
                    True,
                    -1,
                    1e308,
                    float("nan"),
                    10**400,
                    "",
                    "x" * 50,
                    [],
                    {},
                    [[]],
                    {"a": 1},
                    "2026-05-14T07:00:00+00:00/P999999999D",
                    "9999-12-31T23:59:59+14:00/PT1H",
                    "0001-01-01T00:00:00+00:00",
                    -9999,
                    "wmoUnit:degC",
                    holder,
                ]
                if dice.random() < 0.97
                else [0.5]
            )
            if not isinstance(holder, dict) or dice.random() < 0.9
            else holder.pop(key)
        )
        try:
            text = json.dumps(reply)
        except (ValueError, RecursionError):
            return text
    return text


@pytest.mark.parametrize(
    ("text", "read"), [(GRID, read_grid), (GLOBAL, read_global)], ids=["national", "global"]
)
def test_a_thousand_wounded_replies_end_in_hours_or_in_a_sentence(text, read) -> None:
    dice = random.Random(20260514)
    refusals = []
    for _ in range(1000):
        try:
            whole(read(mutated(text, dice), PLACE, NOW))
        except ForecastError as error:
            refusals.append(str(error))
    assert 200 < len(refusals) < 1000
    assert all(10 < len(said) < 400 and "\n" not in said for said in refusals)


@needs_real
def test_wounds_to_the_real_reply_too() -> None:
    dice = random.Random(4)
    text = REAL.read_text()
    refusals = []
    for _ in range(60):
        try:
            whole(read_grid(mutated(text, dice), PLACE, None))
        except ForecastError as error:
            refusals.append(str(error))
    assert refusals
    assert not any("\n" in said for said in refusals)


def test_wounded_point_look_ups() -> None:
    dice = random.Random(5)
    for _ in range(300):
        try:
            address, _ = read_point(mutated(POINT, dice))
        except ForecastError:
            continue
        assert address.startswith("https://api.weather.gov/")
    evil = changed(
        POINT, lambda r: r["properties"].update(forecastGridData="https://evil.invalid/")
    )
    with pytest.raises(ForecastError, match="another house"):
        read_point(evil)


@pytest.mark.parametrize(
    ("text", "hours"),
    [
        ("PT1H", 1),
        ("PT6H", 6),
        ("P1D", 24),
        ("P1DT6H", 30),
        ("P7DT14H", 182),
        ("PT30M", 0.5),
        ("P1W", 168),
        ("PT3600S", 1),
    ],
)
def test_iso_8601_durations(text, hours) -> None:
    """ISO 8601-1:2019, 5.5.2.2: the forms of a duration by designators."""
    assert duration(text, "test") == pytest.approx(hours)


@pytest.mark.parametrize(
    "text", ["", "P", "PT", "1H", "P1Y", "P1M", "PT0H", "P-1D", "P40D", "PT1H "]
)
def test_lengths_that_cannot_be_read(text) -> None:
    with pytest.raises(ForecastError, match="no length of time"):
        duration(text, "test")


def test_an_interval_keeps_its_own_offset() -> None:
    begun, length = interval("2022-02-03T16:00:00-05:00/P1DT6H", "test")
    assert begun == datetime(2022, 2, 3, 21, tzinfo=UTC)
    assert length == 30


def test_the_cache_asks_once_an_hour_and_bridges_half_a_day(tmp_path) -> None:
    asked = []
    state = {"now": NOW, "down": False}

    def get(address: str) -> str:
        asked.append(address)
        if state["down"]:
            raise ForecastError("the house is in trouble (500); try again later")
        return GLOBAL

    kept = KeptReplies(get, tmp_path / "cache", now=lambda: state["now"])
    whole(fetch_global(PLACE, kept, NOW))
    whole(fetch_global(PLACE, kept, NOW))
    assert len(asked) == 1
    state.update(now=NOW + timedelta(hours=3), down=True)
    whole(fetch_global(PLACE, kept, NOW))
    assert len(asked) == 2
    assert "A copy 3 h old was used" in kept.notes[-1]
    state.update(now=NOW + timedelta(hours=13))
    with pytest.raises(ForecastError, match="in trouble"):
        fetch_global(PLACE, kept, NOW)


def test_a_damaged_copy_is_as_good_as_none(tmp_path) -> None:
    kept = KeptReplies(lambda _address: GLOBAL, tmp_path, now=lambda: NOW)
    kept("http://x")
    next(tmp_path.iterdir()).write_text('{"at": 3, "text": ')
    assert kept("http://x") == GLOBAL
    blocked = KeptReplies(lambda _address: GLOBAL, tmp_path / "file" / "deeper", now=lambda: NOW)
    (tmp_path / "file").write_text("in the way")
    assert blocked("http://x") == GLOBAL
    assert "could not be kept" in blocked.notes[0]


def test_a_saved_reply_of_either_service(tmp_path) -> None:
    for name, text in (("a.json", GRID), ("b.json", GLOBAL)):
        (tmp_path / name).write_text(text)
        whole(forecast_from_file(tmp_path / name, PLACE, NOW))
    (tmp_path / "c.json").write_text("{}")
    with pytest.raises(ForecastError, match=r"c\.json: neither"):
        forecast_from_file(tmp_path / "c.json", PLACE, NOW)
    with pytest.raises(ForecastError, match="cannot be opened"):
        forecast_from_file(tmp_path / "none.json", PLACE, NOW)


def test_the_typical_day_stands_in_and_says_so() -> None:
    year = next(demo_weather(1))
    found = typical_forecast(year, datetime(2026, 5, 14).date(), 3)
    whole(found)
    assert found.weather.start == datetime(2026, 5, 14)
    assert found.weather.air_temperature == pytest.approx(year.air_temperature[24 * 133 : 24 * 136])
    assert found.issued is None
    assert "not what is coming" in found.notes[0]


def test_addresses() -> None:
    assert point_address(ForecastPlace("x", 44.12346, -110.0)).endswith("/points/44.1235,-110")
    asked = address(PLACE)
    assert "wind_speed_unit=ms" in asked
    assert "timezone=GMT" in asked
    assert "past_days=5" in asked


def test_places_and_clocks() -> None:
    with pytest.raises(ForecastError, match="no place on earth"):
        ForecastPlace("x", 100, 0)
    assert zone_at(44.0, -110.0) == "America/Denver"
    assert standard_offset("America/Denver", 2026) == -7
    assert standard_offset("Europe/Dublin", 2026) == 0
    assert standard_offset("Australia/Sydney", 2026) == 10
    assert standard_offset("Asia/Kolkata", 2026) == 5.5
    with pytest.raises(ForecastError, match="no time zone"):
        standard_offset("Mars/Olympus", 2026)
    summer = wall_clock(datetime(2026, 7, 1, 7, 30), -7, "America/Denver")
    winter = wall_clock(datetime(2026, 1, 1, 7, 30), -7, "America/Denver")
    assert (summer.hour, winter.hour) == (8, 7)


def test_a_place_on_the_half_hour() -> None:
    found = read_global(GLOBAL, ForecastPlace("half", 28.6, 77.2, time_zone="Asia/Kolkata"), None)
    whole(found)
    assert found.weather.start.minute == 0
    assert found.weather.station.utc_offset == 5.5
    reply = json.loads(GLOBAL)["hourly"]["temperature_2m"]
    assert found.weather.air_temperature[0] == pytest.approx((reply[0] + reply[1]) / 2)
