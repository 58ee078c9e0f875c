// One recipe as a card: its own words with the changes among them, its notes, and what can be done with it.

import { after } from "./after.js";
import { fresh, make, spoken, unseen } from "./dom.js";
import { pictures } from "./pictures.js";
import { questions } from "./questions.js";
import { readings } from "./readings.js";
import { slip } from "./slip.js";
import { shown } from "./text.js";

const SIGN = { up: "\u25b2", down: "\u25bc", insert: "+", note: "!" };
const WAY = { up: "more", down: "less", insert: "added", note: "a note" };
const moves = (change) => (change.addition ? "insert" : change.direction);
const LINES_AT_ONCE = 1500;

export function card(one, index, room) {
  const title = one.title || (room.alone ? "This recipe" : `Recipe ${index + 1}`);
  const id = fresh("card");
  const text = words(one, room);
  const own = text.querySelector(".line:not(.blank)");
  const headed = own && plain(own) === title;
  if (headed) own.classList.add("head");
  return make(
    "article",
    { class: "card", "aria-labelledby": id },
    make("h3", { id, class: headed ? "unseen" : null }, title),
    make("p", { class: "quiet kind" }, room.alone ? `Read as ${spoken(one.kind)}.` : `Read as ${spoken(one.kind)}. ${summary(one)}`),
    one.notes.cautions.map((text) => make("p", { class: "alarm" }, make("strong", {}, "Take care: "), text)),
    questions(one.questions, room),
    text,
    notes(one),
    pictures(one, room),
    readings(one, room),
    after(one, room),
  );
}

// A line's own words, without what was set among them.
function plain(line) {
  const copy = line.cloneNode(true);
  for (const added of copy.querySelectorAll(".asks, ins, .unseen")) added.remove();
  return copy.textContent.replace(/\s+/g, " ").trim();
}

export function summary(one) {
  const changed = new Set(one.changes.filter((change) => change.direction !== "note").map((change) => change.about)).size;
  const told = changed ? `${changed} ${changed === 1 ? "thing changes" : "things change"} here.` : "Nothing in it changes here.";
  const asked = one.questions.length;
  return asked ? `${told} ${asked} ${asked === 1 ? "question" : "questions"} for you.` : told;
}

// The recipe's own words, line by line; each change a button that opens its reason below the line.
export function words(one, room) {
  const box = make("div", { class: "words" });
  const lines = split(one, room);
  const show = (from) => {
    box.append(...lines.slice(from, from + LINES_AT_ONCE).map((pieces) => line(pieces, one, room)));
    if (lines.length > from + LINES_AT_ONCE) {
      const more = make("button", { type: "button" }, `Show the other ${lines.length - from - LINES_AT_ONCE} lines`);
      more.addEventListener("click", () => {
        more.remove();
        show(from + LINES_AT_ONCE);
      });
      box.append(more);
    }
  };
  show(0);
  return box;
}

// Lines as lists of pieces: text, a change with the words it changes, or a question's place.
function split(one, room) {
  const marks = [
    ...one.changes.map((change) => ({ at: change.start, to: instead(change) ? change.end : change.start, change })),
    ...one.questions.filter((query) => query.end > query.start).map((query) => ({ at: query.end, to: query.end, query })),
  ];
  for (const mark of marks) if (mark.change && !instead(mark.change)) mark.at = mark.to = mark.change.end;
  marks.sort((a, b) => a.at - b.at || a.to - b.to);
  const lines = [[]];
  const put = (text) => {
    text.split(/\r\n|\n|\r|\u2028|\u2029/).forEach((part, number) => {
      if (number) lines.push([]);
      if (part) lines[lines.length - 1].push({ text: part });
    });
  };
  let at = one.from;
  for (const mark of marks) {
    if (mark.at < at) continue;
    put(room.source.slice(at, mark.at));
    lines[lines.length - 1].push(mark);
    at = mark.to;
  }
  put(room.source.slice(at, one.to));
  while (lines.length > 1 && !lines[lines.length - 1].length) lines.pop();
  while (lines.length > 1 && !lines[0].length) lines.shift();
  return lines;
}

