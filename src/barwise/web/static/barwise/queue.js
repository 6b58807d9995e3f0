// Readings typed in this browser, kept here until the server says that they are on its disk.
// Each is written to the browser's own database first; only then is it sent, oldest first.

const FINAL = new Set([400, 404, 409, 413, 415, 422]); // it will never be taken as it is
const PATIENCE_MS = 10_000;
const listeners = new Set();
const news = "BroadcastChannel" in window ? new BroadcastChannel("barwise-queue") : null;
let entries = []; // as they stand in the database, oldest first
let trouble = ""; // why nothing is sent just now
let sending = false;
let waitMs = 1000;
let timer = 0;

const asked = (request) =>
  new Promise((done, failed) => {
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });

// Null where the browser keeps nothing: readings then live as long as the page does, and the frame says so.
const opened = (async () => {
  const request = indexedDB.open("barwise", 1);
  request.onupgradeneeded = () =>
    request.result.createObjectStore("entries", { keyPath: "n", autoIncrement: true });
  return asked(request);
})().catch(() => null);
let pageOnly = 0;

// One change to the database; it resolves when the browser has written it.
async function change(act) {
  const database = await opened;
  if (!database) return ++pageOnly;
  const step = database.transaction("entries", "readwrite", { durability: "strict" });
  const request = act(step.objectStore("entries"));
  await new Promise((done, failed) => {
    step.oncomplete = done;
    step.onabort = () => failed(step.error);
  });
  return request.result;
}

function tell(what = {}) {
  for (const listener of listeners) listener({ entries, trouble, ...what });
}

async function load() {
  const database = await opened;
  if (database) entries = await asked(database.transaction("entries").objectStore("entries").getAll());
  tell();
  return Boolean(database);
}

// `listener({entries, trouble, stored, refused})` hears of every change.
export function listen(listener) {
  listeners.add(listener);
  listener({ entries, trouble });
}

// Keep a reading: {url, body, page}. It resolves when it is safe in this browser.
export async function keep(entry) {
  const kept = { ...entry, made: Date.now(), refused: "" };
  kept.n = await change((store) => store.add(kept));
  entries.push(kept);
  news?.postMessage("changed");
  tell();
  send();
}

// Take a reading out again; true if it was never sent.
export async function drop(key) {
  const entry = entries.find((one) => one.body.key === key);
  if (!entry || (entry.tried && !entry.refused)) return false;
  await forget(entry);
  return true;
}

async function forget(entry) {
  entries = entries.filter((one) => one.n !== entry.n);
  await change((store) => store.delete(entry.n));
  news?.postMessage("changed");
  tell();
}

// The cookie is newer than the page where somebody signed in meanwhile.
function token() {
  const cookie = document.cookie.match(/(?:^|; )csrftoken=([^;]+)/);
  return cookie ? cookie[1] : document.querySelector('meta[name="csrf-token"]').content;
}

export async function ask(url, body) {
  const options = { headers: { Accept: "application/json" }, signal: AbortSignal.timeout(PATIENCE_MS) };
  if (body) {
    options.method = "POST";
    options.body = JSON.stringify(body);
    Object.assign(options.headers, { "Content-Type": "application/json", "X-CSRFToken": token() });
  }
  const answer = await fetch(url, options);
  return { status: answer.status, said: await answer.json().catch(() => ({})) };
}

export async function send() {
  if (sending) return;
  sending = true;
  clearTimeout(timer);
  const held = new Set();
  try {
    for (;;) {
      const entry = entries.find((one) => !one.refused && !held.has(one.n));
      if (!entry) break;
      if (!(await sendOne(entry))) held.add(entry.n);
    }
    if (!held.size) trouble = "";
    waitMs = held.size ? 5000 : 1000;
  } catch (why) {
    trouble = why.error || "the server does not answer";
    waitMs = Math.min(waitMs * 1.6, 5000);
  }
  sending = false;
  tell();
  if (entries.some((one) => !one.refused)) timer = setTimeout(send, waitMs);
}

// False where this one must wait, though others need not.
async function sendOne(entry) {
  if (!entry.tried) {
    entry.tried = true; // from now on the server may have it, even if no answer comes back
    await change((store) => store.put(entry));
  }
  const ago = Math.max(0, (Date.now() - entry.made) / 1000);
  const { status, said } = await ask(entry.url, { ...entry.body, ...(entry.timed && { seconds_ago: ago }) });
  if (status < 300) {
    trouble = "";
    await forget(entry);
    tell({ stored: entry, said });
  } else if (FINAL.has(status)) {
    entry.refused = said.error || `the server refused it (${status})`;
    entry.question = said.question || null;
    await change((store) => store.put(entry));
    tell({ refused: entry });
  } else if (status === 401 || status === 403) {
    trouble = said.error || "sign in again";
    return false;
  } else {
    throw said;
  }
  return true;
}

news?.addEventListener("message", load);
addEventListener("online", send);
document.addEventListener("visibilitychange", () => document.hidden || send());
// Resolves with whether this browser keeps readings over a reload.
export const ready = load().then((keeps) => (send(), keeps));
