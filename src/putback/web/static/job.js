/* The step now: what is shown, and what the buttons do. */
"use strict";

const SNACK = 10000; // ms in which what was logged last is told beside the button that takes it back

/* ---- Taps ---- */

/* A tap: the events that it logs, the step that it closes if any, and how many of that step's pieces. Returns a sentence where it
   was not kept. The next step is on the screen before anything is sent. */
function tap(saids, step = null, count = 0, more = {}) {
  if (!job.person) return void whoForm(() => tap(saids, step, count, more));
  const one = { events: saids.map(stamped), step, count, at: Date.now(), ...more };
  const against = hardStop(saids);
  try {
    if (against) keep({ ...one, why: against, stops: [{ text: against, hard: true }] }, "aside");
    else keep(one);
  } catch (error) {
    return warn(full());
  }
  if (!against) tell(`Logged: ${step ? step.text : words(saids)}`);
  render(true);
  send();
  return "";
}

const words = (saids) => saids.map((one) => [one.kind, one.data.item || one.data.what || one.data.note].filter(Boolean).join(": ")).join("; ");

const full = () => `${noStorage() || "This device's storage is full"}, so nothing can be logged here: free some space, or use another device.`;

function warn(text) {
  say("warning", el("p", {}, el("strong", {}, "Stop: "), text));
  return text;
}

/* What bars the way whether or not the server can be asked; such a tap is set aside at once. */
function hardStop(saids) {
  const under = Object.keys(standsNow().under).join(", ");
  if (!under) return "";
  const starts = saids.some((one) => one.kind === "engine ran" && one.data.what === "started");
  if (starts) return `${under} is under the car: nobody starts the engine`;
  return saids.some((one) => one.kind === "car moved") ? `${under} is under the car: it does not move` : "";
}

/* ---- What is shown ---- */

/* `own`: whoever holds this device has just tapped, and expects the step to change. */
function render(own = false) {
  const steps = stepsNow();
  showSent();
  showAside();
  showStep(steps[0], own === true);
  showThen(steps.slice(1, 4));
  $("buttons").hidden = false;
}

function showSent() {
  const waiting = unsent().reduce((sum, one) => sum + one.events.length, 0);
  const away = connected ? "" : trouble || "no connection";
  const stands = waiting ? `Not sent yet: ${waiting}` : away ? "Every tap is kept here" : "All sent";
  $("sent").textContent = away ? `${stands}; ${away}` : stands;
  $("told").textContent = told;
  $("sent").classList.toggle("waiting", waiting > 0 || !connected);
}

const CALM = 500; // ms in which a button does nothing after the step has changed under the thumb
let shown = null; // the step on the screen: a button is about this one and no other
let shownKey = "";
function showStep(step, own) {
  const key = JSON.stringify(step || null);
  if (key === shownKey) return;
  if (!own && shown && (!step || step.key !== shown.key)) calmDown();
  [shown, shownKey] = [step || null, key];
  $("step").replaceChildren(...(step ? stepParts(step) : theEnd()));
  $("done").hidden = !step;
  $("change").hidden = !(step && otherwiseFields(step).length);
  $("differs").hidden = !(step && step.item);
  if (step) $("done").textContent = closeWords(step);
  tick();
}

let calmTimer = 0;
function calmDown() {
  $("buttons").classList.add("calm");
  clearTimeout(calmTimer);
  calmTimer = setTimeout(() => $("buttons").classList.remove("calm"), CALM);
}

const CLOSE_WORDS = {
  "hand-over signed": "To the hand-over", "part compared": "Compare them", "plan made": "Plan again", "job taken over": "Take it over",
  "fasteners off": "Log what came off", "point accepted": "Take it on", "consent given": "Log the consent",
};

function closeWords(step) {
  if (step.asks && !step.closes.length) return CLOSE_WORDS[step.asks] || "Log it";
  if (step.key.startsWith("release:")) return "Release";
  return step.left > 1 ? `Done, all ${step.left}` : "Done";
}

const theEnd = () => [el("h1", {}, job.signed ? "Handed over" : "Nothing is left to do")];

