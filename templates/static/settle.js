// While the milliner types a figure or draws its slider, the server works the hat out with what stands
// in the form and keeps nothing; what changes on the page it sends is put into this one. Without this
// script the button "Work it out again" does the same.
"use strict";

const form = document.getElementById("figures");
if (form) {
  for (const entry of form.querySelectorAll(".entry[data-at]")) addSlider(entry);
  form.addEventListener("input", follow);
  keepAtHand();
}

// Where there is one column the drawings have scrolled away when she reaches the figures: a small copy
// of them then stays at the top.
function keepAtHand() {
  const strip = document.createElement("div"), drawn = document.getElementById("result");
  strip.className = "at-hand";
  strip.hidden = true;
  strip.setAttribute("aria-hidden", "true");
  form.prepend(strip);
  copyDrawings();
  const seen = new Map([[drawn, false], [form, false]]);
  const watch = new IntersectionObserver((changes) => {
    for (const c of changes) seen.set(c.target, c.isIntersecting);
    strip.hidden = seen.get(drawn) || !seen.get(form);
  });
  for (const part of seen.keys()) watch.observe(part);
}

function copyDrawings() {
  const drawings = document.querySelectorAll("#result .views svg");
  document.querySelector(".at-hand").replaceChildren(...[...drawings].map((d) => d.cloneNode(true)));
}

// A slider stands for the field and the direction beside it. The field stays what is sent.
function addSlider(entry) {
  const typed = entry.querySelector("input"), way = entry.querySelector("select");
  const slider = document.createElement("input");
  slider.type = "range";
  slider.className = "draw";
  slider.min = entry.dataset.least;
  slider.max = entry.dataset.most;
  slider.step = entry.dataset.step;
  slider.value = entry.dataset.at;
  slider.setAttribute("aria-label", document.querySelector(`label[for="${typed.id}"]`).textContent + ", drawn");
  slider.addEventListener("input", () => {
    typed.value = way ? String(Math.abs(slider.value)) : slider.value + " cm";
    if (way) way.value = slider.value < 0 ? "-" : "+";
  });
  entry.append(slider);
}

let asking = false, again = false;

// One question at a time: what changes meanwhile is asked about after.
async function follow() {
  if (asking) { again = true; return; }
  asking = true;
  try {
    const body = new URLSearchParams(new FormData(form));
    body.set("do", "try");
    const answer = await fetch(form.action, { method: "POST", body });
    if (answer.ok || answer.status === 422) show(new DOMParser().parseFromString(await answer.text(), "text/html"));
  } catch { /* away from the net: what was worked out last stays */ }
  asking = false;
  if (again) { again = false; follow(); }
}

function show(page) {
  for (const id of ["result", "sizes"]) take(document.getElementById(id), page.getElementById(id));
  copyDrawings();
  for (const mine of form.querySelectorAll(".override")) {
    const theirs = page.getElementById(mine.id);
    if (!theirs) continue;
    mine.className = theirs.className;
    for (const part of [".proposed", ".said-beside"]) take(mine.querySelector(part), theirs.querySelector(part));
    const typed = mine.querySelector(".figure"), slider = mine.querySelector(".draw"), entry = theirs.querySelector(".entry");
    typed.setAttribute("aria-invalid", theirs.querySelector(".figure").getAttribute("aria-invalid") || "false");
    if (slider && document.activeElement !== slider && entry.dataset.at) slider.value = entry.dataset.at;
    const reset = mine.querySelector("[name=reset]"), offered = theirs.querySelector("[name=reset]");
    if (offered && !reset) mine.querySelector(".entry").append(document.importNode(offered, true));
    if (!offered && reset) reset.remove();
  }
  const gone = document.getElementById("gone"), said = page.getElementById("gone");
  if (gone && said) gone.textContent = said.dataset.words;
}

function take(mine, theirs) {
  if (mine && theirs) mine.replaceChildren(...document.importNode(theirs, true).childNodes);
}
