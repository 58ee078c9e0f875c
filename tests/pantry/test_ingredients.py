"""The ingredient tables: every row sound, no phrase claimed twice, names under the role bakers give them."""

from __future__ import annotations

import tomllib

import pytest

from rewriter import pantry
from rewriter.pantry import shelf
from rewriter.pantry.entry import from_row

ENTRIES = list(pantry.entries().values())
ROLES = "flour starch sugar syrup liquid thick-liquid leavener self-rising yeast egg fat salt cocoa other".split()
WEIGHED = "flour starch sugar syrup liquid thick-liquid leavener self-rising egg fat cocoa salt".split()
POURS = {"plain", "acid", "alcohol", "juice", "cream", "coffee", "savoury", "never"}


def test_the_pantry_is_well_stocked() -> None:
    assert len(ENTRIES) >= 600
    assert len(pantry.phrases()) >= 1500


def test_no_phrase_is_claimed_by_two_entries() -> None:
    claimed: dict[str, set[str]] = {}
    for row in ENTRIES:
        for name in (*row.names, *row.plurals):
            claimed.setdefault(name, set()).add(row.key)
    assert {name: keys for name, keys in claimed.items() if len(keys) > 1} == {}
    phrases = [phrase for phrase, _ in pantry.phrases()]
    assert len(set(phrases)) == len(phrases)


@pytest.mark.parametrize("row", ENTRIES, ids=lambda row: row.key)
def test_a_row_is_sound(row: pantry.Entry) -> None:
    assert row.role in ROLES
    assert row.role_outside in ("", *ROLES)
    assert all(name == name.lower().strip() and name and "  " not in name for name in (*row.names, *row.plurals))
    assert len(set(row.names)) == len(row.names)
    assert 0 <= row.water + row.sugar + row.fat <= 1.0001
    weights = [row.cup_g, row.tbsp_g, row.tsp_g, row.piece_g, *row.sizes.values()]
    assert all(weight is None or weight > 0 for weight in weights)
    assert row.source
    assert (row.source == "no weight listed") == (not any(weights))
    assert row.acidic or not row.acid
    if row.cup_g_range:
        low, high = row.cup_g_range
        assert row.cup_g is not None
        assert low <= row.cup_g <= high


@pytest.mark.parametrize("row", [row for row in ENTRIES if row.role in WEIGHED], ids=lambda row: row.key)
def test_what_carries_a_batter_has_a_weight(row: pantry.Entry) -> None:
    assert any((row.cup_g, row.tbsp_g, row.tsp_g, row.piece_g))


@pytest.mark.parametrize("row", ENTRIES, ids=lambda row: row.key)
def test_fields_of_a_role_stay_with_the_role(row: pantry.Entry) -> None:
    assert (row.pour in POURS) == (row.role == "liquid")
    assert bool(row.yeast_kind) == (row.role == "yeast")
    assert bool(row.leaven) == (row.role in ("leavener", "self-rising"))


def test_spoon_and_cup_tell_the_same_weight() -> None:
    far = {}
    for row in ENTRIES:
        if row.cup_g and row.tbsp_g and not 0.8 < row.cup_g / (16 * row.tbsp_g) < 1.25 and not row.cup_g_range:
            far[row.key] = (row.cup_g, 16 * row.tbsp_g)
    assert far == {}


# Source: the roles as bakers use the words, common practice; old names from American cookbooks 1890 to 1920.
@pytest.mark.parametrize(
    ("name", "role"),
    [
        ("plain flour", "flour"),
        ("Indian meal", "flour"),
        ("graham flour", "flour"),
        ("ground almonds", "flour"),
        ("rolled oats", "flour"),
        ("polenta", "flour"),
        ("coconut flour", "flour"),
        ("breadcrumbs", "other"),
        ("cornflour", "starch"),
        ("corn flour", "flour"),
        ("tapioca flour", "starch"),
        ("pulverized sugar", "sugar"),
        ("jaggery", "sugar"),
        ("erythritol", "sugar"),
        ("New Orleans molasses", "syrup"),
        ("black treacle", "syrup"),
        ("sweetened condensed milk", "syrup"),
        ("sweet milk", "liquid"),
        ("sour milk", "liquid"),
        ("evaporated milk", "liquid"),
        ("lemon juice", "liquid"),
        ("double cream", "liquid"),
        ("coconut milk", "liquid"),
        ("sour cream", "thick-liquid"),
        ("pumpkin puree", "thick-liquid"),
        ("bananas", "thick-liquid"),
        ("silken tofu", "thick-liquid"),
        ("soda", "leavener"),
        ("saleratus", "leavener"),
        ("bicarb", "leavener"),
        ("pearlash", "leavener"),
        ("club soda", "liquid"),
        ("cream of tartar", "other"),
        ("self-raising flour", "self-rising"),
        ("yellow cake mix", "self-rising"),
        ("compressed yeast", "yeast"),
        ("yeast cakes", "yeast"),
        ("sourdough starter", "yeast"),
        ("nutritional yeast", "other"),
        ("egg whites", "egg"),
        ("flax eggs", "egg"),
        ("suet", "fat"),
        ("ghee", "fat"),
        ("peanut butter", "other"),
        ("kosher salt", "salt"),
        ("cocoa", "cocoa"),
        ("dark chocolate", "cocoa"),
        ("chocolate chips", "other"),
        ("chopped chocolate", "other"),
        ("vinegar", "other"),
        ("soy sauce", "other"),
        ("vanilla", "other"),
        ("whipped cream", "other"),
        ("cool whip", "other"),
        ("lemon zest", "other"),
        ("xanthan gum", "other"),
    ],
)
def test_role_of_a_name(name: str, role: str) -> None:
    found = pantry.find(name)
    assert found is not None
    assert found.role == role


