// The walk: touch, type, Enter, on to the next place. It never moves under the hand and never blocks it.

import "./pedal.js";
import { ask, drop, keep, listen, ready } from "./queue.js";
import { play, soundIs } from "./sound.js";
import { WalkRecord } from "./walk-record.js";

const FOLLOW_MS = 2000; // how soon another's readings are seen here
const SOON_MS = 900; // after a reading of one's own
const $ = (id) => document.getElementById(id);
const plan = JSON.parse($("walk-plan").textContent);
const record = new WalkRecord(plan);
const job = `/api/v1/jobs/${plan.job}`;
const field = $("value");
const cells = [...document.querySelectorAll("#walk .cell")];
const count = plan.stops.length;
const skipped = new Set();
const mine = []; // keys taken here, the latest last
const told = new Set(); // keys of those that were said to be out of family
let queued = [];
let at = null; // the place in hand; null when all are read
let held = false; // the reading there is out of family: once more, or Enter
let instead = null; // key of the reading that the next value takes the place of
let following = 0;
let followed = 0;
let mended = null; // key of a refused reading that is being typed anew

const name = (n) => plan.stops[n].slice(3).filter(Boolean).join(", ");
const value = (one) => `${one.text} ${one.unit}`.trim().replace(/ u(?=[mV]$)/, " µ");
const readAt = (n) => record.at(n).map(value).join(", ");
const shown = (si) => `${+(si / plan.factors[plan.unit]).toPrecision(3)}`.replace(".", plan.comma || ".");

function key() {
  const bytes = [...crypto.getRandomValues(new Uint8Array(16))];
  const hex = bytes.map((one) => one.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4}).(.{3}).(.{3})/, "$1-$2-4$3-8$4-");
}

function say(text, kind = "") {
  $("said").textContent = text;
  $("said").className = `walk-message ${kind}`;
}

function wrong(text) {
  play("wrong");
  say(text, "wrong");
  field.select();
}

function go(n, how = "instead") {
  at = n;
  held = false;
  instead = (how === "instead" && record.at(n).at(-1)?.key) || null;
  field.value = "";
  render();
}

function next(from) {
  const taken = record.latest();
  const onward = plan.stops.map((_, n) => (from + 1 + n) % count);
  return onward.find((n) => !taken.has(n) && !skipped.has(n)) ?? null;
}

function moveOn(from) {
  go(next(from), "beside");
  if (at !== null) return;
  play("done");
  say(summary());
}

function summary() {
  const odd = record.odd().size;
  const read = `${record.latest().size} of ${count} read`;
  return [read, odd && `${odd} out of family`, skipped.size && `${skipped.size} skipped`].filter(Boolean).join(", ");
}

// Enter in an empty field: keep what is held, leave what is read, go back to what was skipped.
function onward() {
  if (at === null) skipped.clear();
  else if (!record.at(at).length) return say(`Touch ${name(at)}, then enter the reading.`);
  if (held) say("Kept.");
  moveOn(at ?? count - 1);
}

function understood(text) {
  const state = text.toLowerCase();
  if (plan.states.includes(state)) return { text: state, unit: "" };
  const typed = plan.unit ? record.read(text) : null;
  return typed && typed.unit in plan.factors ? typed : null;
}

async function take(text, meter) {
  const jump = text.match(/^g\s*(\d+)$/i);
  if (jump) return goTo(jump[1]);
  if (!text) return onward();
  if (at === null) return wrong("All places are read. Go to one to read it again.");
  const typed = understood(text);
  if (!typed) return wrong(`Not taken: found ${text}, expected ${plan.wanted}.`);
  const [place_from, place_to, track] = plan.stops[at];
  const body = {
    ...plan.body,
    place_from, place_to, track, key: meter?.key ?? key(), supersedes: instead,
    text: typed.unit === plan.unit ? typed.text : text,
    unit: typed.unit && plan.unit,
    said: meter?.said, said_unit: meter?.unit,
  };
  const [old, place] = [mended, at];
  mended = null;
  accept(at, { ...body, ...typed, by: plan.person.name });
  const page = location.pathname + location.search;
  try {
    await keep({ url: `${job}/readings`, body, timed: true, shown: typed, page });
    if (old) drop(old);
  } catch {
    record.remove(body.key);
    go(place);
    field.value = text;
    wrong("This browser could not keep it. Is its storage full? Enter tries again.");
  }
}

