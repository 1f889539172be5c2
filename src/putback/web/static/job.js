/* The step now. Every tap is an event that is kept on this device before anything else happens; it is sent when that can be,
   in order, and counted once. What is not sent yet is laid over what the server says. */
"use strict";

const told = JSON.parse(document.getElementById("job").textContent);
let job = told;
const api = "/api/jobs/" + job.job;
const $ = (id) => document.getElementById(id);

/* ---- Ids, time, small helpers ---- */

const LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(26));
  return Array.from(bytes, (byte) => LETTERS[byte % 32]).join("");
}
const utc = () => new Date().toISOString();

function el(name, attributes = {}, ...children) {
  const node = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (key === "on") node.addEventListener("click", value);
    else if (value === true) node.setAttribute(key, "");
    else if (value !== false && value != null) node.setAttribute(key, value);
  }
  node.append(...children.filter((child) => child != null && child !== false));
  return node;
}

/* ---- What is kept on this device: one entry for each tap, so that two open pages never overwrite each other ---- */

const KEPT = "putback:" + job.job + ":";
const order = () => String(Date.now()).padStart(15, "0") + newId().slice(0, 6);

function kept(kind) {
  const found = [];
  for (let at = 0; at < localStorage.length; at++) {
    const key = localStorage.key(at);
    if (key.startsWith(KEPT + kind + ":")) found.push(key);
  }
  return found.sort().map((key) => ({ key, ...JSON.parse(localStorage.getItem(key)) }));
}
const taps = () => kept("tap");
const aside = () => kept("aside");

function keep(tap) {
  try {
    localStorage.setItem(KEPT + "tap:" + order(), JSON.stringify(tap));
    return true;
  } catch (error) {
    say([["stop", "This device can keep nothing more. Nothing was logged: free some space, or use another device."]]);
    return false;
  }
}

/* ---- Taps ---- */

function event(said) {
  return { id: newId(), job: job.job, kind: said.kind, at: utc(), person: job.person, device: job.device, data: said.data };
}

/* A tap: its events, the step that it closes if any, and how many of that step's pieces. */
function tap(saids, step = null, count = 0) {
  const one = { events: saids.map(event), step, count, at: Date.now() };
  if (!keep(one)) return;
  $("held").dataset.key = "";
  render();
  send();
}

/* What is left to do once the taps that the server does not know yet are laid over what it said. */
function stepsNow() {
  const undone = new Set();
  for (const one of taps()) for (const each of one.events) if (each.kind === "event undone") undone.add(each.data.event);
  let steps = job.steps.slice();
  for (const one of taps()) {
    if (one.again) steps = [one.again, ...steps.filter((step) => step.key !== one.again.key)];
    if (!one.step || one.events.some((each) => undone.has(each.id))) continue;
    const at = steps.findIndex((step) => step.key === one.step.key);
    if (at < 0) continue;
    const left = steps[at].left - one.count;
    if (one.count && left > 0) steps[at] = fewer(steps[at], left);
    else steps.splice(at, 1);
  }
  return steps;
}

function fewer(step, left) {
  const closes = step.closes.map((said) => ("count" in said.data ? { kind: said.kind, data: { ...said.data, count: left } } : said));
  return { ...step, left, closes };
}

/* ---- Sending ---- */

let sending = false;
let connected = true;
let wait = 1000;

async function ask(path, options = {}) {
  const answer = await fetch(path, { credentials: "same-origin", ...options });
  connected = true;
  wait = 1000;
  return answer;
}

async function send() {
  if (sending) return;
  sending = true;
  try {
    for (let all = taps(); all.length; all = taps()) {
      const one = all[0];
      if (await heldBack(one)) continue;
      const answer = await ask(api + "/events", json({ events: one.events }));
      if (answer.ok) sent(one);
      else if (answer.status >= 500 || answer.status === 401 || answer.status === 429) throw new Error("later");
      else setAside(one, await sentence(answer));
    }
    await refresh();
  } catch (error) {
    connected = false;
    wait = Math.min(wait * 2, 8000);
  } finally {
    sending = false;
    render();
  }
}

