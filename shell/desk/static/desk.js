// A few lines that ask for a part of a page and put it in its place.
// Without them every form and link works, and shows a whole page.
const PART = { "X-Desk-Part": "1" };
const said = (text) => { document.getElementById("said").textContent = text; };

async function part(address, place, options = {}) {
  place.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(address, { ...options, headers: PART });
    if (answer.redirected && !answer.headers.get("X-Part")) {
      const page = await answer.text();
      if (page.startsWith("<!DOCTYPE")) { location.assign(answer.url); return; }
      place.innerHTML = page;
    } else { place.innerHTML = await answer.text(); }
    const moved = place.querySelector("[data-address]");
    if (moved) {
      history.replaceState(null, "", moved.dataset.address);
      const form = place.closest("main").querySelector("[data-live]");
      if (form && moved.dataset.action) form.setAttribute("action", moved.dataset.action);
    }
    const sum = place.querySelector(".sum, .answer, .fault");
    if (sum) said(sum.textContent);
  } catch {
    said("The desk does not answer; what you typed is still here.");
  } finally { place.removeAttribute("aria-busy"); }
}

const body = (form, by) => new URLSearchParams(new FormData(form, by));
const waits = new Map();

document.addEventListener("input", (event) => {
  const form = event.target.form;
  if (event.target.dataset.offers) { offer(event.target); return; }
  if (!form || !form.dataset.live) return;
  clearTimeout(waits.get(form));
  const wait = event.target.type === "textarea" ? 450 : 250;
  waits.set(form, setTimeout(() => live(form), wait));
});

let running = null, again = false;
async function live(form) {
  if (running) { again = true; return; }
  const place = document.querySelector(form.dataset.live);
  const at = document.activeElement && place.contains(document.activeElement)
    ? document.activeElement.id : "";
  running = form.method === "get"
    ? part(`${form.action}?${body(form)}`, place)
    : part(form.action, place, { method: "POST", body: body(form) });
  await running;
  running = null;
  if (at && document.getElementById(at)) document.getElementById(at).focus();
  if (again) { again = false; live(form); }
}

document.addEventListener("submit", (event) => {
  const form = event.target, by = event.submitter;
  if (by && by.hasAttribute("data-whole")) return;
  const target = form.dataset.part || form.dataset.live;
  if (!target) return;
  event.preventDefault();
  const place = document.querySelector(target);
  const filled = body(form, by);
  const asked = form.method === "get"
    ? part(`${form.action}?${filled}`, place)
    : part(form.action, place, { method: "POST", body: filled });
  if (form.method === "get") history.replaceState(null, "", `${form.action}?${filled}`);
  asked.then(() => place.focus());
});

document.addEventListener("toggle", (event) => {
  const open = event.target;
  if (!open.open || !open.dataset.part || open.dataset.filled) return;
  open.dataset.filled = "1";
  part(open.dataset.part, open.querySelector(".inside"));
}, true);

document.addEventListener("click", (event) => {
  const name = event.target.closest("[data-from]");
  const text = document.getElementById("text");
  if (name && text) {
    text.focus();
    text.setSelectionRange(Number(name.dataset.from), Number(name.dataset.to));
    event.preventDefault();
  }
  if (event.target.closest("[data-copy]")) copy(event.target.closest("[data-copy]"));
});

async function copy(button) {
  try {
    if (button.dataset.copy === "picture") {
      const made = fetch(button.dataset.source).then((answer) => answer.blob());
      await navigator.clipboard.write([new ClipboardItem({ "image/png": made })]);
    } else {
      await navigator.clipboard.writeText(document.querySelector(button.dataset.copy).value);
    }
    said("Copied.");
  } catch { said("This browser does not let it be copied; save it instead."); }
}

let offered = 0;
async function offer(field) {
  const turn = ++offered;
  const list = document.getElementById(field.getAttribute("list"));
  const answer = await fetch(`${field.dataset.offers}?q=${encodeURIComponent(field.value)}`);
  if (turn === offered && answer.ok) list.innerHTML = await answer.text();
}

document.addEventListener("dragover", (event) => {
  if (event.target.id === "text") event.preventDefault();
});
document.addEventListener("drop", async (event) => {
  const file = event.target.id === "text" && event.dataTransfer.files[0];
  if (!file) return;
  event.preventDefault();
  event.target.value = await file.text();
  event.target.dispatchEvent(new Event("input", { bubbles: true }));
});
