"""Facts of a whole recipe, and numbers that are no amounts (common practice, no source, unless said otherwise)."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rewriter.reading.facts import find_facts, not_amount_spans

TOLD = [
    # Headspace, two-piece lids, processing in a canner: words of the USDA Complete Guide to Home Canning (from memory).
    ("canning", "Ladle into hot jars, leaving 1/2-inch headspace."),
    ("canning", "Process 10 minutes in a boiling-water canner."),
    ("canning", "Process pints 85 minutes in a pressure canner at 10 pounds."),
    ("canning", "Pour into sterilized jars and seal."),
    ("canning", "Wipe the rims, put on two-piece lids and process for 15 minutes."),
    ("canning", "Fill the jars, add lids and rings."),
    ("canning", "Pour into glasses and cover with paraffin."),
    ("canning", "Put up in fruit jars and seal while hot."),
    ("sealed-jar-cake", "Pour the cake batter into greased pint jars. Bake 40 minutes. Put on lids while hot."),
    ("loaf-pan", "Scrape into a 9x5-inch loaf pan."),
    ("loaf-pan", "Line a 900g loaf tin."),
    ("loaf-pan", "Put into two bread pans."),
    ("tube-pan", "Spoon into an ungreased tube pan."),
    ("tube-pan", "Butter a 12-cup Bundt pan."),
    ("muffin-pan", "Line a muffin tin."),
    ("muffin-pan", "Fill cupcake liners two-thirds full."),
    ("muffin-pan", "Bake in gem pans."),
    ("sheet-pan", "Spread in a half sheet pan."),
    ("sheet-pan", "Line a jelly-roll pan."),
    ("hot-syrup", "Boil to the soft-ball stage."),
    ("hot-syrup", "Cook until it spins a thread."),
    ("hot-syrup", "Pour the hot syrup over the whites."),
    ("deep-fat", "Deep-fry until brown."),
    ("deep-fat", "Fry in deep hot fat."),
    ("deep-fat", "Heat 3 inches of oil in a pot."),
    ("machine", "Put everything in the bread machine on the dough cycle."),
    ("machine", "Cook on high in the slow cooker for 2 hours."),
    ("machine", "Set the air fryer to 320."),
    ("machine", "Microwave for 90 seconds, until the cake has risen."),
    ("gluten-free", "2 cups gluten-free flour"),
    ("egg-substitute", "2 flax eggs"),
    ("egg-substitute", "1/4 cup aquafaba"),
    ("sugar-substitute", "1/2 cup erythritol"),
    ("sugar-substitute", "3/4 cup sugar substitute"),
    ("vegan", "Vegan Banana Muffins"),
    ("rolled-dough", "Roll out 1/4 inch thick."),
    ("rolled-dough", "Roll the dough on a floured board."),
    ("rolled-dough", "Pat the dough out and cut rounds."),
    ("dropped-dough", "Drop by teaspoonfuls onto a sheet."),
    ("dropped-dough", "Scoop the dough, 2 inches apart."),
    ("pourable", "Pour the batter into the pan."),
    ("pourable", "Pour into two greased 8-inch pans."),
    ("stiff-dough", "Add flour to make a stiff dough."),
    ("stiff-dough", "Flour enough to roll out."),
    ("whipped-whites", "Beat the egg whites to stiff peaks and fold in."),
    ("whipped-whites", "Add the whites of three eggs, beaten stiff."),
    ("creamed", "Cream the butter and sugar."),
    ("creamed", "Cream one cup of butter with two of sugar."),
    ("creamed", "Beat the butter and brown sugar together."),
    ("knead", "Knead ten minutes."),
    ("no-bake", "No-Bake Oat Squares"),
    ("mix-box", "1 box yellow cake mix"),
    ("water-bath", "Bake in a water bath."),
    ("water-bath", "Set the dish in a pan of hot water."),
    ("steamed", "Steam the pudding for two hours."),
    ("long-rise", "Cover the dough and let it rise overnight; it needs only a pinch of yeast."),
    ("long-rise", "Mix the yeast in; leave the sponge 12 hours."),
    ("raw-egg", "Whisk 2 eggs with sugar, fold into the cream and chill."),
    ("raw-egg", "The eggs are not cooked."),
]


@pytest.mark.parametrize(("kind", "text"), TOLD)
def test_told(kind: str, text: str) -> None:
    found = {fact.kind: fact for fact in find_facts(text)}
    assert kind in found
    assert text[found[kind].start : found[kind].end] == found[kind].text != ""


NOT_TOLD = [
    ("canning", "Serve with a jar of jam."),
    ("canning", "Serve in mason jars with a straw."),
    ("canning", "Store in a jar with a tight lid in the fridge."),
    ("canning", "Pour into freezer containers, leaving 1/2 inch headspace for freezing."),
    ("canning", "Pulse in a food processor for 2 minutes. Add one jar of salsa."),
    ("canning", "Seal the edges with a fork. Spread with a jar of jam."),
    ("canning", "1 tsp canning salt"),
    ("canning", "Put the oats in a jar, close the lid and shake. Refrigerate."),
    ("canning", "Keep your starter in a jar, lid loose."),
    ("sealed-jar-cake", "Bake the cake and serve with jam from jars."),
    ("hot-syrup", "Drizzle with maple syrup."),
    ("hot-syrup", "1 cup corn syrup"),
    ("deep-fat", "Heat the air fryer."),
    ("deep-fat", "Brush with oil."),
    ("machine", "2 tsp bread machine yeast"),
    ("machine", "You do not need a bread machine."),
    ("machine", "Microwave the butter for 30 seconds until melted."),
    ("machine", "Melt the chocolate in the microwave for 1 minute."),
    ("machine", "Keep warm in the slow cooker."),
    ("gluten-free", "To make it gluten-free, use another flour."),
    ("gluten-free", "oats (gluten-free if needed)"),
    ("egg-substitute", "1 tbsp flax seeds to sprinkle"),
    ("vegan", "Not vegan, sorry."),
    ("vegan", "1 cup vegan butter"),
    ("vegan", "Vegan option: use oat milk."),
    ("rolled-dough", "1 cup rolled oats"),
    ("rolled-dough", "Roll into balls."),
    ("dropped-dough", "Add 3 drops of almond essence."),
    ("dropped-dough", "Let the temperature drop by 10 degrees."),
    ("pourable", "Pour the glaze over the cake."),
    ("pourable", "Pour in the milk."),
    ("stiff-dough", "Beat until stiff."),
    ("whipped-whites", "Whip the heavy cream to soft peaks."),
    ("creamed", "8 oz cream cheese and butter"),
    ("creamed", "1 cup sour cream, butter"),
    ("creamed", "Serve with ice cream, butter and sugar."),
    ("knead", "No-knead bread"),
    ("knead", "Do not knead."),
    ("mix-box", "Spread the cake mixture evenly."),
    ("mix-box", "Fold the brownie mix together."),
    ("water-bath", "Melt the chocolate in a water bath."),
    ("water-bath", "Process in a water bath canner."),
    ("steamed", "Add the steamed milk."),
    ("long-rise", "Chill the cake overnight. No yeast here."),
    ("long-rise", "1 tsp yeast. Let rise 1 hour."),
    ("raw-egg", "Whisk 2 eggs into the batter and bake."),
    ("sheet-pan", "Put the cookies on a baking sheet."),
    ("loaf-pan", "Shape into a loaf."),
    ("muffin-pan", "Serve the muffins."),
]


@pytest.mark.parametrize(("kind", "text"), NOT_TOLD)
def test_not_told(kind: str, text: str) -> None:
    assert kind not in {fact.kind for fact in find_facts(text)}


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("Put it in the bread machine.", "bread machine"),
        ("Cook 20 minutes in an electric pressure cooker.", "electric pressure cooker"),
        ("Cook in the crock pot.", "slow cooker"),
        ("Air fry for 8 minutes.", "air fryer"),
        ("Cinnamon mug cake", "microwave"),
    ],
)
def test_which_machine(text: str, value: str) -> None:
    assert [fact.value for fact in find_facts(text) if fact.kind == "machine"] == [value]


VERSIONS = [
    ("Ninebark loaf, our 7,000 ft version", "7,000 ft"),
    ("This cake is adjusted for 6,500 feet.", "6,500 feet"),
    ("All amounts are for 8,200 ft.", "8,200 ft"),
    ("We developed this recipe at 5,280 feet.", "5,280 feet"),
    ("Written for 2,000 metres.", "2,000 metres"),
    ("Elevation: 7,200 ft\n2 cups flour", "7,200 ft"),
    ("High-Altitude Chocolate Cake\n\n2 cups flour", ""),
    ("Mile-High Sponge Cake\n\n2 cups flour", ""),
    ("This recipe is adjusted for high altitude.", ""),
]


@pytest.mark.parametrize(("text", "value"), VERSIONS)
def test_amounts_for_an_altitude_already(text: str, value: str) -> None:
    facts = [fact for fact in find_facts(text) if fact.kind.startswith("altitude")]
    assert [(fact.kind, fact.value) for fact in facts] == [("altitude-version", value)]


NOTES = [
    ("Cool. High altitude: add 2 Tbsp flour. Bake at 375. Serve.", "High altitude: add 2 Tbsp flour. Bake at 375."),
    ("Bake. If you live above 5,000 feet, reduce the sugar by 1 tablespoon.",
     "If you live above 5,000 feet, reduce the sugar by 1 tablespoon."),
    ("HIGH ALTITUDE (3,500 to 6,500 ft): Increase flour to 2 cups.\nEnjoy.",
     "HIGH ALTITUDE (3,500 to 6,500 ft): Increase flour to 2 cups."),
    ("Enjoy.\n\nHigh-Altitude Directions\nAdd 2 Tbsp flour.\nBake 5 minutes longer.\n\nMore bread",
     "High-Altitude Directions\nAdd 2 Tbsp flour.\nBake 5 minutes longer."),
    ("At high altitudes use less yeast.", "At high altitudes use less yeast."),
    ("No change needed. High altitude: no change.", "High altitude: no change."),
]  # fmt: skip


@pytest.mark.parametrize(("text", "advice"), NOTES)
def test_advice_for_altitude(text: str, advice: str) -> None:
    facts = [fact for fact in find_facts(text) if fact.kind.startswith("altitude")]
    assert [(fact.kind, fact.text) for fact in facts] == [("altitude-note", advice)]
    assert all(text[fact.start : fact.end] == fact.text for fact in facts)


@pytest.mark.parametrize(
    "text",
    [
        "I live at 5,000 feet and the loaf rose well.",
        "So good while they baked! I live at 5,000 feet though and the loaf fell.",
        "2 tsp baking powder (see notes for high altitude adjustment)",
        "Mile-high enthusiasm for cake.",
        "Wash your feet. 2 ft of dough.",
        "The elevation of the shelf does not matter.",
    ],
)
def test_altitude_only_mentioned(text: str) -> None:
    assert not [fact for fact in find_facts(text) if fact.kind.startswith("altitude")]


NO_AMOUNTS = [
    ("Bake in a 9x13 pan.", ["9x13"]),
    ("a 9 × 5-inch loaf pan", ["9 × 5-inch"]),
    ("an 8-inch square pan", ["8-inch"]),
    ("a 23 cm tin", ["23 cm"]),
    ("an 8-by-8-inch pan", ["8-by-8-inch"]),
    ("an 8 x 8 x 2 inch pan", ["8 x 8 x 2 inch"]),
    ("Cut in 2-inch pieces.", ["2-inch"]),
    ('Roll 1/4" thick.', ['1/4"']),
    ("Roll ½ inch thick.", ["½ inch"]),
    ("two-inch squares", ["two-inch"]),
    ("a 12-cup Bundt pan", ["12-cup Bundt pan"]),
    ("a 2-quart baking dish", ["2-quart baking dish"]),
    ("Grandmother's card, 1954", ["1954"]),
    ("It costs $3.99 or £2.", ["$3.99", "£2"]),
    ("Makes 24", ["Makes 24"]),
    ("Makes about 3 dozen cookies.", ["Makes about 3 dozen cookies"]),
    ("Serves 4-6", ["Serves 4-6"]),
    ("Yields 2 loaves", ["Yields 2 loaves"]),
    ("Yield: 12 muffins", ["Yield: 12 muffins"]),
    ("12 servings", ["12 servings"]),
    ("Calories: 408 kcal", ["Calories: 408 kcal"]),
    ("Calories 300, Protein 5 g, Sugar: 25 g", ["Calories 300", "Protein 5 g", "Sugar: 25 g"]),
    ("4.8 from 312 votes", ["312 votes"]),
    ("72% chocolate", ["72%"]),
    ("Call 555-010-1234", ["555-010-1234"]),
    ("Posted June 12, 2019", ["12, 2019"]),
    ("1. Mix.\n2. Bake.", ["1.", "2."]),
    ("Step 2: mix", ["Step 2:"]),
    ("Bake at 350°F (180°C) for 30 minutes.", ["350°F", "180°C", "30 minutes"]),
    ("see page 34", ["34"]),
]


@pytest.mark.parametrize(("text", "spans"), NO_AMOUNTS)
def test_numbers_that_are_no_amounts(text: str, spans: list[str]) -> None:
    found = [text[start:end] for start, end in not_amount_spans(text)]
    assert all(any(span in other for other in found) for span in spans), found


AMOUNTS = [
    "2 cups flour",
    "1 1/2 tsp salt",
    "Sugar: 200 g",
    "Salt 20 g",
    "2 x 400g tins tomatoes",
    "1 (14-oz) can milk",
    "1 cup pan juices",
    "2000 g flour",
    "2 lb 4 oz butter",
    "400g tin chopped tomatoes",
    "1 8-oz package cream cheese",
    "flour, 2 cups",
    "500 g pot yogurt",
    "1. 2 cups flour",
    "makes it rich: 2 eggs",
    "Fat 100 g",
    "3 eggs",
]


@pytest.mark.parametrize("text", AMOUNTS)
def test_amounts_are_left_to_be_read(text: str) -> None:
    found = [text[start:end] for start, end in not_amount_spans(text)]
    assert found == (["1."] if text.startswith("1. ") else [])


def test_offsets_count_from_the_whole_text() -> None:
    text = "Vegan day.\nKnead the dough."
    (fact,) = find_facts(text, 11)
    assert (text[fact.start : fact.end], fact.kind) == ("Knead", "knead")


@given(st.text(alphabet='seal jarscreamptouhigh altiude7,000f.\n-%$12x9"İ', max_size=160))
def test_never_raises_and_spans_hold(text: str) -> None:
    assert all(text[fact.start : fact.end] == fact.text for fact in find_facts(text))
    spans = not_amount_spans(text)
    assert all(0 <= start < end <= len(text) for start, end in spans)
    assert all(a[1] <= b[0] for a, b in itertools.pairwise(spans))
