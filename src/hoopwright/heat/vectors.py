"""Lanes as vectors of processor registers, for the compiler: what `lanes` means in machine code.

One new type for numba, a vector of `WIDTH` doubles, and one for the truth of a comparison in each
lane. Importing this brings the compiler with it.
"""

import math
import operator
from collections.abc import Callable
from math import floor, sqrt
from typing import Any

from llvmlite import ir
from numba import extending, types
from numba.core import cgutils
from numba.core.typeconv.castgraph import Conversion
from numba.extending import (
    NativeValue,
    lower_builtin,
    lower_cast,
    models,
    register_model,
    type_callable,
    typeof_impl,
    unbox,
)

from hoopwright.heat.lanes import WIDTH, Lanes, in_any, look_up, put, take, where

intrinsic: Any = extending.intrinsic
#: Sums may be reordered and fused; not-a-number and infinity keep their meaning.
REORDERED = frozenset({"contract", "reassoc", "nsz", "arcp"})
FLAGS = tuple(sorted(REORDERED))
VECTOR, TRUTHS = ir.VectorType(ir.DoubleType(), WIDTH), ir.VectorType(ir.IntType(1), WIDTH)


def lane_number(lane: int) -> Any:
    """A lane's number, as the vector instructions take it."""
    return ir.Constant(ir.IntType(32), lane)


class VectorType(types.Type):
    """A double a lane; plain numbers turn into one by themselves."""

    def __init__(self) -> None:
        super().__init__(name=f"Lanes({WIDTH})")

    def can_convert_from(self, typingctx: Any, other: Any) -> Any:
        if isinstance(other, types.Float | types.Integer):
            return Conversion.safe
        return None


class TruthsType(types.Type):
    """A truth a lane."""

    def __init__(self) -> None:
        super().__init__(name=f"Truths({WIDTH})")


vector, truths = VectorType(), TruthsType()


@register_model(VectorType)
class VectorModel(models.PrimitiveModel):
    def __init__(self, manager: Any, kind: Any) -> None:
        super().__init__(manager, kind, VECTOR)


@register_model(TruthsType)
class TruthsModel(models.PrimitiveModel):
    def __init__(self, manager: Any, kind: Any) -> None:
        super().__init__(manager, kind, TRUTHS)


@typeof_impl.register(Lanes)
def _typeof(value: Any, context: Any) -> Any:
    return vector


@unbox(VectorType)
def _unbox(kind: Any, held: Any, c: Any) -> Any:
    values = c.pyapi.object_getattr_string(held, "values")
    array = c.unbox(types.Array(types.float64, 1, "C"), values)
    base = c.context.make_array(types.Array(types.float64, 1, "C"))(
        c.context, c.builder, array.value
    )
    pointer = c.builder.bitcast(base.data, VECTOR.as_pointer())
    loaded = c.builder.load(pointer, align=8)
    c.pyapi.decref(values)
    return NativeValue(loaded, is_error=array.is_error)


def spread(builder: Any, value: Any) -> Any:
    """The same double in every lane."""
    one = builder.insert_element(ir.Constant(VECTOR, ir.Undefined), value, lane_number(0))
    mask = ir.Constant(ir.VectorType(ir.IntType(32), WIDTH), [0] * WIDTH)
    return builder.shuffle_vector(one, ir.Constant(VECTOR, ir.Undefined), mask)


@lower_cast(types.Float, VectorType)
@lower_cast(types.Integer, VectorType)
def _cast(context: Any, builder: Any, given: Any, wanted: Any, value: Any) -> Any:
    return spread(builder, context.cast(builder, value, given, types.float64))


def _number(kind: Any) -> bool:
    return isinstance(kind, VectorType | types.Float | types.Integer)


def _binary(function: Any, result: Any, build: Callable[..., Any]) -> None:
    """Give an operator its meaning on two vectors, or a vector and a plain number."""

    @type_callable(function)
    def typed(context: Any) -> Any:
        def typer(left: Any, right: Any) -> Any:
            if _number(left) and _number(right) and vector in (left, right):
                return result
            return None

        return typer

    for left, right in (
        (VectorType, VectorType),
        (VectorType, types.Number),
        (types.Number, VectorType),
    ):

        @lower_builtin(function, left, right)
        def lowered(context: Any, builder: Any, signature: Any, arguments: Any) -> Any:
            first, second = (
                context.cast(builder, value, kind, vector)
                for value, kind in zip(arguments, signature.args, strict=True)
            )
            return build(builder, first, second)


def _unary(function: Any, build: Callable[..., Any]) -> None:
    @type_callable(function)
    def typed(context: Any) -> Any:
        def typer(value: Any) -> Any:
            return vector if value is vector or value == vector else None

        return typer

    @lower_builtin(function, VectorType)
    def lowered(context: Any, builder: Any, signature: Any, arguments: Any) -> Any:
        return build(builder, arguments[0])


