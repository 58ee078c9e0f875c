// Two pictures drawn here: the formula before and after, and the guides against elevation; each with its words.

import { draw, fresh, make, spoken } from "./dom.js";

export function pictures(one, room) {
  const box = make("details", { class: "fold" }, make("summary", {}, "Pictures: the formula, and the guides by elevation"));
  box.addEventListener("toggle", async () => {
    if (!box.open || box.childElementCount > 1) return;
    const said = make("p", { role: "status" }, "Drawing \u2026");
    box.append(said);
    try {
      const [weighed, curves] = await Promise.all([room.formula(), room.curves()]);
      const mine = (made) => made.cards.find((found) => found.start === one.start);
      const batters = mine(weighed) ? mine(weighed).batters : [];
      const lines = mine(curves) ? mine(curves).lines : [];
      said.remove();
      const em = parseFloat(getComputedStyle(document.documentElement).fontSize);
      const size = { em, wide: Math.max(250, Math.min(720, box.clientWidth - 4)) };
      box.append(
        ...(batters.length ? batters.map((batter) => bars(batter, weighed.meaning, size)) : [make("p", {}, "There is no batter or dough with flour in it to weigh.")]),
        ...(lines.length ? [legend(curves), ...lines.map((line) => graph(line, curves, size))] : [make("p", {}, "No guide changes this recipe at any elevation.")]),
      );
    } catch (error) {
      said.textContent = `${error.message}; ${error.mend || ""}`;
    }
  });
  return box;
}

function figured(title, text, width, height, children, table) {
  const ids = [fresh("t"), fresh("d")];
  return make(
    "figure",
    { class: "drawn" },
    draw(
      "svg",
      { viewBox: `0 0 ${width} ${height}`, role: "img", "aria-labelledby": ids.join(" ") },
      draw("title", { id: ids[0] }, title),
      draw("desc", { id: ids[1] }, text),
      children,
    ),
    make("figcaption", {}, title),
    make("details", {}, make("summary", {}, "In figures"), table),
  );
}

function tabled(heads, rows) {
  return make(
    "table",
    {},
    make("thead", {}, make("tr", {}, heads.map((head) => make("th", { scope: "col" }, head)))),
    make("tbody", {}, rows.map(([first, ...cells]) => make("tr", {}, make("th", { scope: "row" }, first), cells.map((cell) => make("td", {}, cell))))),
  );
}

const share = (value) => (value === null ? "?" : `${value >= 10 ? value.toFixed(0) : value.toFixed(1)} %`);

function bars(batter, meaning, { em, wide }) {
  const most = Math.max(100, ...batter.rows.flatMap((row) => row.percent));
  const left = 4.6 * em;
  const scale = (wide - left - 7 * em) / most;
  const step = 2.2 * em;
  const drawn = batter.rows.map((row, index) => {
    const y = 4 + index * step;
    const [was, now] = row.percent;
    const changed = Math.abs(was - now) > 0.05;
    const end = left + scale * Math.max(was, now) + 8;
    return [
      draw("text", { x: left - 8, y: y + 1.1 * em, class: "name" }, spoken(row.role)),
      draw("rect", { x: left, y, width: Math.max(1, scale * was), height: 0.65 * em, class: "before" }),
      draw("rect", { x: left, y: y + 0.75 * em, width: Math.max(1, scale * now), height: 0.8 * em, class: changed ? "after" : "same" }),
      draw("text", { x: end, y: y + 1.1 * em, class: "value" }, changed ? `${share(was)} \u2192 ${share(now)}` : share(now)),
    ];
  });
  const told = batter.rows.map((row) => `${spoken(row.role)} ${share(row.percent[0])}, then ${share(row.percent[1])}`);
  const title = `The formula of the ${spoken(batter.kind)}, before (outlined) and after (solid)`;
  const lacking = batter.unweighed.length ? ` Not weighed: ${batter.unweighed.join(", ")}.` : "";
  const rows = batter.rows.map((row) => [spoken(row.role), row.names.join(", "), ...row.percent.map(share)]);
  const height = 8 + step * batter.rows.length;
  const made = figured(title, `${meaning} ${told.join("; ")}.`, wide, height, drawn, tabled(["role", "of", "before", "after"], rows));
  made.append(make("p", { class: "quiet" }, `${meaning}${lacking}`));
  return made;
}

