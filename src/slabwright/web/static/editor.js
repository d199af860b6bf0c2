// The card's text: written to so that the browser's own undo knows of it.

/** Replace text[start:end] by `value`, as if it had been typed. */
export function write(area, start, end, value, caret = null) {
  const had = document.activeElement;
  const [from, to] = [area.selectionStart, area.selectionEnd];
  area.focus({ preventScroll: true });
  area.setSelectionRange(start, end);
  const done = value === "" && start === end
    ? true
    : document.execCommand(value === "" ? "delete" : "insertText", false, value);
  if (!done) {
    area.setRangeText(value, start, end, "end");
    area.dispatchEvent(new Event("input", { bubbles: true }));
  }
  const moved = (at) => (at <= start ? at : Math.max(start, at + value.length - (end - start)));
  if (caret !== null) area.setSelectionRange(caret, caret);
  else if (had === area) area.setSelectionRange(moved(from), moved(to));
  else if (had instanceof HTMLElement && had !== document.body) had.focus({ preventScroll: true });
}

/** Offsets of the line in which `at` stands: its start and its end. */
export function lineAt(text, at) {
  const start = text.lastIndexOf("\n", at - 1) + 1;
  const next = text.indexOf("\n", at);
  return [start, next < 0 ? text.length : next];
}

/** Put the caret at the start of a line, and that line in sight. */
export function goTo(area, number) {
  const lines = area.value.split("\n");
  const start = lines.slice(0, number - 1).join("\n").length + (number > 1 ? 1 : 0);
  area.focus();
  area.setSelectionRange(start, start + (lines[number - 1] ?? "").length);
  const high = area.getBoundingClientRect();
  const row = high.height / Math.max(lines.length, 3);
  scrollTo({ top: scrollY + high.top + row * (number - 1) - innerHeight / 3 });
}

/** Move the caret's line one up or down. */
function moveLine(area, step) {
  const text = area.value;
  const [start, end] = lineAt(text, area.selectionStart);
  const column = area.selectionStart - start;
  if (step < 0 && start === 0) return;
  if (step > 0 && end === text.length) return;
  const [otherStart, otherEnd] = lineAt(text, step < 0 ? start - 1 : end + 1);
  const [own, other] = [text.slice(start, end), text.slice(otherStart, otherEnd)];
  const [low, high] = step < 0 ? [otherStart, end] : [start, otherEnd];
  const value = step < 0 ? `${own}\n${other}` : `${other}\n${own}`;
  const at = step < 0 ? low : low + other.length + 1;
  write(area, low, high, value, at + column);
}

/** Keys of the editor, all of which can be done without a mouse. */
export function listenToKeys(area, form) {
  area.addEventListener("keydown", (event) => {
    if (event.altKey && (event.key === "ArrowUp" || event.key === "ArrowDown")) {
      event.preventDefault();
      moveLine(area, event.key === "ArrowUp" ? -1 : 1);
    } else if (event.key === "Enter" && !event.ctrlKey && !event.metaKey
        && !event.shiftKey && !event.defaultPrevented) {
      const [start] = lineAt(area.value, area.selectionStart);
      const indent = /^[ \t]*/.exec(area.value.slice(start, area.selectionStart))[0];
      if (indent) {
        event.preventDefault();
        document.execCommand("insertText", false, `\n${indent}`);
      }
    }
  });
  document.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) {
      event.preventDefault();
      form.requestSubmit();
    }
  });
}
