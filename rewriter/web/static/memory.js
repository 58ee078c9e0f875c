// What is remembered on this device: the kitchen, the look, and the answers given for the last recipes.

const ROOM = "rewriter.";
const MOST = 60; // recipes whose answers are remembered

export function load(name, otherwise) {
  try {
    const kept = JSON.parse(localStorage.getItem(ROOM + name));
    return kept === null ? otherwise : kept;
  } catch {
    return otherwise;
  }
}

export function store(name, value) {
  try {
    localStorage.setItem(ROOM + name, JSON.stringify(value));
  } catch {
    // A device that keeps nothing still works.
  }
}

export function answersFor(name) {
  const rows = load("answers", []);
  const found = rows.find((row) => row.recipe === name);
  return found ? found.answers : [];
}

export function keepAnswers(name, answers) {
  const rows = load("answers", []).filter((row) => row.recipe !== name);
  if (answers.length) rows.push({ recipe: name, answers });
  store("answers", rows.slice(-MOST));
}