/* A tap that was sent stays at hand for a while, so that the last one can be taken back. */
let recent = [];
function sent(one) {
  localStorage.removeItem(one.key);
  if (one.step) recent = [...recent.slice(-9), one];
}

const json = (value) => ({ method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(value) });

async function sentence(answer) {
  try {
    return (await answer.json()).error.sentence;
  } catch (error) {
    return "the server took it not, and said " + answer.status;
  }
}

function setAside(one, why, stops = []) {
  localStorage.removeItem(one.key);
  localStorage.setItem(one.key.replace(":tap:", ":aside:"), JSON.stringify({ ...one, key: undefined, why, stops }));
}

/* The server speaks before a fresh tap is kept. What was tapped without a connection has happened, and is sent as it is. */
const FRESH = 10000;
async function heldBack(one) {
  if (one.asked || Date.now() - one.at > FRESH || !one.events.some((each) => each.kind !== "event undone")) return false;
  const intended = one.events.map((each) => ({ kind: each.kind, data: each.data }));
  const answer = await ask(api + "/stops", json({ events: intended }));
  if (!answer.ok) return false;
  const stops = (await answer.json()).stops;
  if (!stops.length) return false;
  setAside(one, stops.map((stop) => stop.text).join("; "), stops);
  return true;
}

async function refresh() {
  const answer = await ask(api + "?after=" + job.last);
  if (answer.status !== 200) return;
  const fresh = await answer.json();
  if (fresh.last >= job.last) job = { ...fresh, person: job.person, device: job.device };
}

function pulse() {
  if (!document.hidden || taps().length) send();
  setTimeout(pulse, connected ? 1500 : wait);
}

/* ---- What is shown ---- */

function say(lines) {
  $("held").replaceChildren(...lines.map(([kind, text, ...more]) => el("div", { class: kind }, el("p", {}, text), ...more)));
}

function render() {
  const steps = stepsNow();
  const waiting = taps().reduce((sum, one) => sum + one.events.length, 0);
  $("sent").textContent = waiting ? `Not sent yet: ${waiting}` + (connected ? "" : ", no connection") : connected ? "All sent" : "No connection; every tap is kept here";
  $("sent").classList.toggle("waiting", waiting > 0 || !connected);
  showAside();
  showStep(steps[0]);
  showThen(steps.slice(1, 4));
  $("buttons").hidden = false;
}

let shown = "";
function showStep(step) {
  const key = JSON.stringify(step || null);
  if (key === shown) return;
  shown = key;
  $("step").replaceChildren(...(step ? stepParts(step) : [el("h1", { tabindex: -1 }, job.signed ? "Handed over" : "Nothing is left to do")]));
  const close = $("done");
  close.hidden = !step;
  if (!step) return;
  close.textContent = closeWords(step);
  $("change").hidden = !step.closes.length;
  $("differs").hidden = !step.item;
}

function closeWords(step) {
  if (step.asks === "hand-over signed") return "To the hand-over";
  if (step.asks === "part compared") return "Compare them";
  if (step.asks === "plan made") return "Plan again";
  if (step.asks && !step.closes.length) return "Log it";
  if (step.left > 1) return `Done, all ${step.left}`;
  return "Done";
}