const DASH = ["one", "two", "three", "four"];

function legend(curves) {
  return make(
    "ul",
    { class: "legend" },
    curves.guides.map((guide, index) =>
      make("li", {}, draw("svg", { viewBox: "0 0 60 12", "aria-hidden": "true" }, draw("path", { d: "M2 6H58", class: `guide ${DASH[index]}` })), guide.title),
    ),
  );
}

function graph(line, curves, { em, wide }) {
  const [high, left, foot, top, right] = [10 * em, 4.4 * em, 1.6 * em, 14, 1.4 * em];
  const values = Object.values(line.by).flatMap((by) => [...by.line, by.here]);
  const low = Math.min(line.rest, ...values);
  const peak = Math.max(line.rest, ...values);
  const last = curves.feet[curves.feet.length - 1];
  const x = (feet) => left + ((wide - left - right) * Math.min(feet, last)) / last;
  const y = (value) => top + ((high - top - foot) * (peak - value)) / (peak - low || 1);
  const say = (value) => `${Math.round(value * 10) / 10} ${line.unit}`;
  const here = Math.max(0, Math.min(curves.here_ft, last));
  const feet = wide < 26 * em ? [0, 4000, 8000, 12000] : [0, 2000, 4000, 6000, 8000, 10000, 12000];
  const levels = [low, (low + peak) / 2, peak];
  const drawn = [
    feet.map((one) => [draw("path", { d: `M${x(one)} ${top}V${high - foot}`, class: "grid" }), draw("text", { x: x(one), y: high - 0.5 * em, class: "tick" }, one ? one.toLocaleString("en-US") : "sea")]),
    levels.map((one) => [draw("path", { d: `M${left} ${y(one)}H${wide - right}`, class: "grid" }), draw("text", { x: left - 8, y: y(one) + 5, class: "level" }, say(one))]),
    draw("path", { d: `M${x(here)} ${top}V${high - foot}`, class: "here" }),
    draw("path", { d: `M${x(here) - 9} ${top - 10}h18l-9 12z`, class: "flag" }),
    curves.guides.map((guide, index) => {
      const by = line.by[guide.name];
      const path = curves.feet.map((one, at) => `${at ? "L" : "M"}${x(one).toFixed(1)} ${y(by.line[at]).toFixed(1)}`).join("");
      return [draw("path", { d: path, class: `guide ${DASH[index]}` }), draw("circle", { cx: x(here), cy: y(by.here), r: 5, class: `dot ${DASH[index]}` })];
    }),
  ];
  const place = `${Math.round(curves.here_ft).toLocaleString("en-US")} ft`;
  const told = curves.guides.map((guide) => `${guide.title} ${say(line.by[guide.name].here)}`).join("; ");
  const marks = feet.filter((one) => one).concat([Math.round(curves.here_ft)]).sort((a, b) => a - b);
  const rows = curves.guides.map((guide) => {
    const by = line.by[guide.name];
    return [guide.title, ...marks.map((one) => (curves.feet.includes(one) ? say(by.line[curves.feet.indexOf(one)]) : say(by.here)))];
  });
  const table = make("div", { class: "wide", tabindex: "0", role: "region", "aria-label": `${line.title} in figures` }, tabled(["guide", ...marks.map((one) => `${one.toLocaleString("en-US")} ft`)], rows));
  return figured(`${line.title[0].toUpperCase()}${line.title.slice(1)}, by elevation; your kitchen at ${place} marked`, `In this kitchen: ${told}.`, wide, high, drawn, table);
}
