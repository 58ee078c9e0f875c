// Characters as the program counts them (code points), and answers that stay with their words while the text changes.

const ASTRAL = /[\ud800-\udbff][\udc00-\udfff]/;

// Gives slice(start, end) in code points.
export function counted(text) {
  if (!ASTRAL.test(text)) return { length: text.length, slice: (start, end) => text.slice(start, end) };
  const points = Array.from(text);
  return { length: points.length, slice: (start, end) => points.slice(start, end).join("") };
}

function points(text, upTo) {
  return counted(text.slice(0, upTo)).length;
}

// Answers after an edit: those behind it move along, those inside it are gone.
export function moved(answers, before, after) {
  if (before === after || !answers.length) return answers;
  const most = Math.min(before.length, after.length);
  let head = 0;
  while (head < most && before[head] === after[head]) head += 1;
  let tail = 0;
  while (tail < most - head && before[before.length - 1 - tail] === after[after.length - 1 - tail]) tail += 1;
  const from = points(before, head);
  const to = points(before, before.length - tail);
  const shift = points(after, after.length - tail) - to;
  const kept = [];
  for (const answer of answers) {
    const [what, place] = answer.query.split("@");
    const at = Number(place);
    if (at === 0 || at < from) kept.push(answer);
    else if (at >= to) kept.push({ query: `${what}@${at + shift}`, value: answer.value });
  }
  return kept;
}

const HIDDEN = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u061c\u200b\u200e\u200f\u202a-\u202e\u2060-\u2069\ufeff]/u;

// Text in which characters that hide or turn the writing round are shown as a sign, and do nothing.
export function shown(text, make) {
  const out = [];
  let plain = "";
  for (const sign of text) {
    if (!HIDDEN.test(sign)) {
      plain += sign;
      continue;
    }
    if (plain) out.push(plain);
    plain = "";
    const code = sign.codePointAt(0).toString(16).toUpperCase().padStart(4, "0");
    out.push(make("span", { class: "odd", title: `hidden character U+${code}` }, "\u25cc"));
  }
  if (plain) out.push(plain);
  return out;
}

// A short name for a text, by which its answers are remembered (64-bit FNV-1a in two halves).
export function mark(text) {
  let a = 0x811c9dc5;
  let b = 0xc9dc5118;
  for (let at = 0; at < text.length; at += 1) {
    a = Math.imul(a ^ text.charCodeAt(at), 0x01000193);
    b = Math.imul(b ^ text.charCodeAt(text.length - 1 - at), 0x01000193);
  }
  return `${(a >>> 0).toString(36)}${(b >>> 0).toString(36)}${text.length.toString(36)}`;
}
