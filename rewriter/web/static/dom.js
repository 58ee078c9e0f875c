// Building the page: every word is set as text, nothing is ever parsed as markup.

const SVG = "http://www.w3.org/2000/svg";

function fill(node, attributes, children) {
  for (const [name, value] of Object.entries(attributes || {})) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) node.addEventListener(name.slice(2), value);
    else if (name === "value") node.value = value;
    else node.setAttribute(name, value === true ? "" : String(value));
  }
  for (const child of children.flat(Infinity)) {
    if (child !== null && child !== undefined && child !== false) node.append(child);
  }
  return node;
}

export function make(tag, attributes, ...children) {
  return fill(document.createElement(tag), attributes, children);
}

export function draw(tag, attributes, ...children) {
  return fill(document.createElementNS(SVG, tag), attributes, children);
}

export function byId(id) {
  return document.getElementById(id);
}

// Words for the ear alone.
export function unseen(words) {
  return make("span", { class: "unseen" }, words);
}

export function spoken(name) {
  return name.replaceAll("-", " ");
}

export function options(rows, chosen, first) {
  const made = rows.map((row) =>
    make("option", { value: row.name, title: row.text || null, selected: row.name === chosen }, spoken(row.name)),
  );
  return first ? [make("option", { value: "", selected: !chosen }, first), ...made] : made;
}

let count = 0;
export function fresh(name) {
  count += 1;
  return `${name}-${count}`;
}
