/* What it costs to reach the open points again takes a second to work out, so it comes behind the page. */
"use strict";

const place = document.getElementById("costs");
const empty = [...document.querySelectorAll(".reach")].filter((one) => !one.textContent);

async function fill() {
  place.textContent = "Working out what it costs to reach them again";
  const answer = await fetch(`/api/jobs/${place.dataset.job}/points`, { credentials: "same-origin", cache: "no-store" });
  if (!answer.ok) throw new Error(answer.status);
  const rows = (await answer.json()).filter(({ reach }) => reach && (reach.parts.length || reach.minutes_off === null));
  const words = new Map(rows.map((one) => [one.key, one.reach.words.replace(`${one.item}: `, "")]));
  for (const one of empty) one.textContent = words.get(one.dataset.point) || "";
  place.textContent = "";
}

if (place.querySelector("a")) {
  const link = place.querySelector("a");
  fill().catch(() => place.replaceChildren(link));
}
