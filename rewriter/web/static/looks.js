// How the page looks: larger type, day or night, remembered on this device.

import { byId } from "./dom.js";
import { load, store } from "./memory.js";

export function looks() {
  const larger = byId("larger");
  const light = byId("light");
  const kept = load("look", { larger: false, light: "" });
  const wear = () => {
    document.documentElement.classList.toggle("larger", kept.larger);
    larger.setAttribute("aria-pressed", String(kept.larger));
    if (kept.light) document.documentElement.dataset.light = kept.light;
    else delete document.documentElement.dataset.light;
    light.value = kept.light;
    store("look", kept);
  };
  larger.addEventListener("click", () => {
    kept.larger = !kept.larger;
    wear();
  });
  light.addEventListener("change", () => {
    kept.light = light.value;
    wear();
  });
  wear();
}
