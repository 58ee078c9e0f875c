// Which words belong to which card, and those around the recipes.

import { make } from "./dom.js";

// Each card takes the words from its beginning to that of the next; with one recipe, all of them.
export function ranges(made, here) {
  made.cards.forEach((one, index) => {
    const next = made.cards[index + 1];
    one.from = one.start;
    one.to = next ? Math.min(next.start, Math.max(one.end, one.start)) : one.end;
    for (const change of one.changes) one.to = Math.max(one.to, change.end);
  });
  if (made.cards.length === 1 && made.cards[0].start < 400) made.cards[0].from = 0;
  if (made.cards.length === 1 && here.source.length - made.cards[0].to < 400) made.cards[0].to = here.source.length;
}

export function around(made, here) {
  let at = 0;
  const rest = [];
  for (const one of [...made.cards, { from: here.source.length, to: here.source.length }]) {
    if (one.from > at) rest.push(here.source.slice(at, one.from));
    at = Math.max(at, one.to);
  }
  const words = rest.map((text) => text.trim()).filter(Boolean).join("\n\u2026\n");
  if (!words) return [];
  const box = make("details", { class: "fold around" }, make("summary", {}, "The words around the recipe, left as they are"));
  box.addEventListener("toggle", () => box.open && box.childElementCount === 1 && box.append(make("p", { class: "line", dir: "ltr" }, words.slice(0, 200_000))));
  return [box];
}