function stepParts(step) {
  const place = [step.vantage && "from " + step.vantage, step.posture && "car " + step.posture, ...step.settings].filter(Boolean).join(", ");
  const tools = [...step.tools, ...step.equipment].join(" + ");
  return [
    el("p", { class: "phase" }, phaseWords(step)),
    el("h1", { tabindex: -1 }, step.text),
    step.turn && el("p", { class: "turn" }, "LEFT-HAND THREAD: " + step.turn),
    step.torque && el("p", { class: "figure" }, step.torque),
    ...step.wrench.map((words) => el("p", { class: "wrench" }, words)),
    step.order.length > 1 && el("p", {}, "order " + step.order.join("-")),
    tools && el("p", { class: "figure tool" }, tools),
    place && el("p", { class: "place" }, place),
    step.where && el("p", {}, step.where),
    step.tray && el("p", { class: "tray" }, "tray " + step.tray),
    step.not_before > 0 && el("p", { class: "stop" }, el("strong", {}, "Wait: "), `not before ${Math.ceil(step.not_before)} more min`),
    ...step.cautions.map((text) => el("p", { class: "note" }, el("strong", {}, "Caution: "), text)),
    ...notes(step),
    step.reason.length > 0 && el("p", { class: "faint" }, "to get at the " + step.reason.join(", for the ")),
    el("p", { class: "row-of-buttons" }, photoButton(step), readButton(step), step.optional && laterButton(step)),
  ].filter(Boolean);
}

function phaseWords(step) {
  const there = job.steps.filter((one) => one.phase === step.phase).length;
  return step.phase + (there > 1 ? `, ${there} to go` : "");
}

function notes(step) {
  const texts = step.notes.filter((one) => one.note).map((one) => el("p", { class: "note" }, el("strong", {}, "Noted: "), `${one.note} (${one.person})`));
  const files = step.notes.filter((one) => one.file);
  if (!files.length) return texts;
  const pictures = el("div", { class: "pictures" });
  const show = () => pictures.replaceChildren(...files.map((one) => picture(one)));
  return [...texts, el("button", { type: "button", on: show }, `Photos of the removal (${files.length})`), pictures];
}

function picture(one) {
  const source = "/api/files/" + one.file;
  const title = `${one.name}, ${one.person}`;
  return one.type.startsWith("image/") ? el("img", { src: source, alt: title }) : el("a", { href: source }, title);
}

function showThen(steps) {
  $("then").replaceChildren(...(steps.length ? [el("h2", {}, "Then"), el("ol", { class: "then" }, ...steps.map((step) => el("li", {}, step.text)))] : []));
}

function showAside() {
  const lines = aside().map((one) => {
    const hard = one.stops.some((stop) => stop.hard);
    const buttons = el("div", { class: "row-of-buttons" },
      !hard && one.stops.length > 0 && el("button", { type: "button", on: () => anyway(one) }, "Do it anyway"),
      el("button", { type: "button", on: () => { localStorage.removeItem(one.key); render(); } }, "Not done"));
    return ["stop", (one.stops.length ? "Stop: " : "Not taken: ") + one.why, buttons];
  });
  const key = JSON.stringify(lines.map((line) => line[1]));
  if ($("held").dataset.key !== key) say(lines);
  $("held").dataset.key = key;
}

function anyway(one) {
  sheet("Do it anyway", [field("reason", "Why", "text", "")], (said) => {
    if (!said.reason) return "say why; it goes on the record";
    const points = one.stops.map((stop) => event({ kind: "point accepted", data: { point: stop.key, reason: said.reason, by: job.person } }));
    localStorage.removeItem(one.key);
    keep({ ...one, key: undefined, events: [...one.events, ...points], asked: true, stops: [], at: Date.now() });
    render();
    send();
  });
}

/* ---- The sheet: a few fields and a keypad, in place of the keyboard ---- */

function field(name, label, kind, value, choices = []) {
  return { name, label, kind, value, choices };
}

function sheet(title, fields, finish, words = "Log it") {
  const inputs = {};
  const trouble = el("p", { class: "stop", hidden: true });
  $("sheet-title").textContent = title;
  $("sheet-body").replaceChildren(...fields.map((one) => fieldNode(one, inputs)), trouble);
  const log = el("button", { type: "button", class: "close" }, words);
  log.addEventListener("click", () => {
    const said = Object.fromEntries(Object.entries(inputs).map(([name, read]) => [name, read()]));
    const wrong = finish(said);
    if (typeof wrong === "string") {
      trouble.textContent = wrong;
      trouble.hidden = false;
    } else $("sheet").close();
  });
  $("sheet-buttons").replaceChildren(log, el("button", { value: "no" }, "Leave it"));
  $("sheet").showModal();
}

