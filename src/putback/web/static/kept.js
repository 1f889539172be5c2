/* What this device keeps of one job: the job as the server told it, and every tap that the server has not told back yet.
   A tap is kept before anything else happens; each has an entry of its own, so that two open pages never overwrite each other. */
"use strict";

let job = received(JSON.parse(document.getElementById("job").textContent));

function received(told) {
  return { ...told, got: Date.now() };
}

/* ---- Ids and time ---- */

const LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(26));
  return Array.from(bytes, (byte) => LETTERS[byte % 32]).join("");
}

function stamped(said) {
  const head = { id: newId(), job: job.job, kind: said.kind, at: new Date().toISOString() };
  return { ...head, person: said.person || job.person, device: job.device, data: said.data };
}

/* ---- Entries: `tap` for what is to be sent or told back, `aside` for what was not taken, `done` for the latest that were ---- */

const KEPT = "putback:" + job.job + ":";
const DONE_ONES = 12; // so many can be taken back from here; the log takes back any

let lastOrder = 0;
function order() {
  lastOrder = Math.max(Date.now(), lastOrder + 1);
  return String(lastOrder).padStart(15, "0") + newId().slice(0, 6);
}

function kept(kind) {
  const found = [];
  for (let at = 0; at < localStorage.length; at++) {
    const key = localStorage.key(at);
    if (key.startsWith(KEPT + kind + ":")) found.push(key);
  }
  return found.sort().map((key) => ({ ...JSON.parse(localStorage.getItem(key)), key }));
}

const taps = () => kept("tap");
const unsent = () => taps().filter((one) => !one.number);
const aside = () => kept("aside");

function keep(tap, kind = "tap") {
  localStorage.setItem(KEPT + kind + ":" + order(), JSON.stringify(tap));
}

/* Rewrites an entry, under another kind where one is named. The new one is there before the old one goes. */
function rewrite(one, changes, kind = "") {
  const key = kind ? one.key.replace(/:(tap|aside):/, `:${kind}:`) : one.key;
  localStorage.setItem(key, JSON.stringify({ ...one, ...changes, key: undefined }));
  if (key !== one.key) localStorage.removeItem(one.key);
}

function forget(one) {
  localStorage.removeItem(one.key);
}

/* Why this device can keep nothing; empty where it can. */
function noStorage() {
  try {
    const key = KEPT + "try";
    localStorage.setItem(key, "x".repeat(20000));
    localStorage.removeItem(key);
    return "";
  } catch (error) {
    return error.name === "QuotaExceededError" ? "This device's storage is full" : "This browser may keep nothing";
  }
}

/* ---- What the server has told back ---- */

function take(fresh) {
  if (fresh.last < job.last) return;
  job = { ...received(fresh), person: job.person, device: job.device, people: job.people };
  settle();
}

/* A tap that stands in the job as the server tells it need not be laid over it any more. */
function settle() {
  for (const one of taps()) if (one.number && one.number <= job.last) rewrite(one, {}, "done");
  for (const one of kept("done").slice(0, -DONE_ONES)) forget(one);
}

/* ---- What is not told back yet, laid over what the server said ---- */

/* Another page of this device may have been told back more than this one. */
const laidOver = () => [...kept("done").filter((one) => one.number > job.last), ...taps()];

function undoneIds() {
  const said = [...taps(), ...kept("done")].flatMap((one) => one.events);
  return new Set(said.filter((each) => each.kind === "event undone").map((each) => each.data.event));
}

function stepsNow() {
  const undone = undoneIds();
  let steps = job.steps;
  for (const one of laidOver()) {
    if (one.again) steps = [one.again, ...steps.filter((step) => step.key !== one.again.key)];
    else if (one.step && !one.events.some((each) => undone.has(each.id))) steps = without(steps, one);
  }
  return afterwards(steps);
}

/* What was put off comes last, but before the car goes. */
function afterwards(steps) {
  const keys = new Set(putOff());
  const rank = (step) => (step.phase === "hand-over" ? 2 : keys.has(step.key) ? 1 : 0);
  return [...steps].sort((one, other) => rank(one) - rank(other));
}

function without(steps, tap) {
  return steps.flatMap((step) => {
    if (step.key !== tap.step.key) return [step];
    const left = step.left - tap.count;
    return tap.count && left > 0 ? [fewer(step, left)] : [];
  });
}

function fewer(step, left) {
  return { ...step, left, closes: step.closes.map((said) => ("count" in said.data ? { ...said, data: { ...said.data, count: left } } : said)) };
}

/* Who is under the car, how it stands and whether the job rests. */
function standsNow() {
  const stands = { under: { ...job.stands.under }, posture: job.stands.posture, paused: job.stands.paused };
  const undone = undoneIds();
  for (const { id, kind, at, data } of laidOver().flatMap((one) => one.events)) {
    if (undone.has(id)) continue;
    if (kind === "person went under") stands.under[data.who] = at;
    if (kind === "person came clear") delete stands.under[data.who];
    if (kind === "car moved") stands.posture = data.posture;
    if (kind === "job paused") stands.paused = at;
    if (kind === "job resumed") stands.paused = null;
  }
  return stands;
}

/* Minutes that are left to wait for a step; the server's figure is as old as what it came with. */
function waitLeft(step) {
  return Math.max(0, step.not_before - (Date.now() - job.got) / 60000);
}

/* ---- What can wait: put off on this device until the end of the list ---- */

const PUT_OFF = KEPT + "put-off";
function putOff() {
  return JSON.parse(localStorage.getItem(PUT_OFF) || "[]");
}
function later(step) {
  localStorage.setItem(PUT_OFF, JSON.stringify([...putOff().filter((key) => key !== step.key), step.key]));
}

/* ---- Photos: kept as files until they are sent ---- */

function photos(mode, work) {
  return new Promise((good, bad) => {
    const opening = indexedDB.open("putback", 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore("photos");
    opening.onerror = () => bad(opening.error);
    opening.onsuccess = () => {
      const transaction = opening.result.transaction("photos", mode);
      const asked = work(transaction.objectStore("photos"));
      transaction.oncomplete = () => { opening.result.close(); good(asked.result); };
      transaction.onabort = () => { opening.result.close(); bad(transaction.error); };
    };
  });
}
const keepPhoto = (id, file) => photos("readwrite", (store) => store.put(file, id));
const photo = (id) => photos("readonly", (store) => store.get(id));
const forgetPhoto = (id) => photos("readwrite", (store) => store.delete(id));
