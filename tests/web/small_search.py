"""A search of a few designs without compiling, for the tests of the page Choose."""

from hoopwright.heat import compiled
from hoopwright.programme import advise
from hoopwright.web import choose_work
from hoopwright.web.beside import wishes_in


def small_search(text, beside, monkeypatch, told=None):
    """Return what the page's search finds among four designs: two pipes, two spacings."""
    usual = advise.usual_space

    def few(read, design):
        axes = usual(read, design).axes
        return advise.Space(tuple(axis[: 2 if n < 2 else 1] for n, axis in enumerate(axes)))

    march = compiled.march_at_hand()
    monkeypatch.setattr(compiled, "compiled_march", lambda: march)
    monkeypatch.setattr(advise, "usual_space", few)
    return choose_work.searched(text, beside, told or (lambda share, says: None))


def keep(store, plan, kind, read, beside, result):
    """Keep a result as a job would, with the wishes that it was found by."""
    from hoopwright.web.work_kinds import KINDS

    store.plans.look("local", plan, {"wishes": dict(beside.wishes)})
    store.results.keep(KINDS[kind].key(read.plan, (), "", beside.rest("wishes")), kind, result)


WISHES = wishes_in({"wishes": {"height": "10 in"}})
