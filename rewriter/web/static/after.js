// "I baked it": what came of it, and the next step.

import { words } from "./card.js";
import { make, spoken } from "./dom.js";

export function after(one, room) {
  const box = make("details", { class: "fold" }, make("summary", {}, "I baked it"));
  box.addEventListener("toggle", () => box.open && box.childElementCount === 1 && box.append(form(one, room)));
  return box;
}

function form(one, room) {
  const input = make("input", { type: "text", size: "28", autocomplete: "off" });
  const out = make("div", { role: "status" });
  const go = () => input.value.trim() && find(input.value.trim(), one, room, out);
  input.addEventListener("keydown", (event) => event.key === "Enter" && go());
  const faults = room.choices.faults.map((fault) =>
    make(
      "button",
      {
        type: "button",
        title: fault.text,
        onclick: () => {
          input.value = fault.name;
          go();
        },
      },
      fault.name,
    ),
  );
  return make(
    "div",
    {},
    make("p", {}, make("label", {}, "What came of it? ", input), " ", make("button", { type: "button", onclick: go }, "What next?")),
    make("p", { class: "row", role: "group", "aria-label": "Or choose a fault" }, faults),
    make("p", { class: "quiet" }, "If it came out well, leave the recipe alone from here on, and save it."),
    out,
  );
}

async function find(fault, one, room, out) {
  out.replaceChildren(make("p", {}, "Looking \u2026"));
  try {
    const made = await room.next(fault);
    const card = made.cards.find((found) => found.start === one.start);
    const steps = card ? card.steps : [];
    out.replaceChildren(
      make("p", {}, make("strong", {}, `${spoken(made.fault)}: `), made.cause),
      steps.length
        ? make("ol", { class: "steps" }, steps.map((step, index) => make("li", {}, next(step, index, one, room))))
        : make("p", {}, "Nothing in this recipe is changed for your kitchen, so its fault has another cause."),
    );
  } catch (error) {
    out.replaceChildren(make("p", {}, `${error.message}; ${error.mend || ""}`));
  }
}

function next(step, index, one, room) {
  const box = make("details", {}, make("summary", {}, index ? "The recipe with the steps up to this one" : "The recipe with this step"));
  box.addEventListener("toggle", () => {
    if (box.open && box.childElementCount === 1) box.append(words({ ...step.card, from: one.from, to: one.to, questions: [] }, room));
  });
  return [
    make("p", {}, index === 0 ? make("strong", {}, "Now: ") : "If that is not enough: ", step.text),
    make("p", { class: "quiet" }, step.source),
    box,
  ];
}
