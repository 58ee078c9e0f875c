// One card: its words, what is missing in it, tidying, its revisions, its bakes, and the next bake.

import { bakeForm } from "./box-bake.js";
import { box, button, change, download, enter, remembered, say, text, tried } from "./box-room.js";
import { byId, make, spoken } from "./dom.js";

const NUMBER = Number(location.pathname.split("/").pop());
const WHY = { tidied: "tidied", "as found": "as it was found", "by hand": "by hand" };

async function show(words, goal) {
  const one = await box("card", { card: NUMBER });
  document.title = `${one.title || `Card ${one.number}`}: the recipe box`;
  byId("shown").replaceChildren(...parts(one).flat().filter(Boolean));
  say(words || "");
  if (goal) byId(goal).focus();
}

function parts(one) {
  const said = make("p", { class: "quiet", role: "status" });
  const get = (body) => () => download({ card: NUMBER, ...body }, said);
  return [
    make(
      "article",
      { class: "card", "aria-labelledby": "card-title" },
      make("h2", { id: "card-title", tabindex: "-1" }, one.title || `Card ${one.number}`),
      make("p", { class: "quiet kind" }, `Card ${one.number}, read as ${spoken(one.kind)}. It came in: ${one.origins.join(", ") || "typed in"}.`),
      one.jars && make("p", { class: "alarm" }, make("strong", {}, "Take care: "), "a card for jars or processing is never changed. Follow tested directions exactly, and ask your local extension service."),
      one.stands_behind !== null && make("p", {}, "It stands behind ", make("a", { href: `/box/${one.stands_behind}` }, `card ${one.stands_behind}`), ". ", button("Take it out from there", () => apart(one.number))),
      one.behind.map((other) => make("p", {}, "Behind it stands ", make("a", { href: `/box/${other.number}` }, other.title || `card ${other.number}`), ". ", button("Take that out", () => apart(other.number), { "aria-label": `Take ${other.title || `card ${other.number}`} out from behind it` }))),
      one.answered && make("p", { class: "told quiet" }, "A revision kept from the page rests on answers or a strength given there, and so do the steps that its bakes lead to, as long as the card's words stay as they are."),
      text(one.text, one.title),
      missing(one.gaps),
      make("p", { class: "row" }, button("Print", () => window.print()), button("Download as text", get({ form: "text" })), button("Download the original", get({ form: "original" }))),
      said,
    ),
    !one.jars && tidying(),
    !one.jars && writing(one),
    bakes(one, get),
    !one.jars && bakeForm(one, remembered(), (words) => show(words, "bakes-title")),
    revisions(one, get),
    carrying(one),
  ];
}

async function apart(number) {
  await box("part", { card: number });
  await show(`Card ${number} stands by itself again.`, "card-title");
}

function missing(gaps) {
  if (!gaps.length) return null;
  return make("div", { class: "told" }, make("h3", {}, "Missing in it"), make("ul", {}, gaps.map((words) => make("li", {}, words))));
}

// Shown first; put on the card only when asked to.
function tidying() {
  const out = make("div");
  const look = async () => {
    const made = await box("tidy", { card: NUMBER });
    const title = make("h3", { tabindex: "-1" }, made.changed ? "Tidying would change" : "Nothing to tidy");
    out.replaceChildren(
      title,
      ...[
        made.left && make("p", {}, `${made.left[0].toUpperCase()}${made.left.slice(1)}.`),
        made.changed && change(made.lines, "What tidying would change"),
        made.changed && make("p", { class: "quiet" }, `For ${made.whys.join(", ")}. The original stays in the box.`),
        made.gaps.length > 0 && make("div", {}, make("p", {}, "It is missing, and is kept as a note:"), make("ul", {}, made.gaps.map((words) => make("li", {}, words)))),
        (made.changed || made.gaps.length > 0) &&
          make(
            "p",
            { class: "row" },
            button(made.changed ? "Yes, tidy it" : "Keep the note", async () => {
              const done = await box("apply", { card: NUMBER, seen: made.seen });
              await show(done.revision === null ? "What is missing is noted." : `Tidied: revision ${done.revision}.`, "card-title");
            }),
            button("No, leave it", () => {
              out.replaceChildren();
              byId("tidy").focus();
            }),
          ),
      ].filter(Boolean),
    );
    title.focus();
  };
  return section("Tidy it", "tidy-title", make("p", { class: "row" }, button("Show what would change", look, { id: "tidy" })), out);
}

