// The sheet in its frame: as tall as it is, and printed alone.
const frame = document.getElementById("sheet");
const print = document.getElementById("print");

function fit() {
  const page = frame?.contentDocument?.documentElement;
  if (page) frame.height = String(Math.ceil(page.scrollHeight) + 24);
}
if (frame) {
  frame.addEventListener("load", fit);
  fit();
  print.hidden = false;
  print.addEventListener("click", () => frame.contentWindow.print());
}

// Ctrl+P prints the sheet and not the page around it.
document.addEventListener("keydown", (event) => {
  if (!frame || !(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "p") return;
  event.preventDefault();
  frame.contentWindow.print();
});
