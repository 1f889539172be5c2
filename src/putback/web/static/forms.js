/* The small forms of steps that ask for figures or words, and of what can be logged at any time. */
"use strict";

const FORMS = {
  "hand-over signed": () => go("hand-over"),
  "part compared": () => go("match"),
  "job taken over": () => go("hand-on"),
  "plan made": () => planAgain(),
  "intake noted": intake,
  "reading taken": reading,
  "fluid filled": (step) => litres(step, "fluid filled"),
  "fluid drained": (step) => litres(step, "fluid drained"),
  "fasteners off": cameOff,
  "fasteners on": (step) => otherwise(step),
  "consent given": consent,
  "point accepted": accept,
  "difference settled": settled,
  "note added": noteForm,
  "note heard": (step) => hearStep(step),
};

function go(page) {
  location.href = `/jobs/${job.job}/${page}`;
}

/* An event to be, without what was left empty. */
const isSaid = ([, value]) => value !== undefined && value !== null && value !== "";
const said = (kind, data) => ({ kind, data: Object.fromEntries(Object.entries(data).filter(isSaid)) });
const listed = (text) => text.split(",").map((one) => one.trim()).filter(Boolean);

/* ---- A step done otherwise than planned: another count, torque, evidence, place ---- */

const MEASURED = ["clicked at the setting", "value read"];
const EVIDENCE = [
  ["clicked at the setting", "the wrench clicked"], ["value read", "the value was read"], ["by feel", "by feel"],
  ["hand-tight", "run in by hand only"], ["seated", "a clip or a clamp that is home"],
];

function otherwise(step) {
  sheet(step.text, otherwiseFields(step), (got) => logOtherwise(step, got));
}

function otherwiseFields(step) {
  const planned = Object.assign({}, ...step.closes.map((one) => one.data));
  const asked = step.asks === "fasteners on"; // nobody has described them: how tight they are is never taken for granted
  return [
    step.left > 1 && field("count", `How many of ${step.left}`, "number", step.left),
    "evidence" in planned && field("torque", "Torque in N·m", "number", planned.torque),
    "angle" in planned && field("angle", "Then the angle in degrees", "number", planned.angle),
    "litres" in planned && field("litres", `Litres of ${planned.fluid}`, "number", planned.litres),
    "evidence" in planned && field("evidence", "How it is known that they are tight", "choice", asked ? MEASURED[0] : planned.evidence, EVIDENCE),
    "evidence" in planned && field("reason", "Why, where no torque was measured", "text", asked ? "" : planned.reason, UNMEASURED),
    "new" in planned && field("new", "What went in", "choice", planned.new ? "new" : "old", [["new", "new ones"], ["old", "the old ones"]]),
    "tray position" in planned && field("tray", "Tray", "text", planned["tray position"]),
    step.closes.some((one) => one.kind === "work done") && field("result", "What came of it", "text"),
    step.closes.some((one) => NOTED.includes(one.kind)) && field("note", "Note", "text"),
  ].filter(Boolean);
}

const UNMEASURED = ["no room for a wrench", "no torque is known for it"];
const NOTED = ["item moved", "fasteners loosened", "fasteners off", "fasteners on", "fasteners tightened", "part swapped", "work done"];

function logOtherwise(step, got) {
  const count = "count" in got ? whole(got.count) : step.left;
  if (count === null || count > step.left) return `how many must be a number from 1 to ${step.left}`;
  if (MEASURED.includes(got.evidence) && !(figure(got.torque) > 0)) return "give the torque in N·m";
  if (got.evidence === "by feel" && !got.reason) return "say why no torque was measured";
  if (got.angle && figure(got.angle) === null) return "give the angle in degrees";
  if ("litres" in got && figure(got.litres) === null) return "give the litres";
  const parts = portions(step.closes, count);
  return tap(parts.map((one) => ({ kind: one.kind, data: otherwiseData(one, got) })), step, step.left > 1 ? count : 0);
}

/* The events of a step for so many of its pieces; a step may put some in and tighten others that were in already. */
function portions(closes, count) {
  let left = count;
  return closes.flatMap((one) => {
    if (!("count" in one.data)) return [one];
    const mine = Math.min(left, one.data.count);
    left -= mine;
    return mine ? [{ ...one, data: { ...one.data, count: mine } }] : [];
  });
}

function otherwiseData(one, got) {
  const data = { ...one.data };
  if ("evidence" in data && got.evidence) Object.assign(data, tightened(data, got));
  if ("new" in data) data.new = got.new === "new";
  if ("litres" in data) data.litres = figure(got.litres);
  if ("tray position" in data && got.tray) data["tray position"] = got.tray;
  if (one.kind === "work done" && got.result) data.result = got.result;
  if (NOTED.includes(one.kind) && got.note) data.note = got.note;
  return JSON.parse(JSON.stringify(data)); // without what was taken away
}