function stepParts(step) {
  const from = [step.vantage && "from " + step.vantage, step.posture && "car " + step.posture];
  const place = [...from, ...step.settings].filter(Boolean).join(", ");
  const tools = [...step.tools, ...step.equipment].join(" + ");
  return [
    el("p", { class: "phase" }, phaseWords(step)),
    el("h1", {}, step.text),
    step.where && el("p", { class: "sits" }, step.where),
    step.turn && el("p", { class: "turn" }, step.turn),
    step.torque && el("p", { class: "torque" }, step.torque),
    ...step.wrench.map((text) => el("p", { class: "wrench" }, text)),
    step.order.length > 1 && el("p", { class: "wrench" }, "in the order " + step.order.join("-")),
    tools && el("p", { class: "tool" }, tools),
    step.tray && el("p", { class: "tray" }, "tray " + step.tray),
    step.not_before > 0 && el("p", { class: "stop", id: "wait" }),
    place && el("p", { class: "place" }, place),
    ...step.cautions.map((text) => el("p", { class: "note" }, el("strong", {}, "Caution: "), text)),
    ...beltParts(step),
    ...notes(step),
    step.reason.length > 0 && el("p", { class: "faint" }, "to get at the " + step.reason.join(", for the ")),
    el("p", { class: "row-of-buttons" }, ...extras(step)),
  ].filter(Boolean);
}

function extras(step) {
  const button = (text, act) => el("button", { type: "button", on: act }, text);
  return [
    step.closes.some((one) => one.kind === "work done") && button("Log a reading", () => reading(step)),
    !job.described && button("Say it in words", sayWords),
    step.asks === "fasteners off" && button("All is off", () => { later(step); render(true); }),
    step.belt && button("The belt", () => go("belt")),
    step.key === "parts" && button("Parts", () => go("order")),
    step.asks === "reading taken" && button("Readings", () => go("readings")),
    !wantsPhoto(step) && button("Photo", () => takePhoto(step)),
    "speechSynthesis" in window && button("Read aloud", () => readAloud(step)),
    step.optional && step.asks !== "fasteners off" && button("Later", () => { later(step); render(true); }),
  ];
}

function phaseWords(step) {
  const there = stepsNow().filter((one) => one.phase === step.phase).length;
  return step.phase + (there > 1 ? `, ${there} to go` : "");
}

function notes(step) {
  const noted = (one) => el("p", { class: "note" }, el("strong", {}, "Noted: "), `${one.note} (${one.person})`);
  const texts = step.notes.filter((one) => one.note).map(noted);
  const files = step.notes.filter((one) => one.file);
  if (!files.length) return texts;
  const pictures = el("div", { class: "pictures" });
  const show = () => pictures.replaceChildren(...files.map(picture));
  return [...texts, el("button", { type: "button", on: show }, `Photos of the removal (${files.length})`), pictures];
}

/* How the belt runs: the drawing on request, and what its step asks for. */
function beltParts(step) {
  if (!step.belt) return [];
  const words = step.belt.words.map((text) => el("li", {}, text));
  const photo = el("button", { type: "button", on: () => takePhoto(step) }, "Photo of the belt");
  return [wantsPhoto(step) && photo, ...step.belt.pictures.map(drawing), el("ul", { class: "belt" }, ...words)];
}

const wantsPhoto = (step) => Boolean(step.belt && step.belt.photo);

function drawing(one, at, all) {
  const title = "How the belt runs" + (all.length > 1 ? ": " + one.name : "");
  return el("details", {}, el("summary", {}, title), el("img", { class: "drawing", src: one.drawing, alt: one.shows }));
}

/* Fetched with the page, so that it is there without a connection. */
function fetchDrawings() {
  const pictures = job.steps.flatMap((step) => (step.belt ? step.belt.pictures : []));
  for (const source of new Set(pictures.map((one) => one.drawing))) new Image().src = source;
}

function picture(one) {
  const source = "/api/files/" + one.file;
  const title = `${one.name}, ${one.person}`;
  return one.type.startsWith("image/") ? el("img", { src: source, alt: title, loading: "lazy" }) : el("a", { href: source }, title);
}

function showThen(steps) {
  const list = el("ol", { class: "then" }, ...steps.map((step) => el("li", {}, step.text)));
  $("then").replaceChildren(...(steps.length ? [el("h2", {}, "Then"), list] : []));
}

/* Once a second: what is left to wait. */
function tick() {
  const place = $("wait");
  if (!place || !shown) return;
  const left = Math.ceil(60 * waitLeft(shown));
  const text = left ? `Wait: ${Math.floor(left / 60)} min ${String(left % 60).padStart(2, "0")} s` : "The wait is over";
  if (place.textContent !== text) place.textContent = text;
}