function fieldNode(one, inputs) {
  if (one.kind === "choice") return choiceNode(one, inputs);
  const input = el("input", { id: "f-" + one.name, value: one.value ?? "", autocomplete: "off", inputmode: one.kind === "number" ? "none" : "text", list: one.kind === "person" ? "names" : null });
  inputs[one.name] = () => input.value.trim();
  const label = el("label", { for: "f-" + one.name }, one.label);
  return el("div", {}, label, input, one.kind === "number" && keypad(input));
}

function choiceNode(one, inputs) {
  const radios = one.choices.map(([value, words], at) => {
    const input = el("input", { type: "radio", name: one.name, id: `f-${one.name}-${at}`, value, checked: value === one.value });
    return [input, el("label", { for: `f-${one.name}-${at}` }, words)];
  });
  inputs[one.name] = () => (radios.find(([input]) => input.checked) || [{ value: "" }])[0].value;
  return el("fieldset", {}, el("legend", {}, one.label), ...radios.map((pair) => el("div", { class: "choice" }, ...pair)));
}

function keypad(input) {
  const press = (sign) => () => {
    input.value = sign === "⌫" ? input.value.slice(0, -1) : input.dataset.begun ? input.value + sign : sign;
    input.dataset.begun = "yes";
  };
  const keys = ["1", "2", "3", "4", "5", "6", "7", "8", "9", ".", "0", "⌫"];
  return el("div", { class: "keypad" }, ...keys.map((sign) => el("button", { type: "button", on: press(sign), "aria-label": sign === "⌫" ? "take the last figure back" : sign === "." ? "point" : sign }, sign)));
}

const figure = (text) => (/^-?\d+([.,]\d+)?$/.test(text) ? Number(text.replace(",", ".")) : null);

/* ---- Buttons ---- */

$("done").addEventListener("click", () => {
  const step = stepsNow()[0];
  if (!step) return;
  if (step.closes.length && !step.asks) return void tap(step.closes, step);
  const form = FORMS[step.asks];
  if (form) form(step);
  else if (step.closes.length) tap(step.closes, step);
  else location.href = "/jobs/" + job.job + "/menu";
});

const FORMS = {
  "hand-over signed": () => (location.href = `/jobs/${job.job}/hand-over`),
  "part compared": () => (location.href = `/jobs/${job.job}/match`),
  "intake noted": intake,
  "plan made": planAgain,
  "reading taken": reading,
  "fluid filled": (step) => litres(step, "fluid filled"),
  "fluid drained": (step) => litres(step, "fluid drained"),
  "fasteners off": cameOff,
};

$("change").addEventListener("click", () => {
  const step = stepsNow()[0];
  if (step) otherwise(step);
});

/* Done otherwise than planned: another count, torque, evidence, place. */
function otherwise(step) {
  const said = step.closes[0] ? step.closes[0].data : {};
  const tightens = step.closes.some((one) => "evidence" in one.data);
  const fields = [
    step.left > 1 && field("count", `How many of ${step.left}`, "number", step.left),
    tightens && field("evidence", "How it is known that they are tight", "choice", said.evidence, EVIDENCE),
    tightens && field("torque", "Torque in N·m", "number", said.torque ?? ""),
    tightens && field("reason", "Why, where no torque was measured", "text", said.reason ?? ""),
    "new" in said && field("new", "Which ones went in", "choice", said.new ? "new" : "old", [["new", "new ones"], ["old", "the old ones"]]),
    "tray position" in said && field("tray", "Tray", "text", said["tray position"]),
    field("note", "Note", "text", ""),
  ].filter(Boolean);
  sheet(step.text, fields, (got) => changed(step, got));
}

const EVIDENCE = [["clicked at the setting", "the wrench clicked"], ["value read", "the value was read"], ["by feel", "by feel"], ["hand-tight", "run in by hand only"], ["seated", "a clip or clamp that is home"]];

