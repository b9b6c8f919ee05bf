"""Two who change one plan at once: neither is lost, and nobody is told a lie."""

import threading

from served import DEMO

from hoopwright.web.saved import SavedPlans


def at_once(*acts):
    """Do several things, each begun when all are ready; return what each gives."""
    ready, found = threading.Barrier(len(acts)), [None] * len(acts)

    def do(number, act):
        ready.wait()
        found[number] = act()

    threads = [threading.Thread(target=do, args=pair) for pair in enumerate(acts)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return found


def meet(monkeypatch, times=2):
    """Let changes be saved only once `times` of them have been worked out: all read the same."""
    worked, really, left = threading.Barrier(times), SavedPlans._next, [times]

    def after_all(*words):
        if left[0] > 0:
            left[0] -= 1
            worked.wait(300)
        return really(*words)

    monkeypatch.setattr(SavedPlans, "_next", after_all)


def test_changes_of_different_keys_are_both_kept(client, plan, monkeypatch):
    """Both answered 200 and one was lost, twelve times of twelve."""
    meet(monkeypatch)
    answers = at_once(
        lambda: client.patch(f"/api{plan}", json={"name": "Of one"}),
        lambda: client.patch(f"/api{plan}", json={"wishes.animals": ["dog"]}),
    )
    assert [answer.status_code for answer in answers] == [200, 200]
    assert [answer.json()["refused"] for answer in answers] == [{}, {}]
    now = client.get(f"/api{plan}").json()
    assert now["name"] == "Of one"
    assert 'animals = ["dog"]' in now["text"]
    assert now["revision"] == 3


def test_of_two_changes_of_the_same_key_one_is_told(client, plan, monkeypatch):
    meet(monkeypatch)
    names = ["Of one", "Of two"]
    answers = at_once(
        *(lambda name=name: client.patch(f"/api{plan}", json={"name": name}) for name in names)
    )
    refused = [answer.json()["refused"] for answer in answers]
    (lost,) = [number for number, said in enumerate(refused) if said]
    won = names[1 - lost]
    assert refused[lost]["name"] == (
        f'was changed meanwhile to "{won}", which stands; '
        f'yours was "{names[lost]}": set it again if you want it'
    )
    assert client.get(f"/api{plan}").json()["name"] == won


def test_a_stale_put_is_refused(client, plan):
    first = client.get(f"/api{plan}")
    seen = {"If-Match": first.headers["etag"]}
    client.patch(f"/api{plan}", json={"name": "Changed since"})
    late = client.put(f"/api{plan}", json={"text": DEMO + "# mine\n"}, headers=seen)
    assert late.status_code == 412
    assert client.get(f"/api{plan}").json()["name"] == "Changed since"
    fresh = {"If-Match": client.get(f"/api{plan}").headers["etag"]}
    assert client.put(f"/api{plan}", json={"text": DEMO}, headers=fresh).status_code == 200


def test_a_stamp_does_not_come_again_after_an_undo(client, plan):
    """Revision numbers do: the second 2 is another text than the first."""
    client.patch(f"/api{plan}", json={"name": "First"})
    first = client.get(f"/api{plan}").headers["etag"]
    client.post(f"/api{plan}/undo")
    client.patch(f"/api{plan}", json={"name": "Second"})
    assert client.get(f"/api{plan}").json()["revision"] == 2
    late = client.put(f"/api{plan}", json={"text": DEMO}, headers={"If-Match": first})
    assert late.status_code == 412


def test_a_patch_on_an_old_revision_goes_together_with_what_came_after(client, plan):
    seen = {"If-Match": client.get(f"/api{plan}").headers["etag"]}
    client.patch(f"/api{plan}", json={"name": "Theirs"})
    mine = {"name": "Mine", "wishes.animals": ["dog"]}
    answer = client.patch(f"/api{plan}", json=mine, headers=seen).json()
    assert list(answer["refused"]) == ["name"]
    assert answer["name"] == "Theirs"
    assert 'animals = ["dog"]' in answer["text"]


def test_a_form_filled_before_another_change_shows_the_conflict(client, plan):
    saved = client.get(f"/api{plan}")
    client.patch(f"/api{plan}", json={"name": "Theirs"})
    base = saved.headers["etag"].strip('"')
    shown = client.post(f"{plan}/choices", data={"base": base, "name": "Mine"})
    assert "was changed meanwhile to" in shown.text
    assert client.get(f"/api{plan}").json()["name"] == "Theirs"
    gone = client.post(f"{plan}/choices", data={"base": "7-0123456789abcdef", "name": "Mine"})
    assert gone.status_code == 412