function accept(place, reading) {
  const again = held;
  record.put(reading);
  mine.push(reading.key);
  skipped.delete(place);
  const expected = record.odd().get(place);
  const fits = expected === undefined;
  if (!fits) told.add(reading.key);
  if (fits || again) {
    play(fits ? "taken" : "odd");
    say(`${name(place)}: ${value(reading)}`);
    return moveOn(place);
  }
  go(place);
  held = true;
  sayOdd(value(reading), expected, "Touch again, or Enter keeps it.");
  render();
}

function sayOdd(what, expected, then) {
  play("odd");
  say(`Out of family: ${what}, expected about ${shown(expected)}. ${then}`, "odd");
}

// What only the server's answer, or later readings, show to be out of family. The hand is elsewhere by then.
function sayLate() {
  const latest = record.latest();
  for (const [n, expected] of held ? [] : record.odd()) {
    const { key } = latest.get(n);
    if (told.has(key) || !mine.includes(key)) continue;
    told.add(key);
    return sayOdd(`${name(n)}, ${value(latest.get(n))}`, expected, "o goes back there.");
  }
}

async function undo() {
  const own = (one) => one.by === plan.person.name;
  const last = record.byKey.get(mine.pop()) ?? [...record.byKey.values()].findLast(own);
  if (!last) return say("There is nothing of yours to undo.");
  record.remove(last.key);
  go(last.n, "beside");
  say(`Undone: ${name(last.n)}, ${value(last)}`);
  if (await drop(last.key)) return;
  const body = { key: key(), reason: "undone at once", typed_by: plan.person.id };
  await keep({ url: `${job}/readings/${last.key}/strike`, body, of: plan.body, shown: last });
}

function goTo(bar) {
  const track = plan.stops[at ?? 0][2];
  const n = plan.stops.findIndex((stop) => stop[0] === String(Number(bar)) && stop[2] === track);
  if (n < 0) return wrong(`Type a number from 1 to ${plan.count}, then Go to.`);
  go(n);
  say(`At ${name(n)}.`);
}

const acts = {
  odd: () => {
    const odd = [...record.odd().keys()];
    if (odd.length) go(odd.find((n) => n > (at ?? count)) ?? odd[0]);
    else say("Nothing is out of family.");
  },
  back: () => go((at || count) - 1),
  skip: () => {
    if (at === null) return;
    if (!record.at(at).length) skipped.add(at);
    moveOn(at);
  },
  repeat: () => {
    const last = record.byKey.get(mine.at(-1)) ?? [...record.byKey.values()].at(-1);
    if (last) go(last.n, "beside");
  },
  undo,
  go: () => goTo(field.value),
  next: () => plan.next && location.assign(plan.next),
  beside: () => { instead = null; render(); },
  replace: () => { instead = record.at(at).at(-1).key; render(); },
  hand: () => keepHabit("hand", $("walk").classList.toggle("left")),
  sound: (button) => {
    const quiet = button.getAttribute("aria-pressed") === "true";
    button.setAttribute("aria-pressed", !quiet);
    soundIs(quiet);
    keepHabit("quiet", !quiet);
  },
};
const LETTERS = { b: "back", s: "skip", r: "repeat", o: "odd", u: "undo", n: "next", arrowleft: "back", arrowright: "skip" };

const keepHabit = (habit, on) => localStorage.setItem(`barwise-${habit}`, on ? "1" : "");

function press(sign) {
  if (sign === "⌫") field.value = field.value.slice(0, -1);
  else field.value = sign === "±" ? `-${field.value}`.replace("--", "") : field.value + sign;
}

function render() {
  const odd = record.odd();
  const refused = new Set(queued.filter((one) => one.refused).map(placeOf));
  const latest = record.latest();
  cells.forEach((cell, n) => {
    const one = latest.get(n);
    const state = one ? (one.seq ? "read" : "waits") : skipped.has(n) ? "skipped" : "open";
    const more = [odd.has(n) && "odd", refused.has(n) && "refused", n === at && "now"].filter(Boolean);
    cell.setAttribute("class", `cell ${state} ${more.join(" ")}`);
    const row = $("rows").rows[n].cells;
    row[1].textContent = readAt(n) + (odd.has(n) ? " ▲ out of family" : "");
    row[2].textContent = one ? one.by : "";
  });
  const [word, place, under] = $("here").children;
  const stop = plan.stops[at];
  word.textContent = stop ? plan.word : "all read";
  place.textContent = stop?.[3] ?? "✓";
  under.textContent = held ? "once more" : stop?.[4] || "";
  $("here").classList.toggle("odd", held);
  $("count").textContent = summary();
  $("answer").classList.toggle("main", at === null);
  const before = !held && record.at(at).at(-1);
  $("again").hidden = !before;
  if (before) {
    $("before").textContent = `Read already: ${readAt(at)} (${before.by}). A new value`;
    for (const one of $("again").querySelectorAll("button"))
      one.setAttribute("aria-pressed", (one.dataset.act === "replace") === Boolean(instead));
  }
}