function changed(step, got) {
  const count = got.count === undefined ? step.left : figure(got.count);
  if (got.count !== undefined && !(count > 0 && count <= step.left && Number.isInteger(count))) return `how many must be 1 to ${step.left}`;
  const saids = step.closes.map((one) => ({ kind: one.kind, data: changedData(one.data, got, count) }));
  const bad = saids.find((one) => MEASURED.includes(one.data.evidence) && !(one.data.torque > 0));
  if (bad) return "give the torque in N·m";
  if (saids.some((one) => one.data.evidence === "by feel" && !one.data.reason)) return "say why no torque was measured";
  tap(saids, step, step.left > 1 ? count : 0);
}

const MEASURED = ["clicked at the setting", "value read"];

function changedData(data, got, count) {
  const said = { ...data };
  if ("count" in said && count) said.count = count;
  if ("evidence" in said && got.evidence) {
    said.evidence = got.evidence;
    for (const name of ["torque", "angle", "reason"]) if (!MEASURED.includes(got.evidence)) delete said[name];
    if (MEASURED.includes(got.evidence)) { said.torque = figure(got.torque); delete said.reason; }
    if (got.evidence === "by feel") said.reason = got.reason;
  }
  if ("new" in said && got.new) said.new = got.new === "new";
  if (got.tray) said["tray position"] = got.tray;
  if (got.note) said.note = got.note;
  return said;
}

function intake(step) {
  sheet("What the car came in with", [
    field("complaint", "Complaint, in the customer's words", "text", ""), field("kilometres", "Kilometres", "number", ""),
    field("audio code", "Audio code", "text", ""), field("damage", "Damage already there", "text", ""),
  ], (got) => {
    const data = {};
    if (got.complaint) data.complaint = got.complaint;
    if (got.kilometres && figure(got.kilometres) === null) return "kilometres are a number";
    if (got.kilometres) data.kilometres = figure(got.kilometres);
    if (got["audio code"]) data["audio code"] = got["audio code"];
    if (got.damage) data["damage already there"] = [got.damage];
    if (!Object.keys(data).length) return "nothing was said";
    tap([{ kind: "intake noted", data }], step);
  });
}

function reading(step) {
  sheet(step.text, [
    field("what", "What was read", "text", ""), field("value", "Figure", "number", ""), field("unit", "Unit", "text", "V"),
    field("good", "As it should be", "choice", "", [["yes", "yes"], ["no", "no"], ["", "not judged"]]),
    field("last", "Then", "choice", "last", [["more", "there is more to read"], ["last", "that was all"]]),
  ], (got) => {
    const value = figure(got.value);
    const saids = [];
    if (got.what || got.value) {
      if (!got.what || value === null || !got.unit) return "say what was read, the figure and its unit";
      saids.push({ kind: "reading taken", data: { what: got.what, value, unit: got.unit, ...(got.good ? { good: got.good === "yes" } : {}) } });
    }
    const last = got.last === "last";
    if (last) saids.push(...step.closes);
    if (!saids.length) return "nothing was said";
    tap(saids, last ? step : null);
  });
}

function litres(step, kind) {
  const said = step.closes[0] ? step.closes[0].data : {};
  sheet(step.text, [field("fluid", "Which fluid", "text", said.fluid ?? step.item), field("litres", "Litres", "number", said.litres ?? "")], (got) => {
    const amount = figure(got.litres);
    if (!got.fluid || amount === null) return "say which fluid, and how many litres";
    tap([{ kind, data: { fluid: got.fluid, litres: amount } }, ...step.closes.filter((one) => one.kind !== kind)], step);
  });
}

