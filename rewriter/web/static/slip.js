// The slip under a line: why, by which source, the exact figure, what the other guides say, and how to overrule it.

import { make, options, spoken, unseen } from "./dom.js";

export function slip(change, one, room, close) {
  const box = make(
    "div",
    { class: "slip", role: "group", "aria-label": `Why ${change.new} for ${change.about}` },
    make("p", { class: "why" }, sentence(change.why)),
    make(
      "dl",
      {},
      change.exact && [make("dt", {}, "Exactly"), make("dd", {}, figure(change.exact, change.exact_max))],
      change.unguarded && [make("dt", {}, "The guide alone"), make("dd", {}, figure(change.unguarded))],
      make("dt", {}, "Source"),
      make("dd", {}, change.source || "none given"),
    ),
    others(change, one, room),
    overrule(change, one, room),
    make("p", { class: "row" }, make("button", { type: "button", class: "plain", onclick: close }, "Fold away")),
  );
  box.addEventListener("keydown", (event) => {
    if (event.key === "Escape") {
      event.stopPropagation();
      close();
    }
  });
  return box;
}

function sentence(words) {
  const text = words.trim();
  return text ? text[0].toUpperCase() + text.slice(1) + (/[.!?]$/.test(text) ? "" : ".") : "";
}

export function figure(exact, top) {
  const whole = exact.exact.includes("/") ? ` (${exact.exact})` : "";
  return top ? `${exact.words} to ${top.words}` : exact.words + whole;
}

function others(change, one, room) {
  const body = make("tbody");
  const said = make("p", { class: "quiet", role: "status" }, "Asking the other guides \u2026");
  const box = make(
    "div",
    { class: "others" },
    make("table", {}, make("caption", {}, "What each guide says"), body),
    said,
  );
  room.compared().then(
    (made) => {
      said.remove();
      const card = made.cards.find((found) => found.start === one.start);
      const places = card ? card.places : [];
      const place =
        places.find((found) => found.start === change.start && found.end === change.end) ||
        places.find((found) => found.start <= change.start && change.start < found.end + 12 && change.rule === "oven");
      for (const guide of made.guides) {
        const theirs = place && place.by[guide.name];
        const mine = guide.name === one.guide;
        body.append(
          make(
            "tr",
            { class: mine ? "mine" : null },
            make("th", { scope: "row" }, guide.title, mine && unseen(" (the one you chose)")),
            make(
              "td",
              {},
              (theirs && theirs.new) || "as written",
              theirs && theirs.exact && [" ", make("span", { class: "quiet" }, `exactly ${theirs.exact.words}`)],
            ),
          ),
        );
      }
      for (const start of card ? card.start_from : []) {
        box.append(make("p", { class: "quiet" }, `For a ${spoken(start.kind)} start from ${spoken(start.guide)}: ${start.why}`));
      }
    },
    (error) => {
      said.textContent = `The other guides cannot be asked: ${error.message}.`;
    },
  );
  return box;
}

function overrule(change, one, room) {
  const about = one.ingredients.find((found) => found.start <= change.start && change.start < Math.max(found.end, found.start + 1));
  const tools = [];
  if (change.end > change.start) {
    tools.push(
      make(
        "button",
        { type: "button", onclick: () => room.answer(`skip@${change.start}`, "yes", `${change.old} left as it is`) },
        "Leave this one as it was",
      ),
    );
  }
  if (about) {
    tools.push(
      chooser("It is", about.role, room.choices.roles, (value) => room.answer(`role@${about.start}`, value, `${about.name} is ${spoken(value)}`)),
      chooser("It goes into", about.part, room.choices.parts, (value) => room.answer(`part@${about.start}`, value, `${about.name} goes into the ${spoken(value)}`)),
    );
  }
  return tools.length ? make("div", { class: "row overrule", role: "group", "aria-label": "Set it right" }, tools) : null;
}

// A choice that says what is chosen now and takes another.
export function chooser(words, now, rows, done) {
  const select = make("select", {}, options(rows, now));
  select.addEventListener("change", () => done(select.value));
  return make("label", {}, `${words} `, select);
}
