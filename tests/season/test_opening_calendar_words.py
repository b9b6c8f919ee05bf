"""What the opening calendar says of half months that are run alike."""

from types import SimpleNamespace

from hoopwright.answers.season_words import calendar
from hoopwright.season.opening import HalfMonth
from hoopwright.season.opening_options import Opening
from hoopwright.units import METRIC

TOO_HOT = "Open by day, shut at night; shut all day {} % of days are too hot."


def half(month: int, number: int, way: Opening, sentence: str) -> HalfMonth:
    return HalfMonth(month, number, way, False, 0.0, 0.0, 0.0, 0.0, sentence)


def test_half_months_alike_stand_together_with_the_span_of_their_shares() -> None:
    """1 May to 15 June: 16, 45 and 58 % of days too hot when shut, opened alike, are one line."""
    by_day = Opening("days", 0.1)
    halves = [
        half(5, 1, by_day, TOO_HOT.format(16)),
        half(5, 2, by_day, TOO_HOT.format(45)),
        half(6, 1, by_day, TOO_HOT.format(58)),
        half(6, 2, Opening("closed"), "Keep it shut."),
    ]
    report = SimpleNamespace(calendar=halves, allowed_height=1.0, marked=str)
    spring, summer = calendar(report, METRIC).rows
    assert (spring.label, summer.label) == ("1 May to 15 June", "16 June to 30 June")
    assert spring.cells[1] == "Shut all day 16 to 58 % of days are too hot."
    assert summer.cells[1] == ""


def test_a_cover_whose_sides_do_not_roll_up_is_not_told_to_open() -> None:
    halves = [half(5, 1, Opening("closed"), "Keep it shut.")]
    report = SimpleNamespace(calendar=halves, allowed_height=0.0, marked=str)
    note = calendar(report, METRIC).note
    assert "No side of this cover rolls up" in note
    assert "Never wider" not in note
