// Talking to the program: JSON in, JSON out; one request of a kind in flight.

import { make } from "./dom.js";

const TOKEN = "rewriter.token";

export class Refusal extends Error {
  constructor(status, what, mend) {
    super(what);
    this.status = status;
    this.mend = mend || "";
  }
}

// The token comes behind the # of the address; it is taken out of sight at once.
export function takeToken() {
  const told = decodeURIComponent(location.hash.slice(1));
  if (/^[\w-]{12,}$/.test(told)) {
    setToken(told);
    history.replaceState(null, "", location.pathname);
  }
}

export function setToken(token) {
  sessionStorage.setItem(TOKEN, token);
}

async function send(path, body, headers) {
  const token = sessionStorage.getItem(TOKEN);
  let answer;
  try {
    answer = await fetch(path, {
      method: "POST",
      body,
      headers: { ...headers, ...(token ? { authorization: `Bearer ${token}` } : {}) },
      credentials: "omit",
      redirect: "error",
    });
  } catch {
    throw new Refusal(0, "the program does not answer", "see whether rewriter serve still runs, then change something");
  }
  if (answer.ok) return answer;
  const told = await answer.json().catch(() => ({}));
  const error = told.error || { what: "the program failed", mend: "please report it with the recipe" };
  throw new Refusal(answer.status, error.what, error.mend);
}

export async function ask(name, body) {
  const answer = await send(`/api/${name}`, JSON.stringify(body), { "content-type": "application/json" });
  return answer.json();
}

async function getFile(body, path = "/api/file") {
  const answer = await send(path, JSON.stringify(body), { "content-type": "application/json" });
  const named = /filename="([^"]+)"/.exec(answer.headers.get("content-disposition") || "");
  return { name: named ? named[1] : "recipe.txt", blob: await answer.blob() };
}

// Fetches a file and puts it in the downloads; its name.
export async function saveFile(body, path) {
  const { name, blob } = await getFile(body, path);
  const link = make("a", { href: URL.createObjectURL(blob), download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
  return name;
}

export async function readFile(file) {
  const answer = await send("/api/intake", file, {
    "content-type": "application/octet-stream",
    "x-file-name": encodeURIComponent(file.name || ""),
  });
  return answer.json();
}

// Calls `work` a little after the last call, never twice at once; what came meanwhile is done after it.
export function oneAtATime(work, wait) {
  let timer = null;
  let busy = false;
  let again = false;
  async function run() {
    if (busy) {
      again = true;
      return;
    }
    busy = true;
    try {
      await work();
    } finally {
      busy = false;
      if (again) {
        again = false;
        run();
      }
    }
  }
  return (soon) => {
    clearTimeout(timer);
    timer = setTimeout(run, soon ? 0 : wait);
  };
}