// The card's words in a field of their own; saved as a new revision, if nobody else changed them.
function writing(one) {
  const field = make("textarea", { rows: String(Math.min(30, one.text.split("\n").length + 2)), spellcheck: "true", "aria-labelledby": "write-title" });
  field.value = one.text;
  const why = make("input", { type: "text", size: "24", maxlength: "200", autocomplete: "off" });
  const save = async () => {
    const words = one.text.includes("\r\n") ? field.value.replaceAll("\n", "\r\n") : field.value; // a field keeps no \r
    const done = await box("edit", { card: NUMBER, text: words, seen: one.seen, note: why.value });
    await show(done.revision === null ? "Nothing was changed." : `Your words are revision ${done.revision}.`, "card-title");
  };
  return section(
    "Set its words right",
    "write-title",
    make(
      "details",
      { class: "fold" },
      make("summary", {}, "Change the card by hand"),
      make("p", { class: "quiet" }, "The original stays in the box; what you write is a new revision of the card for every kitchen."),
      field,
      make("p", { class: "row" }, make("label", {}, "Why ", why), button("Save these words", save)),
    ),
  );
}

function bakes(one, get) {
  const rows = one.bakes.map((bake, number) =>
    make(
      "li",
      { class: `bake ${bake.outcome}` },
      make("strong", {}, `${bake.day}, ${bake.elevation}: `),
      { worked: "it worked", failed: "it failed", unsaid: "not said how it came out" }[bake.outcome],
      bake.rating ? `, ${bake.rating} of 5` : "",
      `. Revision ${bake.revision}.`,
      bake.faults.length > 0 && make("span", { class: "part" }, `What went wrong: ${bake.faults.map(spoken).join(", ")}.`),
      bake.changed && make("span", { class: "part" }, "Done otherwise: ", bake.changed),
      bake.note && make("span", { class: "part noted" }, bake.note),
      bake.photo && button("Its photo", get({ form: "photo", bake: number }), { "aria-label": `Download the photo of the bake of ${bake.day}` }),
    ),
  );
  const none = one.jars ? "Bakes of it are not kept." : "It has not been baked yet.";
  return section("Bakes", "bakes-title", rows.length ? make("ol", { class: "bakes" }, rows) : make("p", {}, none));
}

function revisions(one, get) {
  const line = one.revisions.map((each) => make("li", {}, revision(each, get)));
  return section("Revisions", "line-title", make("ol", { class: "line-of" }, line), one.revisions.length > 1 && comparing(one.revisions));
}

function called(each) {
  const where = each.elevation ? ` for ${each.elevation}` : "";
  const trial = { tried: ", tried", carried: ", not tried there", untried: each.elevation ? ", not tried yet" : "" }[each.trial];
  return `${each.number}${each.name ? `, ${each.name}` : ""}: ${WHY[each.why] || each.why}${where}${trial}`;
}

function revision(each, get) {
  const input = make("input", { type: "text", value: each.name, autocomplete: "off", size: "24", maxlength: "120" });
  const name = async (event) => {
    event.preventDefault();
    await tried(async () => {
      await box("name", { card: NUMBER, revision: each.number, words: input.value });
      await show(input.value.trim() ? `Revision ${each.number} is called ${input.value.trim()}.` : `Revision ${each.number} has no name.`, "line-title");
    });
  };
  return make(
    "details",
    { class: "fold" },
    make("summary", {}, called(each)),
    each.note && make("p", { class: "quiet" }, each.note),
    text(each.text),
    make("form", { class: "row", onsubmit: name }, make("label", {}, "Our name for it ", input), make("button", { type: "submit" }, "Name it")),
    make("p", { class: "row" }, button("Download this revision", get({ form: "text", revision: each.number }))),
  );
}

function pick(line, chosen) {
  return make("select", {}, line.map((each) => make("option", { value: each.number, selected: each.number === chosen }, called(each))));
}

function comparing(line) {
  const [one, other] = [pick(line, line[line.length - 2].number), pick(line, line[line.length - 1].number)];
  const out = make("div", { role: "status" });
  const go = async () => {
    const made = await box("differ", { card: NUMBER, one: Number(one.value), other: Number(other.value) });
    out.replaceChildren(change(made.lines, "What changes between them"));
  };
  return make(
    "div",
    { role: "group", "aria-labelledby": "compare-title" },
    make("h3", { id: "compare-title" }, "Compare two"),
    make("p", { class: "row" }, make("label", {}, "From ", one), make("label", {}, "to ", other), button("Compare", go)),
    out,
  );
}

// What worked at one height, for another: by the guides, and never said to be tried.
function carrying(one) {
  const places = [...new Set(one.bakes.filter((bake) => bake.outcome === "worked").map((bake) => bake.elevation))];
  if (!places.length) return null;
  const from = make("select", {}, places.map((place) => make("option", { value: place }, place)));
  const to = make("input", { type: "text", size: "9", autocomplete: "off", placeholder: "5000 ft" });
  const go = async () => {
    const made = await box("carry", { card: NUMBER, origin: from.value, to: to.value });
    await show(`Revision ${made.number}: ${made.note}.`, "line-title");
  };
  return section("For another height", "carry-title", make("p", { class: "row" }, make("label", {}, "What worked at ", from), make("label", {}, "carried to ", to), button("Carry it", go)));
}

function section(title, id, ...children) {
  return make("section", { class: "sect", "aria-labelledby": id }, make("h2", { id, tabindex: "-1" }, title), children);
}

enter(() => show("", ""));
