// What is typed is kept: at once in this browser, soon after in the kitchen's store.
const WAIT_MS = 400;

/** Keep what is typed in `area`; every window has a draft of its own. */
export function keepDraft(form, area, base) {
  const address = form.dataset.draft;
  const here = `slabwright-draft:${address}`;
  const ownKey = `slabwright-key:${address}`;
  let key = form.dataset.key ?? "";
  let seen = form.dataset.at ?? "";
  let timer = 0;
  let inStore = area.value;
  let sending = Promise.resolve();

  function called(name) {
    key = name;
    sessionStorage.setItem(ownKey, name);
    for (const id of ["draft", "drop-draft"]) {
      const field = document.getElementById(id);
      if (field) field.value = name;
    }
  }

  function send() {
    clearTimeout(timer);
    sending = sending.then(sendOne); // one after the other: the second knows the first's key
    return sending;
  }

  async function sendOne() {
    const text = area.value;
    if (text === inStore) return;
    try {
      const answer = await fetch(address, {
        method: "POST",
        keepalive: text.length < 60000, // the browser's own limit
        headers: { "Content-Type": "application/x-www-form-urlencoded" },
        body: new URLSearchParams({ card: text, base, draft: key, seen }),
      });
      if (!answer.ok) return;
      if (answer.status === 200) {
        const kept = await answer.json();
        called(kept.key);
        seen = kept.at;
      }
      inStore = text;
      if (area.value === text) localStorage.removeItem(here);
    } catch {
      timer = setTimeout(send, 3000); // the server is away: it stays in this browser
    }
  }

  function keepHere() {
    try {
      localStorage.setItem(here, JSON.stringify({ text: area.value, base }));
    } catch { /* the browser's room is full: the store has it in a moment */ }
  }

  area.addEventListener("input", () => {
    keepHere();
    clearTimeout(timer);
    timer = setTimeout(send, WAIT_MS);
  });
  addEventListener("pagehide", sendOne); // the last moment: nothing to wait for
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") send();
  });

  return {
    /** What this browser kept that never reached the store. */
    left: () => {
      try {
        const found = JSON.parse(localStorage.getItem(here) ?? "null");
        return found && typeof found.text === "string" ? found : null;
      } catch {
        return null;
      }
    },
    keepHere,
    /** Until what is on its way to the store is there: it must not come after the card. */
    settled: () => {
      clearTimeout(timer);
      return sending;
    },
    drop: () => {
      clearTimeout(timer);
      inStore = area.value;
      localStorage.removeItem(here);
      sessionStorage.removeItem(ownKey);
    },
    /** The draft that this window wrote, if the page shows another one. */
    elsewhere: () => {
      const own = sessionStorage.getItem(ownKey);
      const others = (form.dataset.others ?? "").split(" ");
      return own && own !== form.dataset.key && others.includes(own) ? own : "";
    },
  };
}