/* ---- What was not taken ---- */

/* Boxes above the step, each under a key of its own. */
function say(key, ...children) {
  const old = document.getElementById("box-" + key);
  const ok = el("button", { type: "button", on: () => box.remove() }, "Understood");
  const box = el("div", { class: "stop", id: "box-" + key }, ...children, ok);
  old ? old.replaceWith(box) : $("held").append(box);
  scrollTo(0, 0);
}

let asideShown = "";
function showAside() {
  const all = aside();
  const key = JSON.stringify(all);
  if (key === asideShown) return;
  if (all.length) scrollTo(0, 0);
  asideShown = key;
  $("aside").replaceChildren(...all.map(asideBox));
}

function asideBox(one) {
  const hard = one.stops.some((stop) => stop.hard);
  const what = one.step ? one.step.text : words(one.events);
  return el("div", { class: "stop" },
    el("p", {}, el("strong", {}, one.stops.length ? "Stop: " : "Not taken: "), one.why),
    el("p", { class: "faint" }, what),
    el("div", { class: "row-of-buttons" },
      one.stops.length > 0 && !hard && el("button", { type: "button", on: () => anyway(one) }, "Do it all the same"),
      one.stops.length > 0 && hard && el("button", { type: "button", on: () => happened(one) }, "It has happened"),
      one.pin && el("button", { type: "button", on: () => sign(one) }, "Sign with a PIN"),
      !one.stops.length && !one.pin && el("button", { type: "button", on: () => { again(one); } }, "Send it again"),
      el("button", { type: "button", on: () => { forget(one); render(); } }, "Not done")));
}

function again(one, changes = {}) {
  rewrite(one, { faults: 0, asked: true, stops: [], why: undefined, ...changes }, "tap");
  render();
  send();
}

function anyway(one) {
  sheet("Do it all the same", [field("reason", "Why; it goes on the record", "text")], (got) => {
    if (!got.reason) return "say why";
    const points = one.stops.map((stop) => stamped({ kind: "point accepted", data: { point: stop.key, reason: got.reason, by: job.person } }));
    again(one, { events: [...points, ...one.events] });
    return "";
  });
}

/* Nobody may do it; but what was done is kept, for the log holds what happened. */
function happened(one) {
  sheet("It has happened all the same", [field("note", "How it came to that", "text")], (got) => {
    if (!got.note) return "say how it came to that; it goes on the record";
    again(one, { events: [...one.events, stamped({ kind: "note added", data: { note: got.note } })] });
    return "";
  });
}

/* A PIN is sent with what it signs, and is kept nowhere. */
function sign(one) {
  sheet(one.why, [field("pin", "PIN", "secret")], (got) => {
    if (!got.pin) return "type the PIN";
    sendSigned(one, got.pin);
    return "";
  }, "Sign");
}

async function sendSigned(one, pin) {
  try {
    const answer = await ask(api + "/events", json({ events: one.events, pin }));
    if (answer.ok) forget(one);
    else rewrite(one, { why: await sentence(answer) });
  } catch (error) {
    warn("There is no connection; what is signed can only be sent with one.");
  }
  render();
  send();
}

/* ---- Taking the last tap back ---- */

function lastTap() {
  const undone = undoneIds();
  const taken = (one) => one.events.every((each) => each.kind !== "event undone" && !undone.has(each.id));
  return [...kept("done"), ...taps()].filter(taken).pop();
}

function takeBack() {
  const last = lastTap();
  if (!last) return go("log");
  const undo = last.events.map((each) => ({ kind: "event undone", data: { event: each.id } }));
  if (!tap(undo, null, 0, { again: last.step || undefined, asked: true })) tell(`Taken back: ${last.step ? last.step.text : words(last.events)}`);
}

let told = "";
let toldTimer = 0;
function tell(text) {
  told = text;
  clearTimeout(toldTimer);
  toldTimer = setTimeout(() => { told = ""; showSent(); }, SNACK);
  showSent();
}

/* ---- Buttons ---- */

/* A button of the step on the screen. */
function onStep(id, act) {
  $(id).addEventListener("click", () => {
    if (shown && !$("buttons").classList.contains("calm")) act(shown);
  });
}