function tightened(data, got) {
  const measured = MEASURED.includes(got.evidence);
  const none = { torque: undefined, angle: undefined, wrench: undefined, passes: undefined, "in order": undefined };
  const figures = { torque: figure(got.torque) ?? undefined, angle: got.angle ? figure(got.angle) : undefined };
  return { ...(measured ? figures : none), evidence: got.evidence, reason: got.evidence === "by feel" ? got.reason : undefined };
}

/* ---- Forms of single steps ---- */

const LISTS = ["lamps on", "stored codes", "damage already there"];
function intake(step) {
  const texts = [
    ["complaint", "Complaint, in the customer's words"], ["kilometres", "Kilometres"], ["lamps on", "Lamps that are on"],
    ["stored codes", "Stored codes"], ["audio code", "Audio code"], ["damage already there", "Damage already there"],
  ];
  const fields = texts.map(([name, label]) => field(name, label, name === "kilometres" ? "number" : "text"));
  sheet("What the car came in with", fields, (got) => {
    if (got.kilometres && figure(got.kilometres) === null) return "kilometres are a number";
    const lists = Object.fromEntries(LISTS.map((name) => [name, got[name] && listed(got[name])]));
    const noted = said("intake noted", { ...got, ...lists, kilometres: got.kilometres && figure(got.kilometres) });
    if (!Object.keys(noted.data).length) return "nothing was said";
    return tap([noted], step);
  });
}

function reading(step) {
  const when = step && ["before", "way in"].includes(step.phase) ? "before" : "after";
  sheet("A reading", [
    field("value", "Figure", "number"), field("unit", "Unit", "text", "V", ["V", "A", "mV", "ohm", "degC"]),
    field("what", "What was read", "text", step && step.asks ? step.item : "", ["battery at rest", "charging at idle", "charging under load"]),
    field("good", "As it should be", "choice", "", [["yes", "yes"], ["no", "no"], ["", "not judged"]]),
    field("when", "Taken", "choice", when, [["before", "before the work"], ["after", "after it"]]),
  ], (got) => {
    const value = figure(got.value);
    if (!got.what || value === null || !got.unit) return "say what was read, the figure and its unit";
    const good = got.good ? got.good === "yes" : undefined;
    return tap([said("reading taken", { what: got.what, value, unit: got.unit, when: got.when, good })]);
  });
}

function litres(step, kind) {
  const planned = step.closes.map((one) => one.data).find((data) => "litres" in data) || {};
  sheet(kind === "fluid filled" ? "Filled in" : "Came out", [
    field("litres", "Litres", "number", planned.litres),
    field("fluid", "Which fluid", "text", planned.fluid ?? step.item, Object.keys({ ...job.stands.drained, ...job.stands.filled })),
  ], (got) => {
    const amount = figure(got.litres);
    if (!got.fluid || amount === null) return "say which fluid, and how many litres";
    return tap([said(kind, { fluid: got.fluid, litres: amount })], step.key ? step : null);
  });
}

function consent(step) {
  sheet("What the customer agrees to", [
    field("total", "At most, before tax", "number", job.plan && job.plan.comes_to),
    field("by", "Who agrees", "text", "the customer"),
    field("how", "How", "choice", "by telephone", [["by telephone", "by telephone"], ["in person", "in person"], ["in writing", "in writing"]]),
  ], (got) => {
    const total = figure(got.total);
    if (total === null || !got.by) return "say who agrees, and to how much";
    const what = step.text.replace(/^ask for consent: /, "");
    const given = said("consent given", { "to what": what, by: got.by, total: Math.round(total * 100), how: got.how });
    return tap([given], step.key ? step : null);
  });
}

function accept(step) {
  sheet(step.text, [field("reason", "Why it may stay so", "text"), field("by", "Who answers for it", "text", job.person, job.people)], (got) => {
    if (!got.reason || !got.by) return "say why, and who answers for it";
    return tap([said("point accepted", { point: step.key.replace(/^point: /, ""), reason: got.reason, by: got.by })], step);
  }, "Take it on");
}

function settled(step, how = "") {
  sheet(`${step.item}: how was it put right`, [field("how", "How", "text", how)], (got) => {
    if (!got.how) return "say how";
    const wrong = tap([said("difference settled", { item: step.item, how: got.how })], step.key ? step : null);
    if (!wrong && job.described) planAgain();
    return wrong;
  });
}

