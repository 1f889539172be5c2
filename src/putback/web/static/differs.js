/* The car differs from its description: what that means, what it costs, and the way on. */
"use strict";

const DIFFERENCES = [
  ["seized", "seized"], ["broken", "broken"], ["not fitted", "not fitted on this car"], ["extra found", "something more is here"],
  ["wrong part", "the wrong part"], ["other tool", "it takes another tool"],
];
const PLANNING = 90; // seconds; several plans are compared

function differsForm(step) {
  sheet("The car differs", [
    field("what", "What is it", "choice", "", DIFFERENCES),
    field("item", "Of what", "text", step.item, [step.item]),
    field("count", "How many, if not all", "number"),
    field("tool", "The tool that it takes", "text"),
    field("note", "How it looks", "text"),
  ], (got) => {
    if (!got.what || !got.item) return "say what differs, and of what";
    if (got.what === "other tool" && !got.tool) return "say which tool it takes";
    if (got.count && whole(got.count) === null) return "how many is a number from 1";
    const { tool, count, ...rest } = got;
    return differs(said("x", { ...rest, count: count && whole(count), tool: got.what === "other tool" ? tool : "" }).data);
  }, "That is so");
}

/* The server logs it, plans again and tells what changed. Without it the difference is kept as any tap, and planned later. */
function differs(found) {
  if (!job.person) return void whoForm(() => differs(found));
  const keepIt = () => tap([{ kind: "difference found", data: found }]);
  planning(() => ask(api + "/differs", json(found), PLANNING), `${found.item}: ${found.what}`, found, keepIt);
  return undefined;
}

function planAgain() {
  const alone = () => warn("Planning needs the shop's computer, and there is no connection. Log what you do; the plan follows.");
  planning(() => ask(api + "/plan", json({}), PLANNING), "Planned again", null, alone);
}

/* What was tapped before comes first, for the plan starts from there. */
async function planning(asking, title, found, otherwise) {
  busy(true);
  try {
    await allSent();
    const answer = await asking();
    if (!answer.ok) return void warn(await sentence(answer));
    const meant = await answer.json();
    await refresh();
    tellChange(title, found, meant);
  } catch (error) {
    otherwise();
  } finally {
    busy(false);
    render();
  }
}

async function allSent() {
  for (let tries = 0; sending && tries < 100; tries++) await new Promise((go) => setTimeout(go, 50));
  await send();
  if (unsent().length || !connected) throw new Error("not all is sent");
}

function busy(is) {
  $("done").disabled = is;
  $("done").textContent = is ? "Planning" : shown ? closeWords(shown) : "Done";
}

function tellChange(title, found, meant) {
  const consentAsked = meant.change && meant.change.consent;
  openSheet(title, [
    ...meant.sentences.map((text) => el("p", {}, text)),
    ...(meant.ladder ? ladderParts(meant.ladder, found) : []),
    ...(meant.change ? changeParts(meant.change) : []),
    meant.no_way && el("p", { class: "stop" }, meant.no_way),
    ...meant.variants.map(variantPart),
    ...(meant.meanwhile ? safeParts(meant.meanwhile) : []),
  ], [
    consentAsked && choice("Log the customer's consent", () => consent({ key: "", text: `${title}: ${consentAsked.total.toFixed(2)}` })),
    choice("Go on", () => {}, "close"),
  ].filter(Boolean), "Close");
}

function changeParts(change) {
  const cell = (text) => el("td", { class: "number" }, text);
  const money = (total) => (total.money === null ? "" : total.money.toFixed(2));
  const row = (name, total) => el("tr", {}, el("th", { scope: "row" }, name), cell(`${total.minutes} min`), cell(money(total)));
  const { before, after } = change.to_do;
  const title = el("caption", { class: "hidden" }, "what is still to do, before and after");
  return [
    el("h2", {}, "The new plan"),
    before && after && el("table", {}, title, el("tbody", {}, row("to do before", before), row("to do now", after))),
    ...change.sentences.map((text) => el("p", { class: "note" }, text)),
  ];
}

/* What the car may be instead, and the way that there is then. */
function variantPart(one) {
  const itIs = () => planning(() => ask(api + "/variant", json({ variant: one.variant }), PLANNING), one.variant, null,
    () => warn("Planning needs the shop's computer, and there is no connection."));
  return el("div", { class: "rung" }, el("p", {}, one.words), el("button", { type: "button", on: itIs }, `This car has ${one.variant}`));
}

/* The means to free it, the gentlest first; one tap says which of them did. */
function ladderParts(ladder, found) {
  const rung = (one) => el("div", { class: "rung" }, el("p", {}, one.words),
    one.minutes !== null && el("button", { type: "button", on: () => settled({ item: found.item }, one.name) }, `${one.name}: that did it`));
  return [
    el("h2", {}, "How to free it"),
    ...ladder.cautions.map((text) => el("p", { class: "note" }, el("strong", {}, "Caution: "), text)),
    ...ladder.rungs.map(rung),
    ...ladder.left_out.map((one) => el("p", { class: "faint" }, `${one.name}: ${one.why}`)),
    el("p", { class: "faint" }, ladder.source),
  ];
}

function safeParts(safe) {
  return [
    el("h2", {}, "Until then, make the car safe"),
    el("ol", {}, ...safe.steps.map((text) => el("li", {}, text))),
    ...safe.cautions.map((text) => el("p", { class: "note" }, text)),
  ];
}
