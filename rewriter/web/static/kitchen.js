// Where the kitchen is, said in one of three ways, and remembered on this device.

import { byId, make } from "./dom.js";
import { load, store } from "./memory.js";

const WAYS = {
  elevation: { units: ["ft", "m"], help: "From a map, a town sign or a phone: 8200, say.", start: "" },
  barometer: {
    units: ["hPa", "inHg", "mmHg"],
    help: "The station pressure of a barometer in your kitchen. A weather report\u2019s figure tells nothing: it is reduced to sea level.",
    start: "",
  },
  boils_at: {
    units: ["F", "C"],
    help: "A thermometer in plain water at a rolling boil, clear of the pan. 2 \u00b0F less is about 1,000 ft more.",
    start: "",
  },
};
const FOOT = 0.3048;

export const degrees = (words) => words.replace(/ ([FC])\b/g, "\u00a0\u00b0$1");

export function kitchen(changed) {
  const way = byId("way");
  const figure = byId("figure");
  const unit = byId("unit");
  const rod = byId("rod");
  const told = load("kitchen", { way: "elevation", figures: {}, units: {} });

  function shape() {
    const { units, help } = WAYS[told.way];
    way.value = told.way;
    unit.replaceChildren(...units.map((one) => make("option", { value: one }, one === "F" || one === "C" ? `\u00b0${one}` : one)));
    unit.value = told.units[told.way] || units[0];
    figure.value = told.figures[told.way] || "";
    byId("way-help").textContent = help;
  }

  function keep() {
    told.figures[told.way] = figure.value.trim();
    told.units[told.way] = unit.value;
    store("kitchen", told);
    changed();
  }

  function follow() {
    const number = Number(figure.value.replaceAll(",", ""));
    if (told.way === "elevation" && figure.value.trim() && Number.isFinite(number)) {
      rod.value = unit.value === "m" ? number / FOOT : number;
    }
    sayRod();
  }

  function sayRod() {
    const feet = Number(rod.value);
    rod.setAttribute("aria-valuetext", `${feet.toLocaleString("en-US")} feet`);
  }

  way.addEventListener("change", () => {
    told.way = way.value;
    shape();
    keep();
  });
  figure.addEventListener("input", () => {
    follow();
    keep();
  });
  unit.addEventListener("change", () => {
    const old = told.units[told.way] || WAYS[told.way].units[0];
    const number = Number(figure.value.replaceAll(",", ""));
    if (told.way === "elevation" && figure.value && Number.isFinite(number) && old !== unit.value) {
      figure.value = String(Math.round(unit.value === "m" ? number * FOOT : number / FOOT));
    }
    follow();
    keep();
  });
  rod.addEventListener("input", () => {
    if (told.way !== "elevation") {
      told.way = "elevation";
      shape();
    }
    figure.value = String(Math.round(unit.value === "m" ? rod.value * FOOT : rod.value));
    sayRod();
    keep();
  });
  shape();
  if (!figure.value) rod.value = 0;
  follow();

  return {
    // The fields of a request; null where it is not said yet.
    asked() {
      const number = figure.value.trim();
      if (!number) return null;
      return { [told.way]: /[a-z\u00b0'"]/i.test(number) ? number : `${number} ${unit.value}` };
    },
    set(asked) {
      const found = Object.keys(WAYS).find((name) => asked[name]);
      if (!found) return;
      const parts = /^\s*([-\d.,]+)\s*(\S*)/.exec(asked[found]);
      told.way = found;
      told.figures[found] = parts ? parts[1] : asked[found];
      told.units[found] = parts && WAYS[found].units.includes(parts[2]) ? parts[2] : WAYS[found].units[0];
      shape();
      follow();
      keep();
    },
    stands(air) {
      if (told.way !== "elevation") {
        rod.value = air.elevation_ft;
        sayRod();
      }
      byId("air").textContent = `${air.place}. Water boils at ${degrees(air.boiling)}.`;
    },
    empty: () => !figure.value.trim(),
    // Points at what is still to be said.
    want: (wanted) => figure.classList.toggle("wanted", wanted),
    focus: () => figure.focus(),
  };
}
