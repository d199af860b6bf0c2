// Long work of this browser: watched on its own page, and in one strip on all others.
import { Idiomorph } from "./vendor/idiomorph.js";

const KEY = "slabwright-work";
const HERE_MS = 500;
const ELSEWHERE_MS = 2000;
const strip = document.getElementById("working");

const kept = () => {
  try {
    const found = JSON.parse(sessionStorage.getItem(KEY) ?? "[]");
    return Array.isArray(found) ? found : [];
  } catch {
    return [];
  }
};
const keep = (works) => sessionStorage.setItem(KEY, JSON.stringify(works));
const forget = (key) => keep(kept().filter((one) => one.key !== key));

/** How far it has come: a part of a page, or null where it is not known any more. */
async function look(key) {
  const answer = await fetch(`/long-work/${key}`);
  if (answer.status === 404) return null;
  if (!answer.ok) throw new Error(String(answer.status));
  const template = document.createElement("template");
  template.innerHTML = await answer.text();
  return template.content.firstElementChild;
}

// on its own page ------------------------------------------------------------

async function watch(part) {
  const key = part.dataset.work;
  if (part.dataset.over) {
    forget(key);
    return;
  }
  const title = document.querySelector("h1")?.textContent ?? "";
  if (!kept().some((one) => one.key === key)) {
    keep([...kept(), { key, title, href: location.pathname + location.search }]);
  }
  try {
    const now = await look(key);
    if (!now) {
      forget(key);
      return;
    }
    Idiomorph.morph(part, now.outerHTML);
  } catch { /* the server is away: it is asked again */ }
  const there = document.getElementById(part.id);
  if (there?.dataset.over) {
    forget(key);
    const say = document.getElementById("say");
    if (say) say.textContent = there.querySelector(".answer-p b")?.textContent ?? "Done.";
  } else if (there) {
    setTimeout(() => watch(there), HERE_MS);
  }
}

document.addEventListener("submit", async (event) => {
  const button = event.target.querySelector?.("[data-stop]");
  if (!button) return;
  event.preventDefault();
  await fetch(event.target.action, { method: "POST", redirect: "manual" });
});

// on every other -------------------------------------------------------------

function told(work, now) {
  const line = document.createElement("p");
  const link = document.createElement("a");
  link.href = `${work.href}#tried`;
  if (now.dataset.over) {
    link.textContent = `${work.title}: tried, see what the pieces weigh`;
    line.append(link);
  } else {
    link.textContent = work.title;
    line.append("Trying slabs of ", link, `: ${now.dataset.done} of 100`);
  }
  return line;
}

async function elsewhere() {
  const others = kept().filter((one) => !document.getElementById(`work-${one.key}`));
  const lines = [];
  for (const work of others) {
    try {
      const now = await look(work.key);
      if (now) lines.push(told(work, now));
      else forget(work.key);
    } catch { /* asked again */ }
  }
  if (strip) {
    strip.replaceChildren(...lines);
    strip.hidden = !lines.length;
  }
  if (others.length) setTimeout(elsewhere, ELSEWHERE_MS);
}

for (const part of document.querySelectorAll("[data-work]")) watch(part);
elsewhere();