onStep("done", (step) => (waitLeft(step) > 0 ? waitedOut(step) : finish(step)));
onStep("change", otherwise);
onStep("differs", differsForm);
$("back").addEventListener("click", takeBack);

function finish(step) {
  const form = step.key.startsWith("release:") ? release : FORMS[step.asks];
  if (form) form(step);
  else if (step.closes.length) tap(step.closes, step);
  else go("menu");
}

function waitedOut(step) {
  const left = el("p", {}, `${Math.ceil(waitLeft(step))} min are left.`);
  openSheet("The wait is not over", [left], [choice("It was waited for", () => finish(step), "close")], "Wait");
}

/* ---- Car and people ---- */

const NO_STEP = { key: "", item: "", closes: [] };
const POSTURES = ["on the ground", "on a lift", "on stands"];

$("people").addEventListener("click", () => {
  const stands = standsNow();
  const under = Object.keys(stands.under);
  const step = shown;
  const log = (text, kind, data) => choice(text, () => tap([{ kind, data }]));
  openSheet("Car and people", [
    el("p", {}, `The car is ${stands.posture}. ` + (under.length ? `Under it: ${under.join(", ")}.` : "Nobody is under it.")),
    el("div", { class: "stack" },
      ...under.filter((who) => who !== job.person).map((who) => log(`${who} is clear of the car`, "person came clear", { who })),
      under.includes(job.person)
        ? log("I am clear of the car", "person came clear", { who: job.person })
        : choice("I go under the car", goUnder),
      ...POSTURES.filter((posture) => posture !== stands.posture).map((posture) => log(`The car is now ${posture}`, "car moved", { posture })),
      log("The engine starts", "engine ran", { what: "started" }), log("The engine stops", "engine ran", { what: "stopped" }),
      stands.paused ? log("Work goes on", "job resumed", {}) : log("Pause", "job paused", {})),
    el("h2", {}, "Log something else"),
    el("div", { class: "stack" },
      choice("Say it in words", sayWords),
      choice("Something came off", cameOff),
      choice("A note", () => noteForm(step)),
      choice("A reading", () => reading(step)),
      choice("What the car came in with", () => intake(null)),
      choice("Fluid came out", () => litres(NO_STEP, "fluid drained")),
      choice("Fluid went in", () => litres(NO_STEP, "fluid filled")),
      choice("Cap, rag or tool put in", () => thing("thing put in")),
      choice("Cap, rag or tool taken out", () => thing("thing taken out")),
      choice("A fastener that nobody knows", foundOne),
      choice(job.person ? `This device is held by ${job.person}` : "Who holds this device", () => whoForm())),
  ], [], "Back to the step");
});

function goUnder() {
  if (!job.person) return whoForm(goUnder);
  return tap([{ kind: "person went under", data: { who: job.person } }]);
}

/* ---- Photos and reading aloud ---- */

let photoOf = "";
function takePhoto(step) {
  photoOf = step.item;
  $("camera").click();
}

$("camera").addEventListener("change", async () => {
  const file = $("camera").files[0];
  if (!file) return;
  const id = newId();
  try {
    await keepPhoto(id, file);
    const added = said("file added", { name: file.name.slice(0, 100) || "photo", item: photoOf });
    tap([added], null, 0, { photo: id, asked: true });
  } catch (error) {
    warn("This device has no room for the photo; it was not kept.");
  }
  $("camera").value = "";
});

function readAloud(step) {
  speechSynthesis.cancel();
  const lines = [step.text, step.turn, step.torque, ...step.wrench, step.tools.join(" and "), step.tray && "tray " + step.tray, ...step.cautions,
    ...(step.belt ? step.belt.words : [])];
  speechSynthesis.speak(new SpeechSynthesisUtterance(lines.filter(Boolean).join(". ")));
}

/* ---- Begin ---- */

window.addEventListener("storage", render);
window.addEventListener("online", send);
document.addEventListener("visibilitychange", () => document.hidden || send());
setInterval(tick, 1000);

const nothingKept = noStorage();
if (nothingKept) {
  const text = `${nothingKept}, so nothing can be logged here: allow this site to keep data, free some space, or use another device.`;
  $("step").replaceChildren(el("p", { class: "stop", role: "alert" }, text));
} else {
  settle();
  render();
  pulse();
  fetchDrawings();
}
