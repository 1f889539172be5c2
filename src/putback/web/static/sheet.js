/* A sheet over the page: a few fields, a keypad in place of the keyboard, and one button that logs. */
"use strict";

const $ = (id) => document.getElementById(id);

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

/* kind: text, long, number, secret or choice. `picks` are values that one tap fills in; those of a choice are pairs of value and words. */
function field(name, label, kind, value = "", picks = []) {
  return { name, label, kind, value, picks };
}

let finishSheet = () => {};

/* Shows a form. `finish` takes what was said and returns a sentence where it will not do. */
function sheet(title, fields, finish, words = "Log it") {
  const inputs = {};
  const wrong = el("p", { class: "stop", role: "alert", hidden: true });
  openSheet(title, [...fields.map((one) => fieldNode(one, inputs)), wrong], [el("button", { class: "close" }, words)]);
  finishSheet = () => {
    const said = Object.fromEntries(Object.entries(inputs).map(([name, read]) => [name, read()]));
    const sentence = finish(said);
    wrong.textContent = sentence || "";
    wrong.hidden = !sentence;
    return !sentence;
  };
}

/* Shows anything, with buttons below it. */
function openSheet(title, body, buttons, leave = "Leave it") {
  finishSheet = () => true;
  $("sheet-title").textContent = title;
  $("sheet-body").replaceChildren(...body.filter(Boolean));
  $("sheet-buttons").replaceChildren(...buttons, el("button", { type: "button", on: shut }, leave));
  target = null;
  if (!$("sheet").open) $("sheet").showModal();
  $("sheet").scrollTop = 0;
}

function shut() {
  $("sheet").close();
}

/* A button of a sheet that closes it and does something. */
function choice(words, act, kind = "") {
  return el("button", { type: "button", class: kind || null, on: () => { shut(); act(); } }, words);
}

$("sheet-form").addEventListener("submit", (submitted) => {
  submitted.preventDefault();
  const before = finishSheet;
  if (finishSheet() && finishSheet === before) shut(); // what opened another sheet keeps it
});

function fieldNode(one, inputs) {
  if (one.kind === "long") return longNode(one, inputs);
  return one.kind === "choice" ? choiceNode(one, inputs) : inputNode(one, inputs);
}

/* Words of any length; the phone's own key for dictation works here as well. */
function longNode(one, inputs) {
  const input = el("textarea", { id: "f-" + one.name, rows: 4, maxlength: 4000 });
  input.addEventListener("focus", () => keypad.remove());
  inputs[one.name] = () => input.value.trim();
  return el("div", {}, el("label", { for: input.id }, one.label), input);
}

function inputNode(one, inputs) {
  const figures = one.kind === "number" || one.kind === "secret";
  const input = el("input", {
    id: "f-" + one.name, value: one.value ?? "", autocomplete: "off", maxlength: 2000, class: figures ? "figures" : null,
    inputmode: figures ? "none" : "text", type: one.kind === "secret" ? "password" : "text",
  });
  input.addEventListener("focus", () => (figures ? aim(input) : keypad.remove()));
  inputs[one.name] = () => input.value.trim();
  const picks = one.picks.map((value) => el("button", { type: "button", on: () => { input.value = value; } }, String(value)));
  return el("div", {}, el("label", { for: input.id }, one.label), input, picks.length > 0 && el("div", { class: "picks" }, ...picks));
}

function choiceNode(one, inputs) {
  const rows = one.picks.map(([value, words], at) => {
    const input = el("input", { type: "radio", name: one.name, id: `f-${one.name}-${at}`, value, checked: value === one.value });
    return [input, el("div", { class: "choice" }, input, el("label", { for: input.id }, words))];
  });
  inputs[one.name] = () => (rows.find(([input]) => input.checked) || [{ value: "" }])[0].value;
  return el("fieldset", {}, el("legend", {}, one.label), el("div", { class: "choices" }, ...rows.map(([, row]) => row)));
}

/* The keypad stands below the field of figures that is written in; its first key replaces what stood there. */
const BACK = "⌫";
const KEYS = ["1", "2", "3", "4", "5", "6", "7", "8", "9", ".", "0", BACK];
const KEY_NAMES = { [BACK]: "take the last figure back", ".": "point" };
const keypad = el("div", { class: "keypad", role: "group", "aria-label": "keypad" },
  ...KEYS.map((sign) => el("button", { type: "button", on: () => press(sign), "aria-label": KEY_NAMES[sign] || sign }, sign)));
let target = null;

function aim(input) {
  if (target !== input) input.dataset.fresh = "yes";
  target = input;
  input.after(keypad);
}

function press(sign) {
  const stood = target.dataset.fresh ? "" : target.value;
  target.value = sign === BACK ? target.value.slice(0, -1) : stood + sign;
  delete target.dataset.fresh;
}

/* A figure that was typed; null for none. */
function figure(text) {
  return /^\d+([.,]\d+)?$/.test(text ?? "") ? Number(text.replace(",", ".")) : null;
}

const whole = (text) => (/^[1-9]\d{0,3}$/.test(text ?? "") ? Number(text) : null);
