// What is typed is kept: at once in this browser, soon after in the kitchen's store.
const WAIT_MS = 400;

export function keepDraft(form, area, base) {
  const address = form.dataset.draft;
  const key = `slabwright-draft:${address}`;
  let timer = 0;
  let inStore = area.value;

  async function send() {
    clearTimeout(timer);
    const text = area.value;
    if (text === inStore) return;
    try {
      const answer = await fetch(address, {
        method: "POST",
        keepalive: text.length < 60000, // the browser's own limit
        headers: { "Content-Type": "application/x-www-form-urlencoded" },
        body: new URLSearchParams({ card: text, base }),
      });
      if (!answer.ok) return;
      inStore = text;
      if (area.value === text) localStorage.removeItem(key);
    } catch {
      timer = setTimeout(send, 3000); // the server is away: it stays in this browser
    }
  }

  area.addEventListener("input", () => {
    try {
      localStorage.setItem(key, JSON.stringify({ text: area.value, base }));
    } catch { /* the browser's room is full: the store has it in a moment */ }
    clearTimeout(timer);
    timer = setTimeout(send, WAIT_MS);
  });
  addEventListener("pagehide", send);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") send();
  });

  return {
    /** What this browser kept that never reached the store. */
    left: () => {
      try {
        const found = JSON.parse(localStorage.getItem(key) ?? "null");
        return found && typeof found.text === "string" ? found : null;
      } catch {
        return null;
      }
    },
    drop: () => {
      clearTimeout(timer);
      inStore = area.value;
      localStorage.removeItem(key);
    },
  };
}
