// The desk: the card is the form, and everything follows it.
import { complete } from "./complete.js";
import { keepDraft } from "./draft.js";
import { goTo, listenToKeys, write } from "./editor.js";
import { follow } from "./follow.js";
import { open, whenEdited } from "./opened.js";
import { tie } from "./ties.js";

const form = document.getElementById("desk");
const area = document.getElementById("card");
const grid = document.getElementById("desk-grid");
const state = document.getElementById("state");
const say = document.getElementById("say");
const base = document.getElementById("base").value;

const grow = () => {
  area.rows = Math.max(Number(area.dataset.least), area.value.split("\n").length);
};
const retie = () => requestAnimationFrame(() => tie(grid, area));
const draft = keepDraft(form, area, base);

let resting = 0;
const run = follow(form, {
  after: () => {
    retie();
    form.dataset.followed = String(Number(form.dataset.followed ?? 0) + 1);
    clearTimeout(resting);
    resting = setTimeout(() => {
      say.textContent = form.dataset.sentence ?? "";
    }, 1000);
  },
  away: (words) => {
    document.body.classList.toggle("is-away", Boolean(words));
    if (words && state) state.textContent = words;
    if (words) say.textContent = words;
  },
});

area.addEventListener("input", () => {
  form.dataset.behind = "yes";
  grow();
  markDraft();
  run();
});
for (const when of ["keyup", "click", "focus", "blur"]) area.addEventListener(when, retie);
addEventListener("resize", retie);
document.fonts?.ready.then(retie);

function markDraft() {
  if (!state || state.dataset.marked) return;
  state.dataset.marked = "yes";
  const strong = document.createElement("b");
  strong.className = "pen";
  strong.textContent = state.dataset.words ?? "Being changed.";
  state.replaceChildren(strong, " Kept as you type.");
}

// the drawing's side -------------------------------------------------------

async function edited(edit) {
  form.dataset.behind = "yes";
  const answer = await fetch(grid.dataset.edit, {
    method: "POST",
    headers: { "Content-Type": "application/json", Accept: "application/json" },
    body: JSON.stringify({ text: area.value, adopt: Boolean(grid.dataset.adopt), ...edit }),
  });
  const said = await answer.json();
  if (!answer.ok) {
    form.dataset.behind = "no";
    return { wrong: (said.errors ?? []).map((one) => `${one.what} ${one.do}`).join(" ") };
  }
  return { write: () => write(area, said.start, said.end, said.value) };
}
whenEdited(edited);

/** Open the field in which a tin or a cut is named. */
function ask(name, edit) {
  open({ name, known: true, value: edit.value || "?", unit: "", sum: "", sources: [], edits: [edit] });
}

document.addEventListener("click", (event) => {
  const pick = event.target.closest?.(".pick[data-start]");
  if (pick) {
    write(area, Number(pick.dataset.start), Number(pick.dataset.end), pick.dataset.value);
    return;
  }
  const tin = event.target.closest?.("[data-edit-tin]");
  if (tin) {
    const value = tin.dataset.editTin;
    ask("the tin", { what: "tin", label: "another tin", value });
    return;
  }
  if (event.target.closest?.("[data-edit-cut]")) {
    ask("the cut", { what: "cut", label: "cut it", value: "5 x 4, trim 5 mm" });
    return;
  }
  const line = event.target.closest?.("[data-line]");
  if (line && line.dataset.line !== "0") goTo(area, Number(line.dataset.line));
  else if (event.target.id === "undo" || event.target.id === "redo") {
    area.focus({ preventScroll: true });
    document.execCommand(event.target.id);
  }
});

async function fromField(field) {
  const input = field.querySelector("input");
  const { wrong, write: act } = await edited({
    what: field.dataset.editForm, layer: Number(field.dataset.layer), value: input.value,
  });
  field.querySelector(".said").textContent = wrong ?? "";
  if (act) {
    input.value = "";
    act();
  }
}
document.addEventListener("keydown", (event) => {
  const field = event.target.closest?.("[data-edit-form]");
  if (!field || event.key !== "Enter" || event.ctrlKey) return;
  event.preventDefault();
  fromField(field);
});
document.addEventListener("click", (event) => {
  const field = event.target.closest?.("[data-edit-form]");
  if (field && event.target.tagName === "BUTTON") fromField(field);
});

// coming and going ----------------------------------------------------------

/** Send the form as a browser does by itself: the answer becomes the page. */
function sendPlainly(button) {
  if (button?.name) {
    const field = document.createElement("input");
    field.type = "hidden";
    field.name = button.name;
    field.value = button.value;
    form.append(field);
  }
  HTMLFormElement.prototype.submit.call(form);
}

let keeping = false;
addEventListener("pageshow", () => { keeping = false; }); // come back to, it may be kept anew
form.addEventListener("submit", async (event) => {
  event.preventDefault();
  if (keeping) return; // the key was pressed twice
  keeping = true;
  const button = event.submitter;
  draft.keepHere();
  await draft.settled();
  try {
    const answer = await fetch(form.action, {
      method: "POST",
      headers: { "Content-Type": "application/x-www-form-urlencoded" },
      body: new URLSearchParams(new FormData(form, button)),
    });
    if (!answer.ok) {
      sendPlainly(button); // what is wrong, or another's hand, is a page of its own
      return;
    }
    draft.drop();
    sessionStorage.setItem(`caret:${form.action}`, JSON.stringify([area.selectionStart, scrollY]));
    if (answer.url.split("#")[0] === location.href.split("#")[0]) location.reload();
    else location.assign(answer.url);
  } catch {
    const words = "The program does not answer. What you typed is kept in this browser.";
    if (state) state.textContent = words;
    say.textContent = words;
    keeping = false;
  }
});
document.getElementById("drop")?.addEventListener("submit", () => draft.drop());

complete(area, document.getElementById("offered"), grid.dataset.complete); // before the
listenToKeys(area, form); // editor's keys: what is offered is taken first
grow();

const own = draft.elsewhere();
if (own) location.replace(`${location.pathname}?draft=${encodeURIComponent(own)}`);
const left = draft.left();
if (left && left.text === area.value) draft.drop();
if (left && left.text !== area.value) {
  if (left.base === base) {
    write(area, 0, area.value.length, left.text, 0);
    say.textContent = "What was typed here last is back.";
  }
}
const kept = sessionStorage.getItem(`caret:${form.action}`);
if (kept) {
  sessionStorage.removeItem(`caret:${form.action}`);
  const [at, top] = JSON.parse(kept);
  area.setSelectionRange(at, at);
  area.focus({ preventScroll: true });
  scrollTo({ top });
}
form.dataset.behind ??= "no";
retie();
