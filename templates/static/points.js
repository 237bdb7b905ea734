// She marks six points on a picture of her own. The browser shows the picture from where it lies; it is
// never read into the page, stored or sent. What is sent are three ratios in the hidden field. All words
// stand in the page; this script has none.
"use strict";

const marking = document.querySelector(".marking");
if (marking) begin(marking);

function begin(root) {
  const part = name => root.querySelector(`[data-part=${name}]`);
  const form = root.closest("form"), sent = form.querySelector("fieldset input[type=hidden]");
  const file = root.querySelector("[type=file]"), frame = root.querySelector(".picture");
  const marks = [...root.querySelectorAll(".mark")], bounds = root.dataset.bounds.split(" ").map(Number);
  const picture = document.createElement("img"), loupe = document.createElement("canvas");
  picture.alt = frame.dataset.words;
  picture.draggable = false;
  loupe.className = "loupe";
  loupe.hidden = true;
  loupe.setAttribute("aria-hidden", "true");
  frame.prepend(picture);
  frame.append(loupe);
  let points = [], steps = [], held = -1; // points are {x, y} in the picture's own pixels, or undefined
  root.hidden = false;

  file.addEventListener("change", () => {
    if (!file.files[0]) return;
    URL.revokeObjectURL(picture.src);
    picture.src = URL.createObjectURL(file.files[0]);
  });
  picture.addEventListener("error", () => { part("unreadable").hidden = false; part("easel").hidden = true; });
  picture.addEventListener("load", () => {
    part("unreadable").hidden = true;
    part("easel").hidden = false;
    again();
  });
  if (file.files[0]) file.dispatchEvent(new Event("change")); // chosen before the page was left and come back to

  // Where a point probably lies, from those that are marked: usual faces, ANSUR II and NIOSH 2003.
  function likely(i) {
    if (points[i]) return points[i];
    const w = picture.naturalWidth, h = picture.naturalHeight;
    const top = points[0] || { x: w / 2, y: h * 0.25 }, chin = points[1] || { x: top.x, y: Math.min(h * 0.95, top.y + h * 0.5) };
    const down = { x: chin.x - top.x, y: chin.y - top.y };
    const at = (along, across) => ({ x: top.x + along * down.x - across * down.y, y: top.y + along * down.y + across * down.x });
    return [top, chin, at(0.5, 0.37), at(0.5, -0.37), at(0.26, -0.28), at(0.77, -0.30)][i];
  }

  const now = () => { for (let i = 0; i < marks.length; i++) if (!points[i]) return i; return -1; };
  const scale = () => picture.naturalWidth / picture.clientWidth;
  const fill = (words, values) => words.replace(/{(\w+)}/g, (_, key) => values[key]);
  const name = i => marks[i].dataset.name;

  function set(i, p) {
    points[i] = { x: Math.min(Math.max(p.x, 0), picture.naturalWidth), y: Math.min(Math.max(p.y, 0), picture.naturalHeight) };
  }

  function where(i) {
    const p = points[i], share = (x, whole) => Math.round(100 * x / whole);
    return p ? fill(root.dataset.set, { n: i + 1, name: name(i), x: share(p.x, picture.naturalWidth), y: share(p.y, picture.naturalHeight) }) : fill(root.dataset.unset, { n: i + 1, name: name(i) });
  }

  function draw() {
    marks.forEach((mark, i) => {
      const p = likely(i);
      mark.style.left = 100 * p.x / picture.naturalWidth + "%";
      mark.style.top = 100 * p.y / picture.naturalHeight + "%";
      mark.classList.toggle("set", !!points[i]);
      mark.classList.toggle("next", i === now());
      mark.setAttribute("aria-label", where(i));
    });
    measure();
  }

  // Who looks reads what is next; who listens hears where the last point lies before that.
  function say(first = "", words = root.dataset.next) {
    const next = now();
    part("says").textContent = next < 0 ? root.dataset.all : fill(words, { n: next + 1, name: name(next) });
    part("told").textContent = first + " " + part("says").textContent;
  }

  // Lengths are taken along the line from hairline to chin, and across it. Forehead and jaw are marked on
  // one side and weighed against that side's half of the cheekbones, so that a head turned a little does not matter.
  function measure() {
    let ratios = null, turned = false;
    const all = now() < 0;
    if (all) {
      const [top, chin, a, b, brow, jaw] = points;
      const dx = chin.x - top.x, dy = chin.y - top.y, long = Math.hypot(dx, dy);
      const across = p => ((p.x - top.x) * dy - (p.y - top.y) * dx) / long;
      const one = across(a), other = across(b), half = x => x * one > 0 ? Math.abs(one) : Math.abs(other);
      const share = p => Math.abs(across(p)) / half(across(p));
      ratios = one * other < 0 ? [long / (Math.abs(one) + Math.abs(other)), share(brow), share(jaw)] : null;
      if (ratios && !ratios.every((r, i) => r >= bounds[i ? 2 : 0] && r <= bounds[i ? 3 : 1])) ratios = null;
      turned = !!ratios && Math.abs(one + other) > 0.15 * (Math.abs(one) + Math.abs(other));
    }
    sent.value = ratios ? ratios.map(r => r.toFixed(3)).join(" ") : "";
    part("noface").hidden = !all || !!ratios;
    part("turned").hidden = !turned;
    const result = part("result");
    result.hidden = !ratios;
    if (ratios) {
      const [height, forehead, jaw] = ratios.map(r => r.toLocaleString(document.documentElement.lang, { minimumFractionDigits: 2, maximumFractionDigits: 2 }));
      result.textContent = fill(result.dataset.words, { height, forehead, jaw });
    }
  }

  // The place under a finger, three times as large, in the corner that the finger is not in.
  function magnify(i) {
    const p = likely(i), ratio = window.devicePixelRatio || 1, size = 132 * ratio, seen = 132 / 3 * scale();
    loupe.width = loupe.height = size;
    const c = loupe.getContext("2d");
    c.fillStyle = "#777";
    c.fillRect(0, 0, size, size);
    c.drawImage(picture, p.x - seen / 2, p.y - seen / 2, seen, seen, 0, 0, size, size);
    for (const [width, colour] of [[4, "#fff"], [1.5, "#94301f"]]) {
      c.lineWidth = width * ratio;
      c.strokeStyle = colour;
      c.beginPath();
      for (const [x, y] of [[1, 0], [-1, 0], [0, 1], [0, -1]]) {
        c.moveTo(size / 2 + x * 5 * ratio, size / 2 + y * 5 * ratio);
        c.lineTo(size / 2 + x * 26 * ratio, size / 2 + y * 26 * ratio);
      }
      c.stroke();
    }
    loupe.classList.toggle("right", p.x < picture.naturalWidth / 2);
    loupe.hidden = false;
  }

  function keepStep(i) { steps.push({ i, was: points[i] }); }

  function spot(e) {
    const box = picture.getBoundingClientRect();
    return { x: (e.clientX - box.left) * scale(), y: (e.clientY - box.top) * scale() };
  }

  // A touch near a point takes hold of it, elsewhere it sets the next one.
  function hold(e) {
    const at = spot(e), far = p => p ? Math.hypot(p.x - at.x, p.y - at.y) / scale() : Infinity;
    const nearest = marks.map((_, i) => i).sort((a, b) => far(points[a]) - far(points[b]))[0];
    return far(points[nearest]) < 18 || now() < 0 ? nearest : now();
  }

  frame.addEventListener("pointerdown", e => {
    if (e.button !== 0 || held >= 0) return;
    e.preventDefault();
    held = hold(e);
    keepStep(held);
    frame.setPointerCapture(e.pointerId);
    move(e);
  });
  frame.addEventListener("pointermove", e => { if (held >= 0) move(e); });
  for (const end of ["pointerup", "pointercancel"]) {
    frame.addEventListener(end, () => {
      if (held < 0) return;
      say(where(held));
      held = -1;
      loupe.hidden = true;
    });
  }

  function move(e) {
    set(held, spot(e));
    draw();
    magnify(held);
  }

  const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  marks.forEach((mark, i) => {
    mark.addEventListener("keydown", e => {
      const way = ways[e.key];
      if (!way || e.altKey || e.ctrlKey || e.metaKey) return;
      e.preventDefault();
      const p = likely(i), step = (e.shiftKey ? 10 : 1) * scale();
      keepStep(i);
      set(i, { x: p.x + way[0] * step, y: p.y + way[1] * step });
      draw();
      magnify(i);
      say(where(i));
    });
    mark.addEventListener("click", () => { // enter, space, or a screen reader's touch
      if (!points[i]) {
        keepStep(i);
        set(i, likely(i));
        draw();
      }
      say(where(i));
      (marks[now()] || root.querySelector("[data-do=undo]")).focus();
    });
    mark.addEventListener("focus", () => magnify(i));
    mark.addEventListener("blur", () => { loupe.hidden = true; });
  });

  function undo() {
    const last = steps.pop();
    if (last) points[last.i] = last.was;
    draw();
    say();
  }

  function again() {
    points = [];
    steps = [];
    draw();
    say();
  }
  root.querySelector("[data-do=undo]").addEventListener("click", undo);
  root.querySelector("[data-do=again]").addEventListener("click", again);
  frame.addEventListener("keydown", e => {
    if (e.key.toLowerCase() === "z" && (e.ctrlKey || e.metaKey)) { e.preventDefault(); undo(); }
  });

  form.addEventListener("submit", e => {
    const next = now();
    if (part("easel").hidden || e.submitter?.name === "skip" || sent.value) return;
    e.preventDefault();
    say("", root.dataset.wanting);
    (marks[next] || marks[0]).focus();
  });
}