const placeOf = (entry) => record.place(entry.body)?.[0];

function isHere(entry) {
  const of = entry.of ?? entry.body;
  return entry.url.startsWith(`${job}/`) && ["station", "check", "test"].every((one) => of[one] === plan[one]);
}

function showRefused() {
  const cards = queued.filter((one) => one.refused).map((entry) => {
    const card = $("refusal").content.firstElementChild.cloneNode(true);
    const n = placeOf(entry);
    const where = n === undefined ? "" : `${name(n)}, `;
    card.querySelector("p").textContent = `Not taken: ${where}${value(entry.shown)}. ${entry.refused}`;
    const [mend, away] = card.querySelectorAll("button");
    mend.hidden = n === undefined;
    mend.onclick = () => {
      go(n, "beside");
      mended = entry.body.key;
      field.value = entry.body.text;
      field.select();
    };
    away.onclick = () => drop(entry.body.key);
    return card;
  });
  $("refused").replaceChildren(...cards);
}

function heard({ entries, stored, refused, said }) {
  queued = entries.filter(isHere);
  for (const { body, shown } of queued.filter((one) => !one.refused && one.timed)) {
    if (!record.byKey.has(body.key)) record.put({ ...body, ...shown, by: plan.person.name });
  }
  if (stored && isHere(stored)) {
    record.put(said.reading);
    if (Date.now() - followed > SOON_MS) follow();
  }
  if (refused && isHere(refused)) {
    record.remove(refused.body.key);
    record.gone.delete(refused.body.supersedes); // it counts still, or what took its place does
    record.last = 0;
    play("wrong");
    say(`Not taken: ${value(refused.shown)}`, "wrong");
  }
  showRefused();
  render();
}

// What others read at the same walk, and what each place should read by all of it.
async function follow() {
  clearTimeout(following);
  following = setTimeout(follow, FOLLOW_MS);
  followed = Date.now();
  try {
    if (!document.hidden) {
      const query = new URLSearchParams({ ...plan.setup, after: record.last });
      const { said } = await ask(`${job}/${plan.station}/${plan.check}/walk?${query}`);
      const rows = said.readings ?? [];
      record.outlook = said.outlook ?? record.outlook;
      record.hear(rows);
      if (instead && !record.byKey.has(instead)) [instead, held] = [null, false];
      const here = rows.find((row) => row.by !== plan.person.name && record.byKey.get(row.key)?.n === at);
      if (here) say(`${here.by} has just read ${name(at)}: ${value(here)}`);
      document.documentElement.dataset.heard = record.last;
      if (rows.length) render();
      sayLate();
    }
  } catch {
    // the frame says so as soon as something waits
  }
}

document.addEventListener("keydown", (event) => {
  const on = event.target.closest("a, button, input, select, summary, textarea");
  if ((on && on !== field) || event.defaultPrevented || event.altKey || event.metaKey || event.key === "Tab") return;
  if (event.ctrlKey && event.key !== "z") return;
  field.focus();
  if (field.value) return;
  const letter = event.key.toLowerCase();
  const state = plan.states.find((one) => one[0] === letter);
  const act = event.ctrlKey ? "undo" : LETTERS[letter];
  if (!state && !act) return;
  event.preventDefault();
  if (state) take(state);
  else acts[act]();
});

document.addEventListener("meter", ({ detail }) => field.value || take(detail.text, detail));

document.addEventListener("click", (event) => {
  const link = event.target.closest("#rows a");
  const button = event.target.closest("[data-act], [data-sign], #answers button");
  if (!link && !button) return;
  event.preventDefault();
  if (link) go(link.closest("tr").sectionRowIndex);
  else if (button.dataset.sign) press(button.dataset.sign);
  else if (button.dataset.act) acts[button.dataset.act](button);
  else take(button.value);
  field.focus();
});
$("keys").addEventListener("pointerdown", (event) => event.preventDefault()); // the field keeps the focus

$("entry").addEventListener("submit", (event) => {
  event.preventDefault();
  take(field.value.trim());
});

field.inputMode = "none"; // the tablet's own keys would cover the page
if (localStorage.getItem("barwise-hand")) $("walk").classList.add("left");
if (localStorage.getItem("barwise-quiet")) acts.sound(document.querySelector("[data-act=sound]"));
await ready;
listen(heard);
const asked = new URLSearchParams(location.search).get("at");
go(asked && plan.stops[asked] ? Number(asked) : next(count - 1));
document.documentElement.dataset.walk = "ready";
follow();
