"""Words on pages put in reading order: lines, columns, tables of amounts, cards that lie askew."""

from __future__ import annotations

from math import cos, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter.intake.columns import Box, Sheet, arranged, straight

SHEET = Sheet(600, 800)


def line(text: str, x: float, y: float, page: int = 1) -> list[Box]:
    """Words of a line, ten points high, six points a letter."""
    boxes = []
    for word in text.split():
        boxes.append(Box(word, x, y, x + 6 * len(word), y + 10, page))
        x += 6 * (len(word) + 1)
    return boxes


def column(lines: list[str], x: float, y: float = 100, step: float = 14) -> list[Box]:
    return [box for at, text in enumerate(lines) for box in line(text, x, y + step * at)]


def turned(box: Box, sheet: Sheet) -> Box:
    """The hull of a box turned clockwise about the middle of its page, by plain geometry."""
    turn = radians(sheet.skew)
    points = []
    for x, y in ((box.x0, box.y0), (box.x1, box.y0), (box.x0, box.y1), (box.x1, box.y1)):
        x, y = x - sheet.width / 2, y - sheet.height / 2
        points.append((x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn)))
    xs, ys = [x + sheet.width / 2 for x, _ in points], [y + sheet.height / 2 for _, y in points]
    return Box(box.text, min(xs), min(ys), max(xs), max(ys), box.page)


LEFT = ["Ingredients", "2 cups plain flour", "1 cup brown sugar", "3 large eggs", "1/2 cup sour milk"]
RIGHT = ["Method", "Heat the oven to 350 F.", "Beat the sugar and eggs.", "Add the flour and milk.", "Bake one hour."]


def test_two_columns_are_read_one_after_the_other() -> None:
    text, _ = arranged(column(LEFT, 40) + column(RIGHT, 300), {1: SHEET})
    assert text == "\n".join(LEFT) + "\n\n" + "\n".join(RIGHT)


def test_columns_need_not_have_the_same_lines() -> None:
    text, _ = arranged(column(LEFT, 40) + column(RIGHT, 300, 107, 12.5), {1: SHEET})
    assert text == "\n".join(LEFT) + "\n\n" + "\n".join(RIGHT)


def test_a_title_over_both_columns_comes_first_and_a_line_under_both_last() -> None:
    boxes = line("Teague Loaf from the school fair at Cinder Pass", 120, 60) + column(LEFT, 40) + column(RIGHT, 300)
    boxes += line("Keeps for a week in a tin with a lid, if it is let.", 120, 190)
    lines = arranged(boxes, {1: SHEET})[0].split("\n")
    assert lines[0].startswith("Teague Loaf")
    assert lines[-1].startswith("Keeps for a week")
    assert lines.index("Method") > lines.index("1/2 cup sour milk")


def test_amounts_in_a_column_of_their_own_stay_with_their_names() -> None:
    amounts, names = ["2 cups", "1 cup", "3", "1/2 tsp", "2 Tbsp"], ["flour", "sugar", "eggs", "salt", "warm milk"]
    text, _ = arranged(column(amounts, 40) + column(names, 200), {1: SHEET})
    assert text == "\n".join(f"{amount} {name}" for amount, name in zip(amounts, names, strict=True))


def test_room_between_lines_is_a_blank_line() -> None:
    text, _ = arranged(
        column(["2 cups flour", "1 cup sugar"], 40) + column(["Bake it.", "Cool it."], 40, 145), {1: SHEET}
    )
    assert text == "2 cups flour\n1 cup sugar\n\nBake it.\nCool it."


def test_words_come_in_any_order() -> None:
    boxes = column(LEFT, 40)
    assert arranged(boxes[::-1], {1: SHEET}) == arranged(boxes, {1: SHEET})


def test_pages_follow_each_other_and_offsets_count_through() -> None:
    boxes = line("2 cups flour", 40, 40, 1) + line("1 cup milk", 40, 40, 2)
    text, pages = arranged(boxes, {1: SHEET, 2: SHEET})
    assert text == "2 cups flour\n\n1 cup milk"
    assert [(page.number, [text[word.start : word.end] for word in page.words]) for page in pages] == [
        (1, ["2", "cups", "flour"]),
        (2, ["1", "cup", "milk"]),
    ]


def test_a_page_without_words_is_still_a_page() -> None:
    text, pages = arranged(line("1 cup milk", 40, 40, 2), {1: SHEET, 2: SHEET})
    assert (text, [len(page.words) for page in pages]) == ("1 cup milk", [0, 3])


def test_a_glued_word_has_no_space_before_it() -> None:
    boxes = [Box("350", 10, 10, 30, 20, 1), Box("°F", 30, 10, 40, 20, 1, glued=True)]
    assert arranged(boxes, {1: SHEET})[0] == "350°F"


@pytest.mark.parametrize("skew", [-12.0, -4.0, 2.3, 8.0])
def test_a_card_that_lies_askew_is_read_as_if_it_lay_straight(skew: float) -> None:
    sheet = Sheet(600, 800, skew)
    boxes = [turned(box, sheet) for box in column(LEFT, 40) + column(RIGHT, 300)]
    text, pages = arranged(boxes, {1: sheet})
    assert text == "\n".join(LEFT) + "\n\n" + "\n".join(RIGHT)
    assert pages[0].skew == skew


@given(
    st.floats(-10, 10), st.floats(0, 500), st.floats(0, 700), st.floats(8, 60), st.floats(8, 20),
)  # fmt: skip
def test_a_box_is_set_straight_again(skew: float, x: float, y: float, wide: float, high: float) -> None:
    sheet = Sheet(600, 800, skew)
    box = Box("word", x, y, x + wide, y + high, 1)
    again = straight(turned(box, sheet), sheet)
    assert (again.x0, again.y0, again.x1, again.y1) == pytest.approx((box.x0, box.y0, box.x1, box.y1), abs=1e-6)


@given(
    st.lists(st.tuples(st.integers(0, 50), st.integers(0, 60), st.text("ab1½", min_size=1, max_size=6)), max_size=40)
)
def test_every_word_is_kept_once_with_its_own_offsets(found: list[tuple[int, int, str]]) -> None:
    boxes = [Box(text, 10.0 * x, 12.0 * y, 10.0 * x + 6 * len(text), 12.0 * y + 10, 1) for x, y, text in found]
    text, pages = arranged(boxes, {1: SHEET})
    assert sorted(word.text for word in pages[0].words) == sorted(box.text for box in boxes)
    assert all(text[word.start : word.end] == word.text for word in pages[0].words)
    assert text.split() == [word.text for word in pages[0].words]
