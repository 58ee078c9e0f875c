// "I baked it": where, what was done otherwise, what went wrong, and how good it was; stored, and the next step offered.

import { box, text, tried } from "./box-room.js";
import { byId, make } from "./dom.js";
import { Refusal } from "./net.js";

const MOST_PHOTO = 10_000_000;
const WAYS = { elevation: "My kitchen stands at", barometer: "My barometer reads", boils_at: "My plain water boils at" };

export function bakeForm(one, here, kept) {
  const id = (name) => `bake-${name}`;
  const field = (name, words, input, help) =>
    make("p", {}, make("label", { for: id(name) }, words), " ", input, help && make("span", { class: "quiet part" }, help));
  const way = make("select", { id: id("way"), "aria-label": "How you know the height" }, Object.entries(WAYS).map(([name, words]) => make("option", { value: name, selected: name === here.way }, words)));
  const where = make("input", { id: id("where"), type: "text", size: "11", value: here.words, placeholder: "8200 ft", autocomplete: "off", required: true, "aria-label": "Figure and unit" });
  const day = make("input", { id: id("day"), type: "date", value: today() });
  const which = make("select", { id: id("which") }, make("option", { value: "" }, "the newest for this kitchen"), one.revisions.map((each) => make("option", { value: each.number }, each.called)));
  const changed = make("input", { id: id("changed"), type: "text", size: "30", maxlength: "400", autocomplete: "off" });
  const rating = make("select", { id: id("rating") }, make("option", { value: "" }, "not rated"), [1, 2, 3, 4, 5].map((stars) => make("option", { value: stars }, `${stars} of 5`)));
  const outcome = make("select", { id: id("outcome") }, make("option", { value: "" }, "as rating and faults tell"), make("option", { value: "worked" }, "it worked"), make("option", { value: "failed" }, "it failed"));
  const note = make("textarea", { id: id("note"), rows: "4", maxlength: "20000" });
  const photo = make("input", { id: id("photo"), type: "file", accept: "image/jpeg,image/png" });
  const faults = make("fieldset", { class: "faults" }, make("legend", {}, "What went wrong?"), byId("fault-list").content.cloneNode(true));
  const out = make("div", { id: id("next"), tabindex: "-1" });
  const go = make("button", { type: "submit" }, "Keep this bake");

  async function submit() {
    go.disabled = true;
    try {
      const body = { card: one.number, [way.value]: where.value, day: day.value, changed: changed.value, outcome: outcome.value, note: note.value };
      body.faults = [...faults.querySelectorAll("input:checked")].map((ticked) => ticked.value);
      if (rating.value) body.rating = Number(rating.value);
      if (which.value) body.revision = Number(which.value);
      if (photo.files.length) body.photo = await base64(photo.files[0]);
      const made = await box("bake", body);
      await kept("The bake is kept.");
      offered(made);
    } finally {
      go.disabled = false;
    }
  }

  const form = make(
    "form",
    {
      onsubmit: (event) => {
        event.preventDefault();
        tried(submit);
      },
    },
    make("p", { class: "row" }, way, where),
    field("day", "Day", day),
    field("which", "What was baked", which),
    field("changed", "Done otherwise", changed, "Such as: baking powder 1 1/2 tsp; oven 365 F"),
    faults,
    field("rating", "How good was it?", rating),
    field("outcome", "What came of it?", outcome),
    field("note", "Note", note),
    field("photo", "Photo", photo),
    make("p", { class: "row" }, go),
  );
  return make(
    "section",
    { class: "sect", "aria-labelledby": "baked-title" },
    make("h2", { id: "baked-title" }, "I baked it"),
    out,
    make("details", { class: "fold" }, make("summary", {}, "Write a bake down"), form),
  );
}

// The page is drawn anew when a bake is kept; its next step stands above the form then, and the eye goes there.
function offered(made) {
  const out = byId("bake-next");
  const said = made.words.map((words) => make("p", {}, `${words[0].toUpperCase()}${words.slice(1)}`, /[.!?]$/.test(words) ? "" : "."));
  if (made.next) {
    out.replaceChildren(
      make("h3", {}, "The next step"),
      ...said,
      make("p", {}, `It is revision ${made.next.number}, for your next bake here: one change at a time.`),
      make("details", { class: "fold" }, make("summary", {}, "The recipe with this step"), text(made.next.text)),
    );
  } else {
    out.replaceChildren(...said, make("p", {}, made.bake.outcome === "worked" ? "It worked: leave the recipe alone from here on, and give its revision a name." : "Nothing further is changed."));
  }
  out.classList.add("told");
  out.focus();
}

function today() {
  const now = new Date();
  return new Date(now - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
}

async function base64(file) {
  if (file.size > MOST_PHOTO) throw new Refusal(413, `${file.name} is larger than ${MOST_PHOTO / 1e6} MB`, "give a smaller photo");
  const bytes = new Uint8Array(await file.arrayBuffer());
  let raw = "";
  for (let at = 0; at < bytes.length; at += 0x8000) raw += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(raw);
}
