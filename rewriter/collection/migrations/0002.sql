-- What tidying found missing in a recipe ("no pan"), a row each; made again whenever it is tidied.

CREATE TABLE gaps (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    recipe INTEGER NOT NULL REFERENCES recipes (id),
    words TEXT NOT NULL
);
CREATE INDEX gaps_recipe ON gaps (recipe);