function release(step) {
  const others = job.people.filter((name) => name !== job.person);
  sheet(step.text, [field("person", "Who has looked at them", "text", others.length === 1 ? others[0] : "", others)], (got) => {
    if (!got.person) return "say who has looked at them";
    return tap([{ ...step.closes[0], person: got.person }], step);
  }, "Release");
}

function noteForm(step) {
  sheet("A note", [field("note", "What is worth knowing later", "text"), field("item", "About", "text", step ? step.item : "")], (got) => {
    if (!got.note) return "nothing was said";
    return tap([said("note added", got)]);
  });
}

function whoForm(then = () => {}) {
  sheet("Who holds this device", [field("person", "Name", "text", job.person, job.people)], (got) => {
    if (!got.person) return "say a name";
    document.cookie = `putback-person=${encodeURIComponent(got.person)};path=/;max-age=31536000;samesite=strict`;
    job.person = got.person;
    render();
    return then();
  }, "That is me");
}

/* ---- Free entries: a car that nobody has described, and what a description does not know ---- */

const SIZES = "putback:sizes"; // the latest, for the shop's cars are much alike
const WORDS = ["bolts", "nuts", "screws", "clips", "clamps"];
const STATES = [["off", "came off"], ["unplugged", "was unplugged"], ["aside", "was set aside, lines still on"], ["", "stays: only its fasteners came out"]];

const sizes = () => JSON.parse(localStorage.getItem(SIZES) || "[]");

function cameOff() {
  const trays = [...new Set(job.stands.fasteners.flatMap((group) => Object.keys(group.trays)))];
  sheet("What came off", [
    field("name", "What", "text"),
    field("count", "Its fasteners, how many", "number", ""),
    field("size", "Their thread, length and size", "text", "", sizes()),
    field("tray", "Tray", "text", nextTray(trays), trays.slice(-4)),
    field("word", "They are", "choice", "bolts", WORDS.map((word) => [word, word])),
    field("state", "It", "choice", "off", STATES),
    field("note", "Note", "text"),
  ], (got) => {
    const count = got.count ? whole(got.count) : 0;
    if (!got.name) return "say what came off";
    if (count === null) return "how many is a number from 1";
    if (count && !got.tray) return "say which tray the fasteners went to";
    if (!count && !got.state) return "say how many fasteners came out";
    if (count && got.size) rememberSize(got.size);
    const place = { to: "tray", "tray position": got.tray, "belongs to": got.name };
    const fasteners = said("fasteners off", { item: `${got.name} ${got.word}`, count, size: got.size, ...place });
    const part = said("item moved", { item: got.name, state: got.state, note: got.note });
    return tap([count ? fasteners : null, got.state ? part : null].filter(Boolean));
  });
}

function rememberSize(size) {
  try {
    localStorage.setItem(SIZES, JSON.stringify([size, ...sizes().filter((one) => one !== size)].slice(0, 6)));
  } catch (error) {
    // it is typed again next time
  }
}

/* The tray after the last one that was used. */
function nextTray(trays) {
  const tapped = laidOver().flatMap((one) => one.events).map((each) => each.data["tray position"]);
  const numbers = [...trays, ...tapped].map((tray) => parseInt(tray, 10));
  return String(Math.max(0, ...numbers.filter(Number.isFinite)) + 1);
}

/* ---- Caps, rags, tools and what somebody finds ---- */

function thing(kind) {
  const key = (one) => JSON.stringify([one.what, one.name, one.where]);
  const there = kind === "thing taken out" ? job.stands.put_in : [];
  const inside = there.map((one) => [key(one), `${one.count} x ${one.name} at ${one.where}`]);
  const fields = inside.length
    ? [field("which", "Which", "choice", inside[0][0], inside)]
    : [
      field("what", "It is a", "choice", "cap", [["cap", "cap or plug"], ["rag", "rag"], ["tool", "tool"]]),
      field("name", "What", "text"), field("where", "Where", "text"),
    ];
  sheet(kind === "thing put in" ? "Put in, and to come out again" : "Taken out", fields, (got) => {
    const [what, name, where] = got.which ? JSON.parse(got.which) : [got.what, got.name || got.what, got.where];
    if (!where) return "say where";
    return tap([said(kind, { what, name, where })]);
  });
}

function foundOne() {
  const fields = [field("count", "How many", "number", "1"), field("what", "What it looks like", "text", "", sizes())];
  sheet("A fastener that nobody knows", fields, (got) => {
    const count = whole(got.count);
    if (!got.what || count === null) return "say how many, and what it looks like";
    return tap([said("fastener found", { what: got.what, count })]);
  });
}