/* Free entries, for a car that nobody has described and for what its description does not know. */
let lastSize = "";
let lastTray = "1";
function cameOff() {
  sheet("What came off", [
    field("name", "What", "text", ""),
    field("sort", "It is", "choice", "fasteners", [["fasteners", "fasteners"], ["part", "a part"], ["plug", "a plug"]]),
    field("count", "How many fasteners", "number", "2"), field("size", "Thread, length, size", "text", lastSize),
    field("of", "They belong to", "text", ""), field("tray", "Tray", "text", lastTray), field("note", "Note", "text", ""),
  ], (got) => {
    if (!got.name) return "say what came off";
    const note = got.note ? { note: got.note } : {};
    if (got.sort !== "fasteners") {
      return void tap([{ kind: "item moved", data: { item: got.name, state: got.sort === "plug" ? "unplugged" : "off", ...note } }]);
    }
    const count = figure(got.count);
    if (!(count > 0 && Number.isInteger(count)) || !got.tray) return "say how many, and which tray";
    lastSize = got.size;
    lastTray = got.tray;
    const data = { item: got.name, count, to: "tray", "tray position": got.tray, ...note };
    if (got.size) data.size = got.size;
    if (got.of) data["belongs to"] = got.of;
    tap([{ kind: "fasteners off", data }]);
  });
}

$("back").addEventListener("click", () => {
  const undone = new Set(taps().flatMap((one) => one.events).filter((each) => each.kind === "event undone").map((each) => each.data.event));
  const last = [...taps(), ...recent].filter((one) => one.events.every((each) => each.kind !== "event undone" && !undone.has(each.id))).pop();
  if (!last) return void (location.href = `/jobs/${job.job}/log`);
  const one = { events: last.events.map((each) => event({ kind: "event undone", data: { event: each.id } })), step: null, count: 0, at: Date.now(), again: last.step };
  recent = recent.filter((each) => each !== last);
  if (keep(one)) { render(); send(); }
});

/* ---- People and the car ---- */

$("people").addEventListener("click", () => {
  const here = job.stands;
  const under = job.person in here.under;
  const choice = (words, kind, data) => el("button", { type: "button", on: () => { $("sheet").close(); tap([{ kind, data }]); } }, words);
  $("sheet-title").textContent = "Car and people";
  $("sheet-body").replaceChildren(
    el("p", {}, `The car is ${here.posture}.` + (Object.keys(here.under).length ? ` Under it: ${Object.keys(here.under).join(", ")}.` : " Nobody is under it.")),
    el("div", { class: "stack" },
      under ? choice("I am clear of the car", "person came clear", { who: job.person }) : choice("I go under the car", "person went under", { who: job.person }),
      ...["on the ground", "on a lift", "on stands"].filter((posture) => posture !== here.posture).map((posture) => choice(`The car is now ${posture}`, "car moved", { posture })),
      choice("Engine started", "engine ran", { what: "started" }), choice("Engine stopped", "engine ran", { what: "stopped" }),
      here.paused ? choice("Work goes on", "job resumed", {}) : choice("Pause", "job paused", {}),
      el("button", { type: "button", on: () => { $("sheet").close(); cameOff(); } }, "Something else came off"),
      el("button", { type: "button", on: () => { $("sheet").close(); noteForm(); } }, "A note"),
      el("button", { type: "button", on: () => { $("sheet").close(); whoForm(); } }, `I am ${job.person}`)));
  $("sheet-buttons").replaceChildren(el("button", { value: "no" }, "Back to the step"));
  $("sheet").showModal();
});

function noteForm() {
  const step = stepsNow()[0];
  sheet("A note", [field("note", "What is worth knowing later", "text", ""), field("item", "About", "text", step ? step.item : "")], (got) => {
    if (!got.note) return "nothing was said";
    tap([{ kind: "note added", data: { note: got.note, ...(got.item ? { item: got.item } : {}) } }]);
  });
}

function whoForm() {
  sheet("Who holds this device", [field("person", "Name", "person", job.person)], (got) => {
    if (!got.person) return "say a name";
    document.cookie = `putback-person=${encodeURIComponent(got.person)};path=/;max-age=31536000;samesite=strict`;
    job.person = got.person;
    render();
  }, "That is me");
}

/* ---- The car differs ---- */

