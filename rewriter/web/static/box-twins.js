// Twins: near-duplicates side by side, what differs between them, and one kept before the others.

import { box, button, enter, say } from "./box-room.js";
import { byId, fresh, make, unseen } from "./dom.js";

async function show(words) {
  say("Looking for twins \u2026");
  const { groups } = await box("twins");
  byId("shown").replaceChildren(...groups.map(group));
  const found = groups.length ? `${groups.length} ${groups.length === 1 ? "group" : "groups"} of cards that are nearly the same.` : "No two cards are nearly the same.";
  say([words, found].filter(Boolean).join(" "));
  if (words) byId("shown").focus();
}

const called = (one) => one.title || `Card ${one.number}`;

function group(made) {
  const id = fresh("twins");
  const [first, ...rest] = made.cards;
  const odd = made.rows.filter((row) => row.differs).length;
  return make(
    "article",
    { class: "card", "aria-labelledby": id },
    make("h2", { id }, made.cards.map(called).join(" and ")),
    make("p", { class: "quiet kind" }, `${Math.round(made.likeness * 100)} percent alike. ${odd} of ${made.rows.length} ingredients differ.`),
    rest.map((one, index) =>
      make("div", {}, make("h3", { class: "small" }, `${called(one)} (card ${one.number}), set against ${called(first)} (card ${first.number})`), make("ul", {}, made.differences[index].map((words) => make("li", {}, words)))),
    ),
    sideBySide(made),
    choice(made),
  );
}

function sideBySide(made) {
  const head = make("tr", {}, make("th", { scope: "col" }, "Ingredient"), made.cards.map((one) => make("th", { scope: "col" }, make("a", { href: `/box/${one.number}` }, called(one)), ` (card ${one.number})`)));
  const rows = made.rows.map((row) =>
    make(
      "tr",
      { class: row.differs ? "unsure" : null },
      make("th", { scope: "row" }, row.name, row.differs && unseen(" (differs)")),
      row.amounts.map((amount) => make("td", {}, amount === null ? "\u2014 not in it" : amount || "some")),
    ),
  );
  return make("div", { class: "wide", tabindex: "0", role: "group", "aria-label": "Side by side" }, make("table", {}, make("caption", {}, "Side by side; a bar marks what differs"), make("thead", {}, head), make("tbody", {}, rows)));
}

function choice(made) {
  const name = fresh("keep");
  const picks = made.cards.map((one, index) => make("input", { type: "radio", name, value: one.number, checked: index === 0 }));
  const go = async () => {
    const keep = Number(picks.find((pick) => pick.checked).value);
    await box("merge", { keep, others: made.cards.map((one) => one.number).filter((number) => number !== keep) });
    await show(`Card ${keep} stands in front now; the others are behind it, with all they hold.`);
  };
  return make(
    "fieldset",
    { class: "faults" },
    make("legend", {}, "Keep in front"),
    picks.map((pick, index) => make("label", {}, pick, ` ${called(made.cards[index])} (card ${made.cards[index].number})`)),
    make("p", { class: "row" }, button("Let the others stand behind it", go)),
    make("p", { class: "quiet" }, "Nothing is lost: each keeps its original, its revisions and its bakes, and can be taken out again from the card in front."),
  );
}

enter(() => show(""));
