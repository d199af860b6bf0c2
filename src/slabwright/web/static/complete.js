// Completion: ingredients, tins and card words, offered under the caret.
import { lineAt, write } from "./editor.js";

const LEAST = 2;

/** Offer completions while the maker types in `area`; they come from `address`. */
export function complete(area, list, address) {
  const say = document.getElementById("say");
  let offers = [];
  let chosen = 0;
  let asked = 0;

  const isOpen = () => !list.hidden;
  function fold() {
    list.hidden = true;
    offers = [];
    area.removeAttribute("aria-activedescendant");
  }

  function mark() {
    [...list.children].forEach((item, i) => {
      item.setAttribute("aria-selected", String(i === chosen));
    });
    area.setAttribute("aria-activedescendant", `offer-${chosen}`);
  }

  function show(found) {
    offers = found;
    chosen = 0;
    list.replaceChildren(...found.map((offer, i) => {
      const item = document.createElement("li");
      item.id = `offer-${i}`;
      item.setAttribute("role", "option");
      const [label, note] = [document.createElement("span"), document.createElement("span")];
      label.textContent = offer.label;
      note.textContent = offer.note;
      note.className = "q";
      item.append(label, note);
      item.addEventListener("pointerdown", (event) => {
        event.preventDefault();
        take(i);
      });
      return item;
    }));
    list.hidden = found.length === 0;
    say.textContent = found.length ? `${found.length} offered: ${found[0].label}` : "";
    if (found.length) {
      place();
      mark();
    }
  }

  function place() {
    const style = getComputedStyle(area);
    const row = parseFloat(style.lineHeight);
    const [start] = lineAt(area.value, area.selectionStart);
    const above = area.value.slice(0, area.selectionStart).split("\n").length;
    const wide = document.createElement("canvas").getContext("2d");
    wide.font = `${style.fontSize} ${style.fontFamily}`;
    const typed = area.value.slice(start, area.selectionStart).replaceAll("\t", "    ");
    const box = area.getBoundingClientRect();
    const left = box.left + parseFloat(style.paddingLeft) + wide.measureText(typed).width
      - area.scrollLeft;
    list.style.setProperty("left", `${Math.max(8, Math.min(left + scrollX, scrollX + innerWidth - 320))}px`);
    list.style.setProperty("top", `${box.top + scrollY + row * above + 2}px`);
  }

  function take(i) {
    const offer = offers[i];
    fold();
    write(area, offer.start, offer.end, offer.text, offer.start + offer.text.length);
  }

  async function ask(wanted = false) {
    const at = area.selectionStart;
    if (at !== area.selectionEnd) return fold();
    const [start, end] = lineAt(area.value, at);
    const word = area.value.slice(start, at).trimStart();
    if (!wanted && (word.length < LEAST || area.value.slice(at, end).trim())) return fold();
    const turn = (asked += 1);
    try {
      const answer = await fetch(address, {
        method: "POST",
        headers: { "Content-Type": "application/json", Accept: "application/json" },
        body: JSON.stringify({ text: area.value, at }),
      });
      if (turn !== asked || !answer.ok) return undefined;
      const { offers: found } = await answer.json();
      if (turn === asked && area.selectionStart === at) show(found);
    } catch {
      fold(); // the server went away: the follower says so
    }
    return undefined;
  }

  area.setAttribute("aria-autocomplete", "list");
  area.setAttribute("aria-controls", list.id);
  area.setAttribute("aria-haspopup", "listbox");
  area.addEventListener("input", (event) => {
    if (event.inputType === "insertText" || event.inputType === "deleteContentBackward") ask();
    else fold();
  });
  area.addEventListener("blur", fold);
  area.addEventListener("click", fold);
  area.addEventListener("keydown", (event) => {
    if (event.key === " " && event.ctrlKey) {
      event.preventDefault();
      ask(true);
      return;
    }
    if (!isOpen()) return;
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      chosen = (chosen + (event.key === "ArrowDown" ? 1 : offers.length - 1)) % offers.length;
      mark();
    } else if ((event.key === "Enter" && !event.ctrlKey && !event.metaKey) || event.key === "Tab") {
      take(chosen);
    } else if (event.key === "Escape") {
      fold();
    } else {
      if (event.key === "ArrowLeft" || event.key === "ArrowRight") fold();
      return;
    }
    event.preventDefault();
    event.stopImmediatePropagation();
  });
}
