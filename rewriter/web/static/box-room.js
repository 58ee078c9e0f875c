// What the pages of the recipe box share: asking, complaints, the token, the kitchen remembered, downloads.

import { byId, make, unseen } from "./dom.js";
import { looks } from "./looks.js";
import { load } from "./memory.js";
import { Refusal, ask, saveFile, setToken, takeToken } from "./net.js";
import { shown } from "./text.js";

let last = null;

export const box = (name, body) => ask(`box/${name}`, body || {});

export function enter(first) {
  takeToken();
  looks();
  byId("door").addEventListener("submit", (event) => {
    event.preventDefault();
    setToken(byId("token").value.trim());
    byId("door").hidden = true;
    tried(last || first);
  });
  tried(first);
}

// Does some work; what is refused is said, and done again when the token is given.
export async function tried(work) {
  byId("trouble").textContent = "";
  try {
    await work();
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    byId("status").textContent = "";
    byId("trouble").textContent = sentence(error);
    if (error.status === 401) {
      last = work;
      byId("door").hidden = false;
      byId("token").focus();
    }
  }
}

export function sentence(error) {
  const words = error.mend ? `${error.message}; ${error.mend}` : error.message;
  return `${words[0].toUpperCase()}${words.slice(1)}.`;
}

export function say(words) {
  byId("status").textContent = words;
}

export function button(words, work, more) {
  return make("button", { type: "button", onclick: () => tried(work), ...more }, words);
}

export async function download(body, said) {
  said.textContent = "Making it \u2026";
  try {
    const name = await saveFile(body, "/api/box/out");
    said.textContent = `${name} is in your downloads.`;
  } catch (error) {
    said.textContent = "";
    throw error;
  }
}

// The kitchen told on the page for a new recipe, as words: "8200 ft", with the way it was told.
export function remembered() {
  const told = load("kitchen", null);
  const units = { elevation: "ft", barometer: "hPa", boils_at: "F" };
  const figure = told && units[told.way] && told.figures && told.figures[told.way];
  if (!figure) return { way: "elevation", words: "" };
  return { way: told.way, words: /[a-z]/i.test(figure) ? figure : `${figure} ${(told.units && told.units[told.way]) || units[told.way]}` };
}

// A card's or a revision's words, each as text, line by line; a title that stands above them already is not said twice.
export function text(words, title) {
  const lines = words.trimEnd().split(/\r\n|\n|\r|\u2028|\u2029/);
  const first = lines.findIndex((line) => line.trim());
  if (title && first >= 0 && lines[first].split(/\s+/).filter(Boolean).join(" ") === title) lines.splice(0, first + 1);
  while (lines.length && !lines[0].trim()) lines.shift();
  return make(
    "div",
    { class: "words" },
    lines.map((line) => make("p", { class: line ? "line" : "line blank", dir: "ltr" }, ...shown(line, make))),
  );
}

const SIGN = { gone: "\u2212", new: "+", same: "", cut: "\u2026" };

// A change line by line: what is gone is struck, what is new is bold, each also said to the ear.
export function change(lines, words) {
  if (!lines.length) return make("p", {}, "The words are the same.");
  return make(
    "ol",
    { class: "change", "aria-label": words },
    lines.map(({ way, text: line }) =>
      make(
        "li",
        { class: way },
        make("span", { class: "sign", "aria-hidden": "true" }, SIGN[way]),
        way === "gone" && [unseen("was: "), make("del", { dir: "ltr" }, ...shown(line, make))],
        way === "new" && [unseen("now: "), make("ins", { dir: "ltr" }, ...shown(line, make))],
        way === "same" && make("span", { dir: "ltr" }, ...shown(line, make)),
        way === "cut" && unseen("lines between stay as they are"),
      ),
    ),
  );
}