$("differs").addEventListener("click", () => {
  const step = stepsNow()[0];
  if (!step) return;
  sheet(`${step.item}: the car differs`, [
    field("what", "What is it", "choice", "", [["seized", "seized"], ["broken", "broken"], ["not fitted", "not fitted on this car"], ["extra found", "something more is here"], ["wrong part", "the wrong part"], ["other tool", "it takes another tool"]]),
    field("item", "Of what", "text", step.item), field("count", "How many, if not all", "number", ""), field("note", "How it looks", "text", ""),
  ], (got) => {
    if (!got.what || !got.item) return "say what differs";
    const count = got.count ? figure(got.count) : undefined;
    differs({ item: got.item, what: got.what, ...(count ? { count } : {}), ...(got.note ? { note: got.note } : {}) });
  }, "That is so");
});

async function differs(found) {
  await send();
  try {
    if (taps().length) throw new Error("not sent");
    const answer = await ask(api + "/differs", json(found));
    if (!answer.ok) return say([["stop", await sentence(answer)]]);
    const meant = await answer.json();
    await refresh();
    render();
    tellChange(found, meant);
  } catch (error) {
    tap([{ kind: "difference found", data: found }]);
    say([["note", "There is no connection: the difference is kept, and the plan will follow it as soon as it is sent."]]);
  }
}

function tellChange(found, meant) {
  const body = [el("p", {}, `${found.item}: ${found.what}`), ...meant.sentences.map((text) => el("p", {}, text))];
  for (const rung of (meant.ladder && meant.ladder.rungs) || []) {
    body.push(el("p", { class: "note" }, el("strong", {}, rung.name + ": "), rung.words));
  }
  if (meant.change) body.push(...meant.change.sentences.map((text) => el("p", { class: "note" }, text)));
  if (meant.no_way) body.push(el("p", { class: "stop" }, meant.no_way));
  $("sheet-title").textContent = "What that means";
  $("sheet-body").replaceChildren(...body);
  $("sheet-buttons").replaceChildren(el("button", { class: "close", value: "yes" }, "Go on"));
  $("sheet").showModal();
}

async function planAgain() {
  try {
    await send();
    const answer = await ask(api + "/plan", json({}));
    if (!answer.ok) return say([["stop", await sentence(answer)]]);
    await refresh();
    render();
  } catch (error) {
    say([["stop", "There is no connection, and planning needs the shop's computer. Log what you do; the plan follows."]]);
  }
}

/* ---- Photos and reading aloud ---- */

let photoOf = "";
function photoButton(step) {
  return el("button", { type: "button", on: () => { photoOf = step.item; $("camera").click(); } }, "Photo");
}
$("camera").addEventListener("change", async () => {
  const file = $("camera").files[0];
  if (!file) return;
  try {
    const answer = await ask("/api/files", { method: "POST", headers: { "content-type": file.type || "application/octet-stream" }, body: file });
    if (!answer.ok) return say([["stop", await sentence(answer)]]);
    const kept = await answer.json();
    tap([{ kind: "file added", data: { hash: kept.hash, type: kept.type, name: file.name.slice(0, 100) || "photo", ...(photoOf ? { item: photoOf } : {}) } }]);
  } catch (error) {
    say([["stop", "There is no connection: the photo could not be sent. It stays in the camera's own pictures; add it later."]]);
  }
  $("camera").value = "";
});

function readButton(step) {
  if (!("speechSynthesis" in window)) return null;
  return el("button", { type: "button", on: () => {
    speechSynthesis.cancel();
    const words = [step.text, step.turn && "left-hand thread, " + step.turn, step.torque, step.tools.join(" and "), ...step.cautions].filter(Boolean).join(". ");
    speechSynthesis.speak(new SpeechSynthesisUtterance(words));
  } }, "Read aloud");
}

function laterButton(step) {
  return el("button", { type: "button", on: () => {
    job.steps = [...job.steps.filter((one) => one.key !== step.key), step];
    render();
  } }, "Later");
}

window.addEventListener("storage", () => render());
window.addEventListener("online", () => send());
document.addEventListener("visibilitychange", () => document.hidden || send());
render();
pulse();
