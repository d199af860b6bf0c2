// Light, dark, or as the machine has it: kept on this machine alone.
const root = document.documentElement;
const kept = localStorage.getItem("slabwright-theme");
if (kept === "light" || kept === "dark") root.dataset.theme = kept;

document.getElementById("theme")?.addEventListener("click", () => {
  const isDark = root.dataset.theme
    ? root.dataset.theme === "dark"
    : matchMedia("(prefers-color-scheme:dark)").matches;
  root.dataset.theme = isDark ? "light" : "dark";
  localStorage.setItem("slabwright-theme", root.dataset.theme);
});

// "/" goes to the field in which one finds something, where there is one.
document.addEventListener("keydown", (event) => {
  if (event.key !== "/" || event.ctrlKey || event.metaKey || event.altKey) return;
  if (/^(INPUT|TEXTAREA|SELECT)$/.test(document.activeElement?.tagName ?? "")) return;
  const field = document.querySelector("[data-find]");
  if (!field) return;
  event.preventDefault();
  field.focus();
  field.select();
});
