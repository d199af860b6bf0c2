// While the maker types, every part of the page that hangs on the card follows.
import { Idiomorph } from "./vendor/idiomorph.js";

const KEEPS = {
  callbacks: {
    // most of a card stays as it was
    beforeNodeMorphed: (node, fresh) => !node.isEqualNode(fresh),
    // what somebody has unfolded stays so
    beforeAttributeUpdated: (name, node) => !(name === "open" && node.tagName === "DETAILS"),
  },
};

/** Keep the parts of the page in step with the form; `after` is told each time. */
export function follow(form, { after, away }) {
  const address = form.dataset.follow;
  const text = () => new URLSearchParams(new FormData(form)).toString();
  let running = false;
  let again = false;

  async function run() {
    if (running) {
      again = true;
      return;
    }
    running = true;
    form.dataset.behind = "yes";
    try {
      do {
        again = false;
        const sent = text();
        const answer = await fetch(address, {
          method: "POST",
          headers: { "Content-Type": "application/x-www-form-urlencoded" },
          body: sent,
        });
        const html = await answer.text();
        if (!answer.ok) throw new Error(html);
        if (again || sent !== text()) {
          again = true;
          continue; // stale
        }
        put(html);
        after();
      } while (again);
      form.dataset.behind = "no";
      away("");
    } catch (error) {
      away(error instanceof TypeError
        ? "The program does not answer. What you type is kept in this browser."
        : "This could not be worked out. What you type is kept.");
    } finally {
      running = false;
    }
  }

  function put(html) {
    const template = document.createElement("template");
    template.innerHTML = html;
    form.dataset.sentence = template.content.getElementById("sentence")?.textContent ?? "";
    for (const part of [...template.content.children]) {
      const there = document.getElementById(part.id);
      part.remove(); // as it is, for it need not be read from text again
      if (there) Idiomorph.morph(there, part, KEEPS);
    }
  }

  return run;
}