def _floating(name: str) -> Callable[..., Any]:
    return lambda builder, left, right: getattr(builder, name)(left, right, flags=FLAGS)


def _compared(sign: str) -> Callable[..., Any]:
    return lambda builder, left, right: builder.fcmp_ordered(sign, left, right)


def _llvm(name: str) -> Callable[..., Any]:
    def build(builder: Any, *values: Any) -> Any:
        kind = ir.FunctionType(VECTOR, [VECTOR] * len(values))
        known = cgutils.get_or_insert_function(builder.module, kind, f"llvm.{name}.v{WIDTH}f64")
        return builder.call(known, values)

    return build


def _every(value: float) -> Any:
    """A constant in every lane."""
    return ir.Constant(VECTOR, [value] * WIDTH)


def _series(builder: Any, at: Any, factors: list[float]) -> Any:
    """Sum of factors x powers of `at`, the highest first, by Horner's rule."""
    total = _every(factors[0])
    for factor in factors[1:]:
        product = builder.fmul(total, at, flags=FLAGS)
        total = builder.fadd(product, _every(factor), flags=FLAGS)
    return total


def _power(builder: Any, base: Any, exponent: Any) -> Any:
    """base >= 0 to an exponent, as exp(exponent x log base), in all lanes at once.

    base = m 2^e with m from 0.7 to 1.4; log m = 2 artanh((m - 1)/(m + 1)) and exp by their power
    series, cut where the rest is below 1e-17. Bases below 1e-300 count as that.
    """
    whole = ir.VectorType(ir.IntType(64), WIDTH)

    def every(number: int) -> Any:
        return ir.Constant(whole, [number] * WIDTH)

    least = builder.fcmp_ordered(">", base, _every(1e-300))
    bits = builder.bitcast(builder.select(least, base, _every(1e-300)), whole)
    # Subtracting the bits of 0.7071 brings the mantissa to 0.7071 to 1.4142 with its own exponent.
    above = builder.sub(bits, every(0x3FE6A09E667F3BCD))
    power = builder.ashr(above, every(52))
    mantissa = builder.bitcast(builder.sub(bits, builder.shl(power, every(52))), VECTOR)
    f = builder.fdiv(builder.fsub(mantissa, _every(1.0)), builder.fadd(mantissa, _every(1.0)))
    log = _series(builder, builder.fmul(f, f), [2.0 / n for n in range(23, 0, -2)])
    log = builder.fadd(
        builder.fmul(log, f), builder.fmul(builder.sitofp(power, VECTOR), _every(math.log(2.0)))
    )
    total = builder.fmul(exponent, log)
    total = _chosen(">")(builder, total, _every(-700.0))
    twos = _llvm("rint")(builder, builder.fmul(total, _every(1.0 / math.log(2.0))))
    rest = builder.fsub(total, builder.fmul(twos, _every(math.log(2.0))))
    grown = _series(builder, rest, [1.0 / math.factorial(n) for n in range(14, -1, -1)])
    scale = builder.shl(builder.add(builder.fptosi(twos, whole), every(1023)), every(52))
    return builder.fmul(grown, builder.bitcast(scale, VECTOR))


def _chosen(sign: str) -> Callable[..., Any]:
    def build(builder: Any, left: Any, right: Any) -> Any:
        return builder.select(builder.fcmp_ordered(sign, left, right), left, right)

    return build


for _operator, _in_place, _name in (
    (operator.add, operator.iadd, "fadd"),
    (operator.sub, operator.isub, "fsub"),
    (operator.mul, operator.imul, "fmul"),
    (operator.truediv, operator.itruediv, "fdiv"),
):
    _binary(_operator, vector, _floating(_name))
    _binary(_in_place, vector, _floating(_name))
for _operator, _sign in (
    (operator.lt, "<"),
    (operator.le, "<="),
    (operator.gt, ">"),
    (operator.ge, ">="),
    (operator.eq, "=="),
    (operator.ne, "!="),
):
    _binary(_operator, truths, _compared(_sign))
_binary(operator.pow, vector, _power)
_binary(max, vector, _chosen(">"))
_binary(min, vector, _chosen("<"))
_unary(operator.neg, lambda builder, value: builder.fneg(value))
_unary(abs, _llvm("fabs"))
_unary(sqrt, _llvm("sqrt"))
_unary(floor, _llvm("floor"))


@type_callable(operator.or_)
def _either(context: Any) -> Any:
    def typer(left: Any, right: Any) -> Any:
        return truths if left == truths and right == truths else None

    return typer


@lower_builtin(operator.or_, TruthsType, TruthsType)
def _either_lowered(context: Any, builder: Any, signature: Any, arguments: Any) -> Any:
    return builder.or_(*arguments)


