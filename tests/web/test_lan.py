"""A room on one network: where it is let in, who is slowed down, and who is never forgotten."""

import pytest
from served import settings

from hoopwright.store import Store, visitors
from hoopwright.web.app import application
from hoopwright.web.serve import NoPort, _listening, configuration
from hoopwright.web.settings import ServerLimits


def test_only_the_address_named_is_listened_on():
    with _listening("127.0.0.1", 0) as listening:
        assert listening.getsockname()[0] == "127.0.0.1"
    with pytest.raises(NoPort, match="no address of this machine"):
        _listening("192.0.2.1", 0)  # of the documentation range (RFC 5737): nobody's
    with pytest.raises(NoPort, match="or say all"):
        _listening("no such name.invalid", 0)


def test_a_header_does_not_make_another_guesser(tmp_path, opened):
    """Forwarded-for headers passed the lock-out on loopback, where a proxy is believed."""
    config = configuration(settings(tmp_path, lan=True, limits=ServerLimits(joins=1, rate=1e3)))
    config.load()
    assert not config.proxy_headers
    with opened(config.loaded_app, client=("127.0.0.1", 1)) as room:
        headers = [{"X-Forwarded-For": f"10.0.0.{number}"} for number in range(4)]
        wrong = {"code": "wron-gone"}
        answers = [room.post("/join", data=wrong, headers=one).status_code for one in headers]
    assert answers == [403, 429, 429, 429]


def test_joins_with_the_right_code_are_limited_too(tmp_path, opened):
    made = settings(tmp_path, lan=True, limits=ServerLimits(joins=2, rate=1e3, burst=1e3))
    with opened(application(made)) as room:
        answers = []
        for _ in range(25):
            room.cookies.clear()
            answers.append(room.post("/join", data={"code": made.code}).status_code)
    assert answers[:20] == [303] * 20
    assert 429 in answers


def test_who_has_a_plan_is_never_forgotten(tmp_path, monkeypatch):
    """After 5,000 joins the first visitor was unknown and their plans out of reach."""
    monkeypatch.setattr(visitors, "MOST_IDLE", 3)
    with Store(tmp_path) as store:
        first, idle = store.visitors.join(), store.visitors.join()
        owner = store.visitors.known(first)
        store.plans.add(owner, "Bed", "")
        for _ in range(6):
            newest = store.visitors.join()
        assert store.visitors.known(first) == owner
        assert store.visitors.known(idle) is None
        assert store.visitors.known(newest) is not None


@pytest.mark.parametrize("typed", ["ABCD-EFGH", " abcd efgh", "abcdefgh", "abcd\u2013efgh"])
def test_the_code_is_taken_with_or_without_its_dash(tmp_path, typed, opened):
    made = settings(tmp_path, lan=True, code="abcd-efgh")
    with opened(application(made)) as room:
        assert room.post("/join", data={"code": typed}).status_code == 303
        assert room.post("/join", data={"code": "abcd-efg"}).status_code == 403
        assert room.post("/join", data={"code": ""}).status_code in (403, 422)
