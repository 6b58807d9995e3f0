// Says in the frame of every page how many readings wait in this browser, and sends them from there too.

import { listen, ready } from "./queue.js";

const place = document.getElementById("waiting");
const PATIENCE_MS = 1500; // less than this is no waiting
let shown = "";
let timer = 0;

function words(waiting, refused, trouble) {
  const some = ({ length }, one, more) => length && `${length} ${length === 1 ? one : more}`;
  const wait = some(waiting, "reading waits", "readings wait");
  const said = [wait && `${wait} in this browser: ${trouble || "being sent"}. Nothing is lost.`];
  said.push(refused.length && `${some(refused, "reading", "readings")} not taken.`);
  return said.filter(Boolean).join(" ");
}

function show({ entries, trouble }) {
  clearTimeout(timer);
  const refused = entries.filter((one) => one.refused);
  const waiting = entries.filter((one) => !one.refused);
  const age = Date.now() - waiting[0]?.made;
  if (age < PATIENCE_MS && !shown) {
    timer = setTimeout(() => show({ entries, trouble }), PATIENCE_MS - age + 10);
    if (!refused.length) return;
  }
  const text = words(waiting, refused, trouble);
  if (text === shown) return;
  shown = text;
  place.textContent = text;
  const page = refused[0]?.page;
  if (page && page !== location.pathname + location.search) {
    const way = document.createElement("a");
    way.href = page;
    way.textContent = " Look at it";
    place.append(way);
  }
}

const keeps = await ready;
listen(show);
if (!keeps) place.textContent = "This browser keeps nothing: do not reload while readings wait.";