function instead(change) {
  return change.end > change.start && !change.addition && change.step === "now" && change.direction !== "note";
}

function line(pieces, one, room) {
  const p = make("p", { class: pieces.length ? "line" : "line blank", dir: "ltr" });
  const holder = make("div", { class: "at" }, p);
  for (const piece of pieces) {
    if (piece.text !== undefined) p.append(...shown(piece.text, make));
    else if (piece.query) p.append(pointer(piece.query));
    else p.append(...marked(piece.change, one, room, holder));
  }
  return holder;
}

function pointer(query) {
  const link = make("a", { class: "asks", href: `#${room_id(query)}` }, unseen("A question about this: "), "?");
  link.addEventListener("click", (event) => {
    event.preventDefault();
    const target = document.getElementById(room_id(query));
    if (target) {
      target.scrollIntoView({ block: "center" });
      target.focus();
    }
  });
  return [" ", link][1];
}

export function room_id(query) {
  return `asked-${query.id.replace(/[^\w]/g, "-")}`;
}

function marked(change, one, room, holder) {
  const out = [];
  if (instead(change)) out.push(make("del", {}, unseen("was "), ...shown(change.old, make)), " ");
  else out.push(" ");
  const offer = change.step === "offer" ? "or " : "";
  const button = make(
    "button",
    { type: "button", class: `now ${moves(change)}`, "aria-expanded": "false", "data-at": `${change.start}-${change.end}-${change.rule}` },
    make("span", { class: "sign", "aria-hidden": "true" }, SIGN[moves(change)]),
    unseen(`${offer || "now"} `),
    make("span", { class: "figure" }, offer, change.new.replace(/^\+\s*/, "")),
    unseen(`, ${WAY[moves(change)]}. Why?`),
  );
  const toggle = (open) => {
    const there = holder.querySelector(`[data-of="${button.id}"]`);
    if (there) there.remove();
    button.setAttribute("aria-expanded", String(open));
    if (!open) return;
    const made = slip(change, one, room, () => {
      toggle(false);
      button.focus();
    });
    made.setAttribute("data-of", button.id);
    made.id = `${button.id}-slip`;
    button.setAttribute("aria-controls", made.id);
    holder.append(made);
  };
  button.id = fresh("mark");
  button.addEventListener("click", () => toggle(button.getAttribute("aria-expanded") !== "true"));
  out.push(make("ins", {}, button));
  return out;
}

const TITLES = [
  ["early", "Look early"],
  ["watch", "Watch for"],
  ["kept", "Left as it is"],
  ["later", "Next, if it falls"],
];

export function notes(one) {
  const told = one.notes;
  const lists = TITLES.filter(([name]) => told[name].length).map(([name, title]) => [
    make("h5", {}, title),
    make("ul", {}, told[name].map((text) => make("li", {}, text))),
  ]);
  if (!told.opening.length && !lists.length && !one.changes.length) return null;
  return make(
    "section",
    { class: "notes" },
    make("h4", {}, "Before you bake"),
    told.opening.map((text) => make("p", {}, text)),
    lists,
    table(one),
  );
}

function table(one) {
  const rows = one.changes.filter((change) => change.direction !== "note");
  if (!rows.length) return null;
  return make(
    "details",
    { class: "sheet" },
    make("summary", {}, "All changes in one list"),
    make(
      "table",
      {},
      make("thead", {}, make("tr", {}, ["what", "was", "now", "why"].map((head) => make("th", { scope: "col" }, head)))),
      make(
        "tbody",
        {},
        rows.map((change) =>
          make(
            "tr",
            {},
            make("th", { scope: "row" }, change.about),
            make("td", {}, change.old || "\u2014"),
            make("td", {}, change.new),
            make("td", {}, change.few),
          ),
        ),
      ),
    ),
    make("p", { class: "quiet" }, `Sources: ${[...new Set(rows.map((change) => change.source).filter(Boolean))].join("; ")}.`),
  );
}
