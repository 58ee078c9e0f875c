// The page: what is pasted on one side, the recipe for this kitchen on the other.

import { around, ranges } from "./around.js";
import { card, summary } from "./card.js";
import { byId, spoken } from "./dom.js";
import { degrees, kitchen } from "./kitchen.js";
import { looks } from "./looks.js";
import { answersFor, keepAnswers, load, store } from "./memory.js";
import { Refusal, ask, oneAtATime, readFile, saveFile, setToken, takeToken } from "./net.js";
import { questions, told } from "./questions.js";
import { SAMPLE } from "./sample.js";
import { counted, mark, moved } from "./text.js";

const paste = byId("paste");
const state = { exact: "", answers: [], names: new Map(), choices: null, made: null, lazily: {}, focus: null };
const again = oneAtATime(rewrite, 300);
const place = kitchen(() => again());

export function asked() {
  const where = place.asked();
  return {
    text: state.exact,
    ...where,
    written_for: byId("written").value.trim() || "0 ft",
    guide: byId("guide").value,
    strength: byId("strength").value,
    answers: state.answers,
  };
}

function setText(text, answers) {
  state.exact = text;
  paste.value = text;
  state.answers = answers || answersFor(mark(text));
  store("paste", text.length < 1_000_000 ? text : "");
}

// A box for text turns every line end into \n: while nobody types, the file's own line ends are sent.
paste.addEventListener("input", () => {
  const before = state.exact.replace(/\r\n?/g, "\n");
  const now = paste.value;
  if (now === before) return;
  const overlap = Math.min(before.length, now.length);
  const fresh = before && overlap < 0.5 * Math.max(before.length, now.length);
  state.answers = fresh || !before ? answersFor(mark(now)) : moved(state.answers, before, now);
  state.exact = now;
  store("paste", now.length < 1_000_000 ? now : "");
  byId("heard").textContent = "";
  again();
});

// What is far too much is refused before the box for text has to lay it out, which would take long.
function tooMuch(text) {
  const much = text.length >= Number(paste.dataset.most);
  if (much) byId("trouble").textContent = "That is 5 MB of text or more. Split it, and give each part by itself.";
  return much;
}

paste.addEventListener("paste", (event) => {
  if (tooMuch(event.clipboardData.getData("text/plain"))) event.preventDefault();
});

async function rewrite() {
  byId("trouble").textContent = "";
  place.want(place.empty() && Boolean(state.exact.trim()));
  if (!state.exact.trim()) return nothing("Paste a recipe, and it stands here for your kitchen.");
  if (place.empty()) return nothing("Say where your kitchen is, and the recipe stands here.");
  const bytes = new Blob([state.exact]).size;
  if (bytes >= Number(paste.dataset.most)) {
    nothing("");
    byId("trouble").textContent = "This is 5 MB of text or more. Split it, and give each part by itself.";
    return;
  }
  byId("answer").setAttribute("aria-busy", "true");
  const body = asked();
  try {
    if (!state.choices) await start();
    const made = await ask("annotate", body);
    if (body.text === state.exact) show(made, body);
  } catch (error) {
    refused(error);
  } finally {
    byId("answer").removeAttribute("aria-busy");
  }
}

function nothing(words) {
  state.made = null;
  byId("cards").replaceChildren();
  byId("all").replaceChildren();
  byId("take").hidden = true;
  byId("air").textContent = "";
  document.body.classList.remove("has-answer");
  byId("status").textContent = words;
  byId("answer-words").textContent = "The recipe for your kitchen";
}

function refused(error) {
  if (!(error instanceof Refusal)) throw error;
  if (error.status === 401) {
    byId("door").hidden = false;
    byId("token").focus();
  }
  nothing("");
  const words = error.mend ? `${error.message}; ${error.mend}` : error.message;
  byId("trouble").textContent = `${words[0].toUpperCase()}${words.slice(1)}.`;
  if (state.answers.length) byId("all").replaceChildren(told(state.answers, room(null)));
}

function room(made) {
  const once = (name, work) => (state.lazily[name] ||= work());
  return {
    alone: !made || made.cards.length === 1,
    source: counted(made ? made.source : ""),
    choices: state.choices,
    compared: () => once("compare", () => ask("compare", asked())),
    formula: () => once("formula", () => ask("formula", asked())),
    curves: () => once("curves", () => ask("curves", asked())),
    next: (fault) => ask("next", { ...asked(), fault }),
    naming: (answer) => state.names.get(answer.query) || `${spoken(answer.query.split("@")[0])}: ${spoken(answer.value)}`,
    answer(query, value, words, onward) {
      state.answers = [...state.answers.filter((one) => one.query !== query), { query, value }];
      state.names.set(query, words);
      state.focus = onward ? "asked" : "status";
      keepAnswers(mark(state.exact), state.answers);
      again(true);
    },
    takeBack(answer) {
      state.answers = state.answers.filter((one) => one !== answer);
      state.focus = "status";
      keepAnswers(mark(state.exact), state.answers);
      again(true);
    },
  };
}