def test_cream_cheese_is_fat_in_a_batter_only() -> None:
    cheese = pantry.entry("cream-cheese")
    assert (cheese.role_in("batter"), cheese.role_in("frosting")) == ("fat", "other")


# Source: 1/4 tsp soda with 1/2 tsp cream of tartar lifts like 1 tsp baking powder (common kitchen equivalent).
def test_soda_lifts_like_four_times_the_powder() -> None:
    assert pantry.entry("baking-soda").leaven == 4 * pantry.entry("baking-powder").leaven


# Source: common kitchen equivalents; British self-raising flour carries no salt.
def test_self_rising_flour_and_its_british_cousin() -> None:
    american, british = pantry.entry("self-rising-flour"), pantry.entry("self-raising-flour")
    assert float(american.leaven) == float(british.leaven) == 1.5
    assert (american.salted, british.salted) == (True, False)


# Source: '2 cups soured milk to 1 tsp soda', old cookbooks; 1/4 tsp to a Tbsp of vinegar or lemon juice, from memory;
# natural cocoa is acid and Dutch-process is not, common practice.
@pytest.mark.parametrize(
    ("key", "tsp_soda_a_cup"),
    [("buttermilk", 0.5), ("sour-milk", 0.5), ("yogurt", 0.5), ("vinegar", 4), ("lemon-juice", 4), ("dutch-cocoa", 0)],
)
def test_acid_against_soda(key: str, tsp_soda_a_cup: float) -> None:
    assert float(pantry.entry(key).acid) == tsp_soda_a_cup


@pytest.mark.parametrize(
    "key", ["cocoa", "molasses", "honey", "brown-sugar", "vinegar", "buttermilk", "yogurt", "orange-juice"]
)
def test_what_counts_as_acid(key: str) -> None:
    assert pantry.entry(key).acidic
    assert pantry.entry(key).acid > 0


# Source: from memory, citric acid 6 % in lemon juice and lactic acid 0.85 % in buttermilk; a teaspoon of soda is 4.6 g
# of sodium bicarbonate, 84 g a mole. The kitchen rule and the chemistry agree within a fifth.
@pytest.mark.parametrize(
    ("key", "share", "grams_a_mole", "protons"), [("lemon-juice", 0.06, 192.1, 3), ("buttermilk", 0.0085, 90.1, 1)]
)
def test_acid_by_its_chemistry(key: str, share: float, grams_a_mole: float, protons: int) -> None:
    row = pantry.entry(key)
    assert row.cup_g is not None
    soda = row.cup_g * share / grams_a_mole * protons * 84.0 / 4.6
    assert float(row.acid) == pytest.approx(soda, rel=0.2)


@pytest.mark.parametrize(
    "key", ["lemon-juice", "lime-juice", "orange-juice", "rum", "brandy", "liqueur", "fortified-wine"]
)
def test_never_the_main_liquid(key: str) -> None:
    assert pantry.entry(key).pour == "never"


@pytest.mark.parametrize(
    ("name", "stands_for"),
    [
        ("flax egg", "egg"),
        ("gluten-free flour", "flour"),
        ("allulose", "sugar"),
        ("stevia", "sugar"),
        ("vegan butter", "butter"),
    ],
)
def test_replacers_say_what_they_replace(name: str, stands_for: str) -> None:
    found = pantry.find(name)
    assert found is not None
    assert found.substitute == stands_for


def test_a_misspelt_field_is_refused() -> None:
    with pytest.raises(TypeError):
        from_row("flour", {"names": ["flour"], "role": "flour", "cup_gram": 125})


def test_hyphens_and_curly_apostrophes_do_not_matter() -> None:
    phrases = dict(pantry.phrases())
    assert phrases["confectioners’ sugar"] == phrases["confectioners' sugar"] == "powdered-sugar"
    assert pantry.find("All-Purpose  Flour") == pantry.find("all purpose flour") == pantry.entry("all-purpose-flour")


def test_an_unknown_name_or_key() -> None:
    assert pantry.find("unobtainium") is None
    with pytest.raises(KeyError):
        pantry.entry("unobtainium")


def test_the_gathered_shelf_is_fresh() -> None:
    assert shelf.is_fresh(), "run: python -m rewriter.pantry.build"
    assert shelf.tables() == shelf.gather_tables()


def test_a_mended_table_counts_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shelf, "_stored", lambda: {"tables_digest": "of older tables", "tables": {}})
    assert shelf.tables.__wrapped__() == shelf.gather_tables()
    assert not shelf.is_fresh()


def test_every_source_named_in_a_table_is_listed() -> None:
    listed = {row["text"] for row in shelf.tables()["sources"].values()}
    assert {row.source for row in ENTRIES} <= listed


def test_tables_say_where_their_weights_come_from() -> None:
    for path in sorted((shelf.ROOM / "ingredients").glob("*.toml")):
        assert tomllib.loads(path.read_text(encoding="utf-8"))["defaults"]["source"], path.name
