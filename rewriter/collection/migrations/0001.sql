-- The first box. Times are ISO 8601 in UTC; lists are JSON. No two tables have the same number of columns,
-- so that rows can be told apart where the list of tables itself is damaged (see carve.py).

CREATE TABLE settings (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL UNIQUE,
    value TEXT NOT NULL,
    changed TEXT NOT NULL
);

-- Every file as it came, byte for byte.
CREATE TABLE originals (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    sha256 TEXT NOT NULL UNIQUE,
    kind TEXT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('read', 'no recipe', 'unread')),
    why TEXT NOT NULL,
    text TEXT NOT NULL,
    warnings TEXT NOT NULL,
    added TEXT NOT NULL,
    data BLOB NOT NULL
);

-- Where its bytes were found; the same bytes in two places are one original.
CREATE TABLE arrivals (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    original INTEGER NOT NULL REFERENCES originals (id),
    sha256 TEXT NOT NULL,
    origin TEXT NOT NULL,
    seen TEXT NOT NULL,
    UNIQUE (original, origin)
);

-- What was refused unread, so that it is not forgotten.
CREATE TABLE refusals (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    origin TEXT NOT NULL UNIQUE,
    sha256 TEXT NOT NULL,
    why TEXT NOT NULL,
    size INTEGER NOT NULL,
    seen TEXT NOT NULL
);

-- A recipe is a stretch of an original's text. merged_into: the uid of the twin it now stands behind.
CREATE TABLE recipes (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    uid TEXT NOT NULL UNIQUE,
    original INTEGER NOT NULL REFERENCES originals (id),
    sha256 TEXT NOT NULL,
    start INTEGER NOT NULL,
    stop INTEGER NOT NULL,
    title TEXT NOT NULL,
    kind TEXT NOT NULL,
    jars INTEGER NOT NULL,
    merged_into TEXT NOT NULL,
    added TEXT NOT NULL
);

-- A recipe's line. why: as found, tidied, fitted, next step, carried, by hand. elevation_m is null where the text is
-- for no kitchen in particular. trial: untried, tried, carried. formula: role -> [factor, the guide's factor].
CREATE TABLE revisions (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    uid TEXT NOT NULL UNIQUE,
    recipe INTEGER NOT NULL REFERENCES recipes (id),
    recipe_uid TEXT NOT NULL,
    number INTEGER NOT NULL,
    parent INTEGER,
    why TEXT NOT NULL,
    name TEXT NOT NULL,
    elevation_m REAL,
    trial TEXT NOT NULL CHECK (trial IN ('untried', 'tried', 'carried')),
    formula TEXT NOT NULL,
    note TEXT NOT NULL,
    text TEXT NOT NULL,
    made TEXT NOT NULL,
    UNIQUE (recipe, number)
);

CREATE TABLE bakes (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    uid TEXT NOT NULL UNIQUE,
    recipe INTEGER NOT NULL REFERENCES recipes (id),
    recipe_uid TEXT NOT NULL,
    number INTEGER NOT NULL,
    day TEXT NOT NULL,
    elevation_m REAL NOT NULL,
    pressure_hpa REAL NOT NULL,
    changed TEXT NOT NULL,
    faults TEXT NOT NULL,
    rating INTEGER,
    outcome TEXT NOT NULL CHECK (outcome IN ('worked', 'failed', 'unsaid')),
    formula TEXT NOT NULL,
    note TEXT NOT NULL,
    photo BLOB,
    made TEXT NOT NULL
);

-- What is read in each recipe's present text; made again from it at any time.
CREATE TABLE lines (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    recipe INTEGER NOT NULL REFERENCES recipes (id),
    key TEXT NOT NULL,
    name TEXT NOT NULL,
    role TEXT NOT NULL,
    part TEXT NOT NULL,
    grams REAL,
    text TEXT NOT NULL
);
CREATE INDEX lines_recipe ON lines (recipe);
CREATE INDEX lines_key ON lines (key);
CREATE INDEX recipes_original ON recipes (original);
CREATE INDEX bakes_recipe ON bakes (recipe);

CREATE VIRTUAL TABLE words USING fts5 (title, text, tokenize = 'porter unicode61 remove_diacritics 2');
