"""Results kept between runs, so that a second look is quick: a folder of the user's own cache.

A file holds a line that names the form and the digest of what follows, then plain numbers and
words (JSON) beside arrays, in NumPy's own archive. Nothing in it can run. It is read back by the
types of the dataclass asked for; whatever is not whole, or not of that shape, counts as none.
"""

import contextlib
import dataclasses
import hashlib
import io
import json
import types
import typing
import zipfile
from collections.abc import Mapping
from datetime import date, datetime
from functools import cache
from typing import Any, TypeVar

import numpy as np

from hoopwright import writing
from hoopwright.caching import folder, program_print

T = TypeVar("T")

FORM = b"hoopwright kept 1"


def key(*parts: str) -> str:
    """Return a key that changes with its parts and with the program itself."""
    held = json.dumps([*parts, program_print()])
    return hashlib.sha256(held.encode("utf-8")).hexdigest()[:32]


def load(name: str, kind: type[T]) -> T | None:
    """Return the dataclass of this kind that was kept under a name, or None."""
    try:
        head, _, body = (folder() / f"{name}.kept").read_bytes().partition(b"\n")
        if head != _head(body):
            return None
        with np.load(io.BytesIO(body), allow_pickle=False) as arrays:
            data = json.loads(arrays["data"].tobytes())
            return typing.cast(T, _read(data, kind, arrays))
    except (OSError, ValueError, TypeError, KeyError, RecursionError, zipfile.BadZipFile):
        return None


def save(name: str, value: Any) -> None:
    """Keep a dataclass; a cache that cannot be written is no reason to fail."""
    arrays: list[np.ndarray[Any, Any]] = []
    data = json.dumps(_plain(value, arrays)).encode("utf-8")
    held = io.BytesIO()
    named = {f"array{number}": array for number, array in enumerate(arrays)}
    np.savez(held, data=np.frombuffer(data, np.uint8), **named)  # type: ignore[arg-type]
    body = held.getvalue()
    with contextlib.suppress(OSError):
        folder().mkdir(parents=True, exist_ok=True, mode=0o700)
        writing.write(folder() / f"{name}.kept", _head(body) + b"\n" + body)


def _head(body: bytes) -> bytes:
    return FORM + b" " + hashlib.sha256(body).hexdigest().encode("ascii")


def _plain(value: Any, arrays: list[np.ndarray[Any, Any]]) -> Any:
    """Return a value as what JSON can say; arrays are put aside and named by their number."""
    if isinstance(value, np.ndarray):
        arrays.append(value)
        return len(arrays) - 1
    if dataclasses.is_dataclass(value):
        return [_plain(getattr(value, field.name), arrays) for field in dataclasses.fields(value)]
    if isinstance(value, Mapping):
        return [[_plain(one, arrays) for one in pair] for pair in value.items()]
    if isinstance(value, tuple | list):
        return [_plain(one, arrays) for one in value]
    if isinstance(value, date):
        return value.isoformat()
    return value.item() if isinstance(value, np.generic) else value


def _read(data: Any, hint: Any, arrays: Mapping[str, Any]) -> Any:
    """Return plain data as the type hinted at. Raises ValueError, TypeError or KeyError."""
    origin, inner = typing.get_origin(hint), typing.get_args(hint)
    # From Python 3.12 on NumPy's name for an array is an alias that says what it stands for.
    if hasattr(origin, "__value__"):
        return _read(data, origin.__value__, arrays)
    if origin in (types.UnionType, typing.Union):
        if data is None and type(None) in inner:
            return None
        return _of_several(data, [one for one in inner if one is not type(None)], arrays)
    if hint is np.ndarray or origin is np.ndarray:
        return arrays[f"array{int(data)}"]
    if dataclasses.is_dataclass(hint):
        hints, fields = _hints(typing.cast(type, hint)), dataclasses.fields(hint)
        pairs = zip(fields, data, strict=True)
        return hint(**{one.name: _read(part, hints[one.name], arrays) for one, part in pairs})  # type: ignore[operator]
    if origin is tuple:
        each = inner[:1] * len(data) if inner[1:] == (...,) else inner
        return tuple(_read(one, kind, arrays) for one, kind in zip(data, each, strict=True))
    if isinstance(origin, type) and issubclass(origin, Mapping):
        return {_read(k, inner[0], arrays): _read(v, inner[1], arrays) for k, v in data}
    if hint in (date, datetime):
        return hint.fromisoformat(data)
    return _single(data, hint, origin, inner)


@cache
def _hints(kind: type) -> dict[str, Any]:
    return typing.get_type_hints(kind)


def _of_several(data: Any, hints: list[Any], arrays: Mapping[str, Any]) -> Any:
    """Return plain data as the first of several types that it fits."""
    for hint in hints[:-1]:
        with contextlib.suppress(ValueError, TypeError, KeyError):
            return _read(data, hint, arrays)
    return _read(data, hints[-1], arrays)


def _single(data: Any, hint: Any, origin: Any, inner: tuple[Any, ...]) -> Any:
    """Return a number or a word of the type hinted at."""
    if origin is typing.Literal:
        accepted = data in inner
    else:
        accepted = isinstance(data, int | float if hint is float else hint)
    if not accepted:
        raise ValueError(f"{data!r} is not {hint}")
    return float(data) if hint is float else data
