/* Sends what was tapped, in order, until the server has it; and asks what others have logged. */
"use strict";

const api = "/api/jobs/" + job.job;
const FRESH = 10000; // ms; what was tapped longer ago has happened, and is asked about no more
const FAULTS = 3; // so often a fault of the server may meet one tap before the others go on without it
const POLL = 1500; // ms
const OPTIONS = { credentials: "same-origin", cache: "no-store" };

let sending = false;
let connected = true;
let wait = POLL;
let trouble = ""; // why the server takes nothing now

/* Nothing that was asked hangs for ever on a dead radio link. */
async function ask(path, options = {}, seconds = 10) {
  return fetch(path, { ...OPTIONS, signal: AbortSignal.timeout(1000 * seconds), ...options });
}

const json = (value) => ({ method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(value) });

async function sentence(answer) {
  try {
    return (await answer.json()).error.sentence;
  } catch (error) {
    return "the server answered " + answer.status;
  }
}

/* Sends all there is; called again while it runs it does nothing, for the loop looks for more by itself. */
async function send() {
  if (sending) return;
  sending = true;
  try {
    for (let one = unsent()[0]; one; one = unsent()[0]) await sendOne(one);
    await refresh();
    connected = true;
    trouble = "";
    wait = POLL;
  } catch (error) {
    connected = false;
    trouble = error instanceof NotNow ? error.message : "";
    wait = Math.min(wait * 2, 8000);
  } finally {
    sending = false;
    render();
  }
}

/* The server is there and takes nothing at present. */
class NotNow extends Error {}

async function sendOne(one) {
  if (one.photo) return upload(one);
  if (await heldBack(one)) return;
  const answer = await ask(api + "/events", json({ events: one.events }));
  if (answer.ok) rewrite(one, { number: await lastNumber(answer) });
  else await refusedNow(one, answer);
}

/* The number of a tap's last event. Whatever else answers in the server's place, such as a page to log in to a network, gives none. */
async function lastNumber(answer) {
  const { logged } = await answer.json();
  return Math.max(...logged.map((row) => row.number));
}

async function refusedNow(one, answer) {
  const why = await sentence(answer);
  const faults = (one.faults || 0) + 1;
  if (answer.status === 500 && faults < FAULTS) rewrite(one, { faults });
  else if (![401, 408, 429].includes(answer.status) && (answer.status <= 500)) return setAside(one, why, { pin: answer.status === 403 });
  throw new NotNow(why);
}

/* What is set aside is kept short, so that there is room for it even where there is room for nothing more. */
function setAside(one, why, more = {}) {
  const step = one.step && { key: one.step.key, text: one.step.text };
  try {
    rewrite(one, { why, stops: [], ...more, step }, "aside");
  } catch (error) {
    forget(one);
    rewrite(one, { why, stops: [], ...more, step }, "aside");
  }
  render();
}

/* The server speaks before a fresh tap is kept there: what it holds against it takes the tap back, visibly. */
async function heldBack(one) {
  if (one.asked || Date.now() - one.at > FRESH || one.again) return false;
  const intended = one.events.map(({ kind, data }) => ({ kind, data }));
  const answer = await ask(api + "/stops", json({ events: intended }));
  const stops = answer.ok ? (await answer.json()).stops : [];
  if (stops.length) setAside(one, stops.map((stop) => stop.text).join("; "), { stops });
  return stops.length > 0;
}

/* A photo goes before the event that names it, for only the server tells its hash; the tap is then sent as any other. */
async function upload(one) {
  const file = await photo(one.photo);
  const answer = await ask("/api/files", { method: "POST", headers: { "content-type": "application/octet-stream" }, body: file }, 120);
  if (!answer.ok) return refusedNow(one, answer);
  const { hash, type } = await answer.json();
  const events = one.events.map((each) => ({ ...each, data: { ...each.data, hash, type } }));
  rewrite(one, { events, photo: undefined });
  await forgetPhoto(one.photo);
}

async function refresh() {
  const answer = await ask(api + "?after=" + job.last);
  if (answer.status === 200) take(await answer.json());
  else if (!answer.ok) throw new NotNow(await sentence(answer));
}

function pulse() {
  if (!document.hidden || unsent().length) send();
  setTimeout(pulse, wait);
}
