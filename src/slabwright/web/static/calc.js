// There is always one more row for a part.
const box = document.querySelector("#parts tbody");
const MOST = 40;

box?.addEventListener("input", () => {
  const rows = [...box.rows];
  if (rows.length >= MOST || rows.some((row) => !row.querySelector("input").value)) return;
  const row = rows.at(-1).cloneNode(true);
  const number = String(rows.length + 1);
  for (const node of row.querySelectorAll("*")) {
    for (const name of ["id", "name", "aria-label", "aria-describedby"]) {
      const was = node.getAttribute(name);
      if (was) node.setAttribute(name, was.replace(/\d+/, number));
    }
    if (node.tagName === "INPUT") node.value = "";
    if (node.classList.contains("wrong")) node.textContent = "";
  }
  box.append(row);
});
