// Blue lines from the layer in which the caret stands to where it lies in the drawing.

/** Draw them anew: after typing, after the caret moved, when the window changes. */
export function tie(grid, area) {
  const svg = grid.querySelector("#ties");
  const drawing = grid.querySelector("#face .wide svg");
  svg.replaceChildren();
  if (!drawing || getComputedStyle(svg).display === "none") return;
  const rows = [...grid.querySelectorAll("#under .row")];
  const now = area.value.slice(0, area.selectionStart).split("\n").length - 1;
  rows.forEach((row, i) => row.classList.toggle("now", i === now && document.activeElement === area));
  const layer = rows[now]?.dataset.layer;
  if (layer === undefined) return;
  const own = rows.filter((row) => row.dataset.layer === layer);
  const body = drawing.querySelector(`[data-layer="${layer}"]`);
  if (!body || !own.length) return;
  const here = svg.getBoundingClientRect();
  const lies = body.getBoundingClientRect();
  const seen = drawing.getBoundingClientRect();
  const [top, bottom] = [own[0].getBoundingClientRect().top, own.at(-1).getBoundingClientRect().bottom];
  const wide = here.width;
  const path = document.createElementNS("http://www.w3.org/2000/svg", "path");
  const from = Math.min(0, Math.max(seen.left - here.left, -36));
  const curve = (a, b) =>
    `M${from} ${a}H0C${wide * 0.6} ${a} ${wide * 0.3} ${b} ${wide + 12} ${b}`;
  path.setAttribute("d", curve(lies.bottom - here.top, bottom - here.top - 1)
    + curve(lies.top - here.top, top - here.top + 1));
  svg.append(path);
}
