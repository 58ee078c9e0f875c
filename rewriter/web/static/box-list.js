// The cards of the box: found by words, ingredient, kind, role, elevation tried and outcome; and all of it taken out.

import { box, button, download, enter, remembered, say, tried } from "./box-room.js";
import { byId, make, spoken } from "./dom.js";

const LISTS = { holds: "ingredients", without: "without" };
const ONE = { kind: "kinds", role: "roles" };
const PLAIN = { phrase: "phrase", tried: "elevation", outcome: "outcome", fault: "fault" };

function asked() {
  const body = {};
  for (const [id, name] of Object.entries(PLAIN)) if (byId(id).value.trim()) body[name] = byId(id).value.trim();
  for (const [id, name] of Object.entries(ONE)) if (byId(id).value) body[name] = [byId(id).value];
  for (const [id, name] of Object.entries(LISTS)) {
    const things = byId(id).value.split(",").map((thing) => thing.trim()).filter(Boolean);
    if (things.length) body[name] = things;
  }
  return body;
}

async function find(body, after) {
  byId("shown").setAttribute("aria-busy", "true");
  try {
    const made = await box("search", after ? { ...body, after } : body);
    if (!after) byId("shown").replaceChildren(make("ul", { class: "cards", "aria-label": "Cards" }));
    const list = byId("shown").firstChild;
    const rows = made.cards.map(row);
    list.append(...rows);
    const there = after + made.cards.length;
    const more = byId("shown").querySelector("p");
    if (more) more.remove();
    if (there < made.found) byId("shown").append(make("p", {}, button(`Show ${made.found - there} more`, () => find(body, there))));
    if (after && rows.length) rows[0].querySelector("a").focus();
    say(words(made.found, Object.keys(body).length > 0));
  } finally {
    byId("shown").removeAttribute("aria-busy");
  }
}

function words(found, narrowed) {
  if (found) return `${found} ${found === 1 ? "card" : "cards"}.`;
  return narrowed ? "No card is found by that." : "The box is empty. Keep a recipe from the page, or bring a folder in with rewriter box add.";
}

function row(one) {
  const told = [spoken(one.kind)];
  if (one.jars) told.push("for jars: left as it is");
  if (one.bakes) told.push(`${one.bakes} ${one.bakes === 1 ? "bake" : "bakes"}, ${one.worked} worked, last ${one.last}`);
  return make(
    "li",
    {},
    make("a", { href: `/box/${one.number}` }, one.title || `Card ${one.number}`),
    make("span", { class: "quiet" }, `card ${one.number}: ${told.join("; ")}`),
  );
}

function out() {
  const body = { form: byId("form").value };
  if (byId("where").value.trim() && !byId("where-label").hidden) body.elevation = byId("where").value.trim();
  return download(body, byId("taken"));
}

// What works in this kitchen otherwise than by the guide; nothing until bakes say so.
async function habits() {
  const made = await box("habits", {});
  byId("ours").hidden = !made.habits.length;
  byId("habits").replaceChildren(...made.habits.map((told) => make("li", {}, told)));
}

byId("seek").addEventListener("submit", (event) => {
  event.preventDefault();
  tried(() => find(asked(), 0));
});
byId("every").addEventListener("click", () => {
  byId("seek").reset();
  tried(() => find({}, 0));
});
byId("out").addEventListener("click", () => tried(out));
byId("form").addEventListener("change", () => {
  const plain = ["dump", "backup"].includes(byId("form").value);
  byId("where-label").hidden = plain;
  byId("where-help").hidden = plain;
});
const here = remembered();
if (here.way === "elevation") byId("where").value = here.words;
enter(async () => {
  await find({}, 0);
  await habits();
});
