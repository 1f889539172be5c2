/* A keypad of our own for fields of figures, so that the keyboard does not cover half the screen. */
"use strict";

const TAKE_BACK = "⌫";
const KEYS = ["1", "2", "3", "4", "5", "6", "7", "8", "9", ".", "0", TAKE_BACK];
const NAMES = { ".": "point", [TAKE_BACK]: "take the last figure back" };

function key(field, sign) {
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = sign;
  button.setAttribute("aria-label", NAMES[sign] || sign);
  button.addEventListener("pointerdown", (pressed) => pressed.preventDefault()); // the field keeps the cursor
  button.addEventListener("click", () => {
    const stood = field.dataset.fresh ? "" : field.value;
    field.value = sign === TAKE_BACK ? field.value.slice(0, -1) : stood + sign;
    delete field.dataset.fresh;
  });
  return button;
}

function open(field) {
  const pad = document.createElement("div");
  pad.className = "keypad keys";
  pad.setAttribute("role", "group");
  pad.setAttribute("aria-label", "keypad");
  pad.append(...KEYS.map((sign) => key(field, sign)));
  document.querySelector(".keys")?.remove();
  field.dataset.fresh = "yes"; // the first key replaces what stood there
  (field.closest("fieldset") || field.closest(".order-line") || field).after(pad);
}

for (const field of document.querySelectorAll("[data-keypad]")) {
  field.inputMode = "none";
  field.addEventListener("focus", () => open(field));
  field.addEventListener("input", () => delete field.dataset.fresh);
}
