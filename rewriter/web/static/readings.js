// How a recipe was read, line by line, with every reading open to be overruled.

import { make, spoken } from "./dom.js";
import { chooser } from "./slip.js";

export function readings(one, room) {
  const box = make("details", { class: "fold" }, make("summary", {}, "How it was read, to set right"));
  box.addEventListener("toggle", () => box.open && box.childElementCount === 1 && box.append(...inside(one, room)), { once: false });
  return box;
}

function inside(one, room) {
  return [
    make("p", { class: "quiet" }, "Change what is wrong: the recipe is written anew at once. What was not sure is marked."),
    make("div", { class: "row" }, kinds(one, room)),
    make("div", { class: "wide", tabindex: "0", role: "region", "aria-label": "Ingredients as read" }, ingredients(one, room)),
    heats(one, room),
  ];
}

function kinds(one, room) {
  const parts = one.parts.length ? one.parts : [{ name: "batter", kind: one.kind, start: one.start, why: "" }];
  return parts.map((part, index) => {
    const at = index ? part.start : one.start;
    return make(
      "span",
      {},
      chooser(`The ${spoken(part.name)} is a`, part.kind, room.choices.kinds, (value) => room.answer(`kind@${at}`, value, `the ${spoken(part.name)} is a ${spoken(value)}`)),
      part.why && make("span", { class: "quiet" }, ` (${part.why})`),
    );
  });
}

function ingredients(one, room) {
  return make(
    "table",
    {},
    make("thead", {}, make("tr", {}, ["ingredient", "amount read", "it is", "it goes into"].map((head) => make("th", { scope: "col" }, head)))),
    make(
      "tbody",
      {},
      one.ingredients.map((row) =>
        make(
          "tr",
          { class: row.sure ? null : "unsure" },
          make("th", { scope: "row" }, row.name, !row.sure && make("span", { class: "quiet" }, " (not sure)")),
          make("td", {}, row.amounts.map((amount) => measure(amount, row, room))),
          make("td", {}, bare(`${row.name} is`, row.role, room.choices.roles, (value) => room.answer(`role@${row.start}`, value, `${row.name} is ${spoken(value)}`))),
          make("td", {}, bare(`${row.name} goes into`, row.part, room.choices.parts, (value) => room.answer(`part@${row.start}`, value, `${row.name} goes into the ${spoken(value)}`))),
        ),
      ),
    ),
  );
}

function bare(label, now, rows, done) {
  const made = chooser("", now, rows, done);
  const select = made.querySelector("select");
  select.setAttribute("aria-label", label);
  return select;
}

function measure(amount, row, room) {
  const input = make("input", { type: "text", size: "9", value: amount.read, "aria-label": `${amount.text} of ${row.name}, read as` });
  input.addEventListener("change", () => {
    if (input.value.trim() && input.value.trim() !== amount.read) {
      room.answer(`quantity@${amount.start}`, input.value.trim(), `${amount.text} is ${input.value.trim()}`);
    }
  });
  return input;
}

function heats(one, room) {
  if (!one.heats.length) return null;
  return make(
    "ul",
    { class: "heats" },
    one.heats.map((heat) => {
      const input = make("input", {
        type: "text",
        size: "7",
        value: heat.place === "oven" && heat.fahrenheit !== null ? String(Math.round(heat.fahrenheit)) : "not oven",
        "aria-label": `${heat.text}: oven degrees F, or not oven`,
      });
      input.addEventListener("change", () => input.value.trim() && room.answer(`heat@${heat.start}`, input.value.trim(), `${heat.text} is ${input.value.trim()}`));
      return make("li", {}, `\u201c${heat.text}\u201d is heat of the ${heat.place} (${spoken(heat.purpose)}); in the oven, degrees F: `, input);
    }),
  );
}
