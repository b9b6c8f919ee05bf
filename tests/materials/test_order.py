"""Orders: what is at hand is used first, prices are the user's where given, nothing is lost."""

import pytest

from hoopwright.design import design_of
from hoopwright.materials.order import AtHand, order_of
from hoopwright.materials.parts import CountedPart, Parts
from hoopwright.plan import read_plan, read_plan_text

BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'


def test_stock_at_hand_is_used_and_costs_nothing():
    bare = design_of(read_plan_text(BED)).order
    rich = design_of(
        read_plan_text(
            BED
            + '[[stock]]\nitem = "pvc40-1/2"\nlength = "10 ft"\ncount = 3\n'
            + '[[stock]]\nitem = "strap-ips-1/2"\ncount = 20\n'
            + '[[stock]]\nitem = "film-6mil-uv4"\nwidth = "10 ft"\nlength = "25 ft"\n'
        )
    ).order
    assert rich.total < bare.total
    pipes = [line for line in rich.lines if line.thing == "pvc40-1/2"]
    assert sum(line.from_hand for line in pipes) == 3
    assert sum(line.buy for line in pipes) == 4
    film = [line for line in rich.lines if line.thing == "film-6mil-uv4"]
    assert sum(line.buy for line in film) == 0
    straps = [line for line in rich.lines if line.thing == "strap-ips-1/2"]
    assert sum(line.buy * line.contents for line in straps) >= 8
    assert straps[0].from_hand == 20


def test_a_standing_box_buys_no_boards():
    new = design_of(read_plan_text(BED)).order
    standing = design_of(read_plan_text(BED + 'box = "standing"')).order
    assert any(line.thing == "2x12" for line in new.lines)
    assert not any(line.thing == "2x12" for line in standing.lines)


def test_a_long_bed_has_its_sides_joined_with_plates():
    design = design_of(read_plan_text('[bed]\nlength = "24 ft"\nwidth = "4 ft"'))
    names = [piece.name for part in design.parts.cut for piece in part.pieces]
    assert names.count("side board") == 4
    assert names.count("joint plate") == 2
    assert not design.order.unmet


def test_own_prices_replace_the_example_ones(tmp_path):
    (tmp_path / "my-store.csv").write_text(
        "thing,sold as,length [ft],price [USD],date,source\n"
        "pvc40-1/2,stick,10,0.25,2026-11,my store\n"
    )
    plan = tmp_path / "bed.toml"
    plan.write_text('prices = "my-store.csv"\n' + BED)
    lines = design_of(read_plan(plan)).order.lines
    assert [line.price for line in lines if line.thing == "pvc40-1/2"] == [0.25]


def test_every_priced_line_multiplies_out():
    order = design_of(read_plan_text(BED)).order
    assert order.example_prices
    assert order.price_date
    for line in order.lines:
        assert line.total == pytest.approx(line.buy * (line.price or 0.0))
    assert order.unpriced == ()


def test_two_uses_of_one_thing_share_packs_and_what_is_at_hand():
    catalogue = read_plan_text("").catalogue
    thing = next(price.thing for price in catalogue.prices if price.sold_as == "pack")
    two = (CountedPart(thing, 20, "to fix one"), CountedPart(thing, 15, "to fix another"))
    order = order_of(Parts((), (), two), catalogue, [AtHand(thing, 18)])
    assert sum(line.from_hand for line in order.lines) == 18
    assert sum(line.buy * line.contents for line in order.lines) >= 35 - 18
    once = order_of(Parts((), (), (CountedPart(thing, 17, "both"),)), catalogue, [])
    assert order.total == pytest.approx(once.total)


@pytest.mark.parametrize(
    ("ways", "ties", "clips", "hooks"),
    [
        ("", 14, 0, 14),  # 7 hoops, two rails; tied is the default
        ('[cover]\nroll_up = "one"', 7, 0, 7),
        ('[cover]\nroll_up = "none"', 0, 0, 0),
        ('[holding]\nrail = "weight"', 0, 0, 0),
        ('[holding]\nrail = "clipped"', 0, 14, 14),
        # 4 braces; 4 bays between the 5 hoops of the body, a screw at either end of a lacing
        ('[hoops]\nridge = "pipe"\nbrace = true\n[cover]\nlacing = true', 14, 0, 14 + 4 + 8),
    ],
)
def test_what_holds_the_rails_is_counted_bought_and_priced(ways, ties, clips, hooks):
    """By hand: a tie is twice round a 1.05 in rail and a foot for the knot, 18.6 in."""
    design = design_of(read_plan_text(BED + ways))
    assert len(design.hoops) == 7
    pieces = [piece for part in design.parts.cut for piece in part.pieces]
    loops = [piece.length for piece in pieces if piece.name.startswith("rail tie")]
    assert loops == pytest.approx(ties * [(2 * 3.14159 * 1.05 + 12) * 0.0254], rel=1e-4)
    counted = [part for part in design.parts.counted if part.use.startswith("hold the ")]
    assert sum(p.count for p in counted if p.thing == "clip-rail-large") == clips
    screw = design.fitted.hook_screw
    hung = ("hold the rails", "hold the braces", "hold the lacing")
    assert sum(p.count for p in counted if p.thing == screw.key and p.use in hung) == hooks
    assert not design.order.unpriced
    bought = {line.thing: line for line in design.order.lines}
    if clips:
        assert bought["clip-rail-large"].buy * bought["clip-rail-large"].contents >= clips
    if ties:
        assert bought["cord-polyester-1/8"].needed >= ties
    assert bought[screw.key].needed == 2 * 2 * 14 + hooks
