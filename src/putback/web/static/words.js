/* Free words: kept on this device as any tap, understood by the server, and shown with one tap each to put it right. */
"use strict";

const SAID = KEPT + "said"; // notes of this device whose meaning it has not shown yet, each with the tray that was named
const HEARING = 30; // seconds
const saidHere = () => JSON.parse(localStorage.getItem(SAID) || "[]");
const keepSaid = (all) => localStorage.setItem(SAID, JSON.stringify(all.slice(-20)));

function sayWords() {
  const trays = [...new Set(job.stands.fasteners.flatMap((group) => Object.keys(group.trays)))];
  sheet("Say it in words", [
    field("words", "What was done, one step or several", "long"),
    field("tray", "Tray of what came off", "text", nextTray(trays), trays.slice(-4)),
  ], (got) => {
    if (!got.words) return "nothing was said";
    const said = { kind: "note added", data: { note: got.words, "to hear": true } };
    const wrong = tap([said], null, 0, { asked: true });
    if (wrong !== "") return wrong || "";
    const [note] = [...taps()].reverse().flatMap((one) => one.events).filter((each) => each.kind === "note added");
    keepSaid([...saidHere(), { note: note.id, tray: got.tray }]);
    hearSaid(true);
    return "";
  }, "Log it");
}

/* Asks what this device's words mean, once they are with the server. */
let hearing = false;
async function hearSaid(asked = false) {
  const [next] = saidHere();
  if (!next || hearing) return;
  hearing = true;
  try {
    await allSent();
    await hear(next.note, next.tray);
    keepSaid(saidHere().filter((one) => one.note !== next.note));
  } catch (error) {
    if (asked) tell("Kept; what it means is worked out when there is a connection");
  } finally {
    hearing = false;
  }
}

setInterval(() => connected && !unsent().length && !$("sheet").open && hearSaid(), 2000);

async function hear(note, tray = "") {
  const answer = await ask(api + "/heard", json({ note, ...(tray ? { tray } : {}) }), HEARING);
  if (!answer.ok) return void warn(await sentence(answer));
  const meant = await answer.json();
  await refresh();
  render();
  showMeant(meant);
}

/* A step that asks for it: words that another device left. */
function hearStep(step) {
  hear(step.key.replace(/^point: unheard: /, "")).catch(() => warn("There is no connection; what it means is worked out with one."));
}

function showMeant(meant) {
  const again = (changes) => showMeant({ ...meant, ...changes });
  const nothing = !meant.logged.length && !meant.questions.length && !meant.held_back.length;
  openSheet(meant.logged.length ? "Logged" : "Kept as a note", [
    nothing && el("p", {}, "It tells of no step."),
    ...meant.held_back.map((one) => el("p", { class: "stop" }, el("strong", {}, "Not logged: "), one.text)),
    ...meant.warnings.map((text) => el("p", { class: "note" }, el("strong", {}, "Mind: "), text)),
    ...meant.questions.map((one) => openRow(one, () => again({ questions: meant.questions.filter((other) => other !== one) }))),
    ...meant.logged.map((one) => meantRow(one, () => again({ logged: meant.logged.filter((other) => other !== one) }))),
  ], [choice("That is so", () => {}, "close")], "Close");
}

function meantRow(one, gone) {
  const undo = { kind: "event undone", data: { event: one.id } };
  const notSo = () => { tap([undo], null, 0, { asked: true }); gone(); };
  return el("div", { class: "rung" }, el("p", {}, one.text),
    el("div", { class: "row-of-buttons" },
      el("button", { type: "button", on: notSo }, "Not so"),
      el("button", { type: "button", on: () => otherFigures(one, undo) }, "Change")));
}

const CHANGED = {
  item: "What", count: "How many", size: "Size", "tray position": "Tray", torque: "Torque in N·m", angle: "Then the angle in degrees",
  state: "How it stands", fluid: "Fluid", litres: "Litres", posture: "The car is", name: "What", where: "Where", work: "Work", what: "In what way",
};
const FIGURES = ["count", "torque", "angle", "litres"];

function otherFigures(one, undo) {
  const keys = Object.keys(CHANGED).filter((key) => key in one.data);
  const fields = keys.map((key) => field(key, CHANGED[key], FIGURES.includes(key) ? "number" : "text", one.data[key]));
  sheet(one.text, fields, (got) => {
    const wrong = keys.find((key) => (FIGURES.includes(key) ? figure(got[key]) === null : !got[key]));
    if (wrong) return `${CHANGED[wrong]}: say it`;
    if ("count" in got && whole(got.count) === null) return "how many is a number from 1";
    const changed = Object.fromEntries(keys.map((key) => [key, FIGURES.includes(key) ? figure(got[key]) : got[key]]));
    return tap([undo, { kind: one.kind, data: { ...one.data, ...changed } }], null, 0, { asked: true });
  });
}

/* What could not be known: each answer is a whole event. */
function openRow(one, gone) {
  const log = (said) => () => { tap([said], null, 0, { asked: true }); gone(); };
  const buttons = one.choices.map((each) => el("button", { type: "button", on: log({ kind: each.kind, data: each.data }) }, each.text));
  if (one.missing) buttons.push(el("button", { type: "button", on: () => figureOf(one) }, one.choices.length ? "Another" : "Say how much"));
  return el("div", { class: "rung" },
    el("p", {}, el("strong", {}, "Open: "), one.text),
    el("p", { class: "faint" }, `“${one.words}”`),
    buttons.length > 0 && el("div", { class: "picks" }, ...buttons));
}

function figureOf(one) {
  sheet(one.text, [field(one.missing, CHANGED[one.missing], "number")], (got) => {
    const value = one.missing === "count" ? whole(got.count) : figure(got[one.missing]);
    if (value === null) return "give a number";
    return tap([{ kind: one.kind, data: { ...one.data, [one.missing]: value } }], null, 0, { asked: true });
  });
}
