// While a quotation is written it is kept, so that leaving the page loses nothing, and its sums follow.
// Without this script the buttons do the same.
"use strict";

const form = document.getElementById("quotation"), kept = document.getElementById("kept");
let asking = null, typed = false, waiting = 0, stopped = false;

if (form) {
  form.addEventListener("input", () => { typed = true; clearTimeout(waiting); waiting = setTimeout(keep, 500); });
  form.addEventListener("change", keep); // the field is left, perhaps for a link
  form.addEventListener("submit", leave);
  addEventListener("pagehide", last);
}

// What is on its way stays on its way when the page is left; browsers allow that up to 64 KB.
function ask(version) {
  const body = new URLSearchParams(new FormData(form));
  body.set("do", "keep");
  body.set("version", version);
  return fetch(form.action, { method: "POST", body, keepalive: body.toString().length < 60000 });
}

// One question at a time, since each is about the version that the one before has made.
async function keep() {
  if (stopped || asking || !typed) return asking;
  typed = false;
  asking = ask(form.version.value).then(follow, () => { typed = true; }); // away from the net: with the next letter
  await asking;
  asking = null;
  if (typed && !stopped) waiting = setTimeout(keep, 500);
}

async function follow(answer) {
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const theirs = page.getElementById("quotation");
  if (!answer.ok || !theirs) { // changed elsewhere, too long, or signed out: the buttons say which
    stopped = true;
    kept.classList.add("problem");
    kept.textContent = page.getElementById("f-says-problem")?.textContent ?? "This is no longer kept as you type. Press “Work it out” to see why.";
    return;
  }
  form.version.value = theirs.version.value;
  for (const id of ["kept", "worked"]) document.getElementById(id).replaceChildren(...document.importNode(page.getElementById(id), true).childNodes);
}

// A button waits for what is on its way, or the form would be older than what is kept.
function leave(event) {
  clearTimeout(waiting);
  typed = false;
  if (!asking) return;
  event.preventDefault();
  asking.then(() => form.requestSubmit(event.submitter));
}

// What is on its way when the page is left makes the next version.
function last() {
  if (typed && !stopped) ask(Number(form.version.value) + (asking ? 1 : 0));
  typed = false;
}
