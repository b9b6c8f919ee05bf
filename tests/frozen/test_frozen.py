"""Our frozen dataclasses do what the standard library's do; that library is the measure here."""

import dataclasses
import pickle
from dataclasses import FrozenInstanceError, field, replace
from functools import cached_property
from typing import Any

import pytest

from hoopwright.frozen import dataclass as ours


def made_by(maker: Any) -> tuple[type, type, type]:
    """Three classes, each with what the code of this project uses, made by one maker."""

    @maker(frozen=True)
    class Plain:
        """A thing."""

        a: float
        b: tuple[int, ...] = (1, 2)
        c: dict[str, int] = field(default_factory=dict, compare=False)
        hidden: dict[str, int] = field(init=False, repr=False, compare=False, default_factory=dict)

        @cached_property
        def twice(self) -> float:
            return 2.0 * self.a

    @maker(frozen=True)
    class More(Plain):
        """A thing of more fields, checked as it is made."""

        missing: str = "none"

        def __post_init__(self) -> None:
            if self.missing == "bad":
                raise ValueError("bad")

    @maker(frozen=True, eq=False)
    class Own:
        """A thing that is only ever itself."""

        a: float

    return Plain, More, Own


@pytest.fixture(params=[ours, dataclasses.dataclass], ids=["ours", "standard"])
def classes(request: pytest.FixtureRequest) -> tuple[Any, Any, Any]:
    return made_by(request.param)


def test_values_defaults_and_words(classes: tuple[Any, Any, Any]) -> None:
    plain, more, own = classes
    one = plain(3.0)
    assert (one.a, one.b, one.c, one.hidden, one.twice) == (3.0, (1, 2), {}, {}, 6.0)
    assert plain(3.0).c is not one.c
    assert repr(one) == "made_by.<locals>.Plain(a=3.0, b=(1, 2), c={})"
    assert more(1.0, (3,), {"x": 1}, "word").missing == "word"
    assert more(a=1.0, missing="word") == replace(more(1.0), missing="word")
    assert [f.name for f in dataclasses.fields(more)] == ["a", "b", "c", "hidden", "missing"]
    assert plain.__match_args__ == ("a", "b", "c")
    assert dataclasses.asdict(own(2.0)) == {"a": 2.0}


def test_equal_by_value_and_class_and_not_by_what_is_left_out(
    classes: tuple[Any, Any, Any],
) -> None:
    plain, more, own = classes
    assert plain(1.0, (2,), {"x": 1}) == plain(1.0, (2,), {})
    assert hash(plain(1.0)) == hash(plain(1.0))
    assert plain(1.0) != plain(2.0)
    assert plain(1.0) != more(1.0)
    assert plain(1.0) != 1.0
    assert own(1.0) != own(1.0)
    assert len({own(1.0), own(1.0)}) == 2
    # As the standard one has it: the same array, or not-a-number, is equal to itself.
    nan = float("nan")
    assert plain(nan) == plain(nan)


def test_frozen_and_refusing(classes: tuple[Any, Any, Any]) -> None:
    plain, more, _ = classes
    one = plain(1.0)
    with pytest.raises(FrozenInstanceError):
        one.a = 2.0
    with pytest.raises(FrozenInstanceError):
        del one.a
    with pytest.raises(TypeError, match="missing 1 required positional argument"):
        plain()
    with pytest.raises(TypeError, match="unexpected keyword"):
        plain(1.0, wrong=2)
    with pytest.raises(TypeError, match="unexpected keyword"):
        plain(1.0, hidden={})
    with pytest.raises(ValueError, match="bad"):
        more(1.0, missing="bad")


@ours(frozen=True)
class Sent:
    """A thing that goes to another process."""

    a: float


def test_it_travels() -> None:
    assert pickle.loads(pickle.dumps(Sent(4.0))) == Sent(4.0)
