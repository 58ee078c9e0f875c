// "Keep in the box" on the page for a new recipe.

import { byId, make } from "./dom.js";
import { Refusal, ask } from "./net.js";
import { asked } from "./page.js";

const said = byId("box-kept");

byId("box-keep").addEventListener("click", async () => {
  said.textContent = "Keeping it \u2026";
  try {
    const made = await ask("box/keep", asked());
    const links = made.cards.map((one, index) => [index ? ", " : "", make("a", { href: `/box/${one.number}` }, one.title || `card ${one.number}`)]);
    said.replaceChildren(...[made.again ? "The box has it already: " : "Kept in the box: ", ...links.flat(), `. ${after(made)}`]);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    said.textContent = `${error.message}; ${error.mend}.`;
  }
});

function after(made) {
  if (made.own_line) return "Its own line for this kitchen stays as your bakes have made it.";
  if (made.revision !== null) return `Your recipe for this kitchen is its revision ${made.revision}. Write your bakes down there.`;
  return made.cards.length > 1 ? "Each is fitted to your kitchen when you write its first bake down." : "";
}

// What was kept was another recipe once the words change.
byId("paste").addEventListener("input", () => said.replaceChildren());