function show(made, body) {
  const open = openSlips();
  state.made = made;
  state.lazily = {};
  const here = room(made);
  place.stands(made.air);
  ranges(made, here);
  byId("answer-words").textContent = `The recipe for ${made.air.place.replace(/ \(.*/, "")}`;
  byId("all").replaceChildren(...[questions(made.questions, here), told(state.answers, here)].filter(Boolean));
  byId("cards").replaceChildren(...around(made, here), ...made.cards.map((one, index) => card(one, index, here)));
  byId("take").hidden = false;
  document.body.classList.add("has-answer");
  byId("paper").textContent = `${made.air.place}. Water boils at ${degrees(made.air.boiling)}. Corrected by ${byId("guide").selectedOptions[0].textContent}, ${byId("strength").value} strength.`;
  byId("status").textContent =
    made.cards.length > 1 ? `${made.cards.length} recipes. ${made.cards.map((one) => `${one.title || "No title"}: ${summary(one)}`).join(" ")}` : summary(made.cards[0]);
  keepAnswers(mark(body.text), state.answers);
  reopen(open);
  settle();
}

function openSlips() {
  return [...document.querySelectorAll('.now[aria-expanded="true"]')].map((button) => button.getAttribute("data-at"));
}

function reopen(open) {
  for (const button of document.querySelectorAll(".now")) {
    if (open.includes(button.getAttribute("data-at"))) button.click();
  }
}

// After an answer the eye and the keyboard go on to the next question, else to what was done.
function settle() {
  const goal = state.focus;
  state.focus = null;
  if (!goal) return;
  const next = goal === "asked" && document.querySelector(".asked li");
  const target = next || byId("answer");
  target.focus({ preventScroll: !next });
}

async function start() {
  const told = await fetch("/api/choices", { headers: tokenHeader(), credentials: "omit" });
  if (told.status === 401) throw new Refusal(401, "this needs the token", "type the token that rewriter serve printed");
  state.choices = await told.json();
}

function tokenHeader() {
  const token = sessionStorage.getItem("rewriter.token");
  return token ? { authorization: `Bearer ${token}` } : {};
}

async function opened(file) {
  const heard = byId("heard");
  heard.textContent = `Reading ${file.name} \u2026`;
  try {
    if (!state.choices) await start();
    if (file.size > state.choices.most.upload) {
      throw new Refusal(413, `${file.name} is larger than ${state.choices.most.upload / 1e6} MB`, "give a smaller file");
    }
    const taken = await readFile(file);
    if (tooMuch(taken.text)) return;
    heard.textContent = [`${file.name}: read as ${taken.kind}.`, ...taken.warnings].join(" ");
    setText(taken.text, taken.asked ? taken.asked.answers : null);
    if (taken.asked) {
      byId("guide").value = taken.asked.guide;
      byId("strength").value = taken.asked.strength;
      byId("written").value = taken.asked.written_for;
      place.set(taken.asked);
    }
    again(true);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    heard.textContent = `${error.message}; ${error.mend}.`;
    if (error.status === 401) refused(error);
  }
}

async function download(style) {
  const said = byId("taken");
  try {
    const name = await saveFile({ ...asked(), style });
    said.textContent = `${name} is in your downloads.`;
  } catch (error) {
    said.textContent = `${error.message}; ${error.mend || ""}`;
  }
}

async function copy() {
  const said = byId("taken");
  try {
    await navigator.clipboard.writeText(state.made.text);
    said.textContent = "Copied, with its notes.";
  } catch {
    said.textContent = "This browser does not let a page copy. Download it as text instead.";
  }
}

function manner() {
  const kept = load("manner", {});
  for (const id of ["guide", "strength"]) {
    if (kept[id]) byId(id).value = kept[id];
    if (!byId(id).value) byId(id).selectedIndex = 0;
    byId(id).addEventListener("change", () => {
      store("manner", { guide: byId("guide").value, strength: byId("strength").value });
      again(true);
    });
  }
  byId("written").addEventListener("input", () => again());
}

function hands() {
  byId("file").addEventListener("change", (event) => {
    const [file] = event.target.files;
    event.target.value = "";
    if (file) opened(file);
  });
  document.addEventListener("dragover", (event) => event.preventDefault());
  document.addEventListener("drop", (event) => {
    event.preventDefault();
    const [file] = event.dataTransfer.files;
    if (file) opened(file);
    const text = event.dataTransfer.getData("text/plain");
    if (!file && text && !tooMuch(text)) {
      setText(text);
      again(true);
    }
  });
  byId("sample").addEventListener("click", () => {
    setText(SAMPLE);
    if (place.empty()) place.set({ elevation: "8200 ft" });
    again(true);
  });
  byId("empty").addEventListener("click", () => {
    setText("", []);
    byId("heard").textContent = "";
    paste.focus();
    again(true);
  });
  byId("print").addEventListener("click", () => window.print());
  byId("copy").addEventListener("click", copy);
  byId("keep").addEventListener("click", () => download("kept"));
  byId("download").addEventListener("click", () => download(byId("style").value));
  byId("door").addEventListener("submit", (event) => {
    event.preventDefault();
    setToken(byId("token").value.trim());
    byId("door").hidden = true;
    again(true);
  });
  window.addEventListener("beforeprint", () => {
    for (const sheet of document.querySelectorAll("details.sheet")) sheet.open = true;
  });
}

takeToken();
looks();
manner();
hands();
setText(load("paste", ""));
again(true);