@intrinsic
def _select(context: Any, condition: Any, yes: Any, no: Any) -> Any:
    def build(context: Any, builder: Any, signature: Any, arguments: Any) -> Any:
        _, first, second = signature.args
        return builder.select(
            arguments[0],
            context.cast(builder, arguments[1], first, vector),
            context.cast(builder, arguments[2], second, vector),
        )

    return vector(condition, yes, no), build


@intrinsic
def _some(context: Any, condition: Any) -> Any:
    def build(context: Any, builder: Any, signature: Any, arguments: Any) -> Any:
        bits = builder.bitcast(arguments[0], ir.IntType(WIDTH))
        return builder.icmp_unsigned("!=", bits, ir.Constant(ir.IntType(WIDTH), 0))

    return types.boolean(condition), build


def _places(context: Any, builder: Any, signature: Any, arguments: Any) -> list[Any]:
    """Pointers to the number of each lane at `place` of a row; lanes may lie anywhere apart."""
    rows = context.make_array(signature.args[0])(context, builder, arguments[0])
    index = context.cast(builder, arguments[1], signature.args[1], types.intp)
    down, along = cgutils.unpack_tuple(builder, rows.strides, 2)
    start = builder.add(builder.ptrtoint(rows.data, index.type), builder.mul(index, down))
    return [
        builder.inttoptr(
            builder.add(start, builder.mul(along, ir.Constant(index.type, lane))), rows.data.type
        )
        for lane in range(WIDTH)
    ]


def _side_by_side(context: Any, builder: Any, signature: Any, arguments: Any) -> Any:
    """Pointer to the vector at `place` of a row whose lanes lie side by side; else None."""
    if signature.args[0].layout != "C":
        return None
    first = _places(context, builder, signature, arguments)[0]
    return builder.bitcast(first, VECTOR.as_pointer())


@intrinsic
def _load(context: Any, rows: Any, place: Any) -> Any:
    def build(context: Any, builder: Any, signature: Any, arguments: Any) -> Any:
        pointer = _side_by_side(context, builder, signature, arguments)
        if pointer is not None:
            return builder.load(pointer, align=8)
        found = ir.Constant(VECTOR, ir.Undefined)
        for lane, place in enumerate(_places(context, builder, signature, arguments)):
            found = builder.insert_element(found, builder.load(place), lane_number(lane))
        return found

    return vector(rows, place), build


@intrinsic
def _store(context: Any, rows: Any, place: Any, value: Any) -> Any:
    def build(context: Any, builder: Any, signature: Any, arguments: Any) -> Any:
        given = context.cast(builder, arguments[2], signature.args[2], vector)
        pointer = _side_by_side(context, builder, signature, arguments)
        if pointer is not None:
            builder.store(given, pointer, align=8)
        else:
            for lane, place in enumerate(_places(context, builder, signature, arguments)):
                builder.store(builder.extract_element(given, lane_number(lane)), place)
        return context.get_dummy_value()

    return types.none(rows, place, value), build


@intrinsic
def _gather(context: Any, table: Any, row: Any) -> Any:
    def build(context: Any, builder: Any, signature: Any, arguments: Any) -> Any:
        data = context.make_array(signature.args[0])(context, builder, arguments[0]).data
        rows = builder.fptosi(arguments[1], ir.VectorType(ir.IntType(64), WIDTH))
        found = ir.Constant(VECTOR, ir.Undefined)
        for lane in range(WIDTH):
            entry = builder.load(
                builder.gep(data, [builder.extract_element(rows, lane_number(lane))])
            )
            found = builder.insert_element(found, entry, lane_number(lane))
        return found

    return vector(table, row), build


def _means(function: Any) -> Any:
    """Give a function of `lanes` what is returned here as its meaning, by the types it is given."""
    return extending.overload(function, strict=False)


@_means(where)
def _where(condition: Any, yes: Any, no: Any) -> Any:
    if condition == truths:
        return lambda condition, yes, no: _select(condition, yes, no)
    return lambda condition, yes, no: yes if condition else no


@_means(in_any)
def _in_any(condition: Any) -> Any:
    if condition == truths:
        return lambda condition: _some(condition)
    return lambda condition: condition


@_means(take)
def _take(values: Any, place: Any) -> Any:
    if values.ndim == 2:
        return lambda values, place: _load(values, place)
    return lambda values, place: values[place]


@_means(put)
def _put(values: Any, place: Any, value: Any) -> Any:
    if values.ndim == 2:
        return lambda values, place, value: _store(values, place, value)

    def plain(values: Any, place: Any, value: Any) -> None:
        values[place] = value

    return plain


@_means(look_up)
def _look_up(table: Any, row: Any) -> Any:
    if row == vector:
        return lambda table, row: _gather(table, row)
    return lambda table, row: table[int(row)]
