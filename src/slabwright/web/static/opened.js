// A figure, opened: its sum, standing, range and sources, and what may be typed to
// make it the maker's own.
const dialog = document.getElementById("opened");
const part = (name) => document.getElementById(`opened-${name}`);
let onEdit = null;

/** Tell what an edit of an opened figure does; only the desk can change a card.
    It gives what is wrong, or how to write it. */
export function whenEdited(act) {
  onEdit = act;
}

function fact(name, words) {
  const [term, said] = [document.createElement("dt"), document.createElement("dd")];
  term.textContent = name;
  said.textContent = words;
  part("facts").append(term, said);
}

function field(edit, i) {
  const form = document.createElement("form");
  form.className = "edit";
  const label = document.createElement("label");
  label.textContent = edit.label;
  const input = document.createElement("input");
  input.id = `opened-edit-${i}`;
  label.htmlFor = input.id;
  input.autocomplete = "off";
  if (edit.unit) input.inputMode = "decimal";
  else input.className = "long";
  if (edit.value) input.value = edit.value;
  const unit = document.createElement("span");
  unit.className = "q";
  unit.textContent = edit.unit ?? "";
  const button = document.createElement("button");
  button.textContent = edit.button ?? "Write it";
  const said = document.createElement("span");
  said.className = "said";
  said.setAttribute("role", "alert");
  form.append(label, input, unit, button, said);
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const { wrong, write } = await onEdit({ ...edit, value: input.value });
    if (wrong) {
      said.textContent = wrong;
      return;
    }
    dialog.close(); // first: what is behind an open dialog can't be typed into
    write();
  });
  return form;
}

export function open(figure) {
  part("value").textContent = figure.known ? figure.value : "withheld";
  if (figure.known && figure.unit) {
    const unit = document.createElement("span");
    unit.className = "u";
    unit.textContent = figure.unit === "%" ? "%" : ` ${figure.unit}`;
    part("value").append(unit);
  }
  part("name").textContent = figure.name;
  part("sum").textContent = figure.sum;
  part("facts").replaceChildren();
  if (figure.known && figure.standing) fact("standing", figure.standing);
  if (figure.likely) fact("likely", figure.likely);
  for (const source of figure.sources) fact("from", source);
  if (figure.holds) fact("holds", figure.holds);
  if (figure.words) fact("one of", figure.words);
  const edits = onEdit ? (figure.edits ?? []) : [];
  part("edits").replaceChildren(...edits.map(field));
  dialog.showModal();
}

document.addEventListener("click", (event) => {
  const button = event.target.closest?.("[data-figure]");
  if (button) open(JSON.parse(button.dataset.figure));
  else if (event.target === dialog) dialog.close(); // beside it
});
