// A form that is a GET: while it is filled in, its answer follows, and its address too.
import { Idiomorph } from "./vendor/idiomorph.js";

const form = document.querySelector("form[data-ask]");
const say = document.getElementById("say");
const WAIT_MS = 120;
const USUAL = { allow: "6%", care: "5", depth_counts: "1", choice: "A" };
const KEEPS = {
  ignoreActiveValue: true,
  callbacks: {
    // what somebody has unfolded, or is writing, stays so
    beforeAttributeUpdated: (name, node) =>
      !(name === "open" && node.tagName === "DETAILS") && !(name === "value" && node.id === "note"),
  },
};

let timer = 0;
let resting = 0;
let latest = 0;
let running = null;

/** The form as an address says it: what is empty or as usual is left out. */
function query() {
  const every = [...new FormData(form)];
  const deep = every.filter(([name]) => name === "deep");
  let deeps = deep.findLastIndex(([, value]) => value) + 1; // the others keep their places
  const pairs = every.filter(([name, value]) =>
    name === "deep" ? deeps-- > 0 : value && USUAL[name] !== value);
  const said = new URLSearchParams(pairs).toString();
  return said ? `?${said}` : "";
}

async function run() {
  const mine = ++latest;
  running?.abort();
  running = new AbortController();
  const asked = query();
  try {
    const answer = await fetch(form.dataset.ask + asked, { signal: running.signal });
    const html = await answer.text();
    if (!answer.ok) throw new Error(html);
    if (mine !== latest) return;
    put(html);
    history.replaceState(null, "", form.action.split("?")[0] + asked);
  } catch (error) {
    if (error.name === "AbortError") return;
    say.textContent = error instanceof TypeError
      ? "The program does not answer. What you typed is still here."
      : "This could not be worked out. Press Scale it to see why.";
  }
}

function put(html) {
  const template = document.createElement("template");
  template.innerHTML = html;
  for (const part of template.content.children) {
    const there = document.getElementById(part.id);
    if (there) Idiomorph.morph(there, part.outerHTML, KEEPS);
  }
  form.dataset.followed = String(Number(form.dataset.followed ?? 0) + 1);
  const words = template.content.getElementById("sentence")?.textContent ?? "";
  clearTimeout(resting);
  resting = setTimeout(() => {
    say.textContent = words;
  }, 1000);
}

/** There is always one more field for a tin. */
function oneMore(input) {
  const box = document.getElementById("tin-fields");
  const fields = [...(box?.querySelectorAll("input") ?? [])];
  if (!fields.includes(input) || fields.length >= 12 || fields.some((one) => !one.value)) return;
  const label = box.lastElementChild.cloneNode(true);
  label.querySelector("input").value = "";
  box.append(label);
}

document.addEventListener("input", (event) => {
  if (event.target.form !== form) return;
  oneMore(event.target);
  clearTimeout(timer);
  timer = setTimeout(run, WAIT_MS);
});

/** On a narrow page the answer lies below its form: there, once it was asked for. */
function goTo(button) {
  const answer = document.getElementById(button?.form === form && button.closest("#cutting") ? "cut-answer" : "answer");
  if (answer && answer.getBoundingClientRect().top > innerHeight * 0.3) answer.scrollIntoView();
}

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  clearTimeout(timer);
  await run();
  goTo(event.submitter);
});
