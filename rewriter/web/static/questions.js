// Questions, each answered where it stands; and what was answered, to be taken back.

import { room_id } from "./card.js";
import { make, options, spoken } from "./dom.js";

const FEW = 6;

export function questions(asked, room) {
  if (!asked.length) return null;
  return make(
    "section",
    { class: "asked" },
    make("h4", {}, asked.length === 1 ? "One thing to tell" : `${asked.length} things to tell`),
    make("ul", {}, asked.map((query) => make("li", { id: room_id(query), tabindex: "-1" }, question(query, room)))),
  );
}

function question(query, room) {
  const said = query.end > query.start ? room.source.slice(query.start, query.end).replace(/\s+/g, " ").trim() : "";
  const done = (value) => room.answer(query.id, value, `${said || "the kitchen"}: ${spoken(value)}`, true);
  return [
    make("p", {}, said && !query.question.includes(said) ? [make("q", {}, said.slice(0, 90)), " "] : null, query.question),
    query.choices.length && query.choices.length <= FEW
      ? make(
          "p",
          { class: "row", role: "group", "aria-label": "Answer" },
          query.choices.map((choice) => make("button", { type: "button", onclick: () => done(choice) }, spoken(choice))),
          free(query, room, done),
        )
      : query.choices.length
        ? picker(query, done)
        : free(query, room, done, true),
  ];
}

function picker(query, done) {
  const select = make("select", { "aria-label": "Your answer" }, options(query.choices.map((name) => ({ name })), "", "choose \u2026"));
  const button = make("button", { type: "button", onclick: () => select.value && done(select.value) }, "That is it");
  return make("p", { class: "row" }, select, button);
}

// Measures and elevations can be told in the person's own words too.
function free(query, room, done, only) {
  if (!only && !/^(unit|quantity|written-for|heat|air)@/.test(query.id)) return null;
  const input = make("input", { type: "text", size: "10", "aria-label": only ? "Your answer" : "Another answer", autocomplete: "off" });
  const tell = () => input.value.trim() && done(input.value.trim());
  input.addEventListener("keydown", (event) => event.key === "Enter" && tell());
  return make("span", { class: "row" }, input, make("button", { type: "button", onclick: tell }, "Tell"));
}

export function told(answers, room) {
  if (!answers.length) return null;
  return make(
    "section",
    { class: "told" },
    make("h3", {}, "What you told"),
    make(
      "ul",
      {},
      answers.map((answer) =>
        make(
          "li",
          {},
          `${room.naming(answer)} `,
          make("button", { type: "button", class: "plain", "aria-label": `Take back: ${room.naming(answer)}`, onclick: () => room.takeBack(answer) }, "Take back"),
        ),
      ),
    ),
  );
}
