// A paper's text: what is wrong is marked line by line while it is typed.
import { goTo } from "./editor.js";
import { follow } from "./follow.js";

const form = document.getElementById("paper");
const area = document.getElementById("text");
const away = document.getElementById("paper-away");
const say = document.getElementById("say");
let resting = 0;

const run = follow(form, {
  after: () => {
    form.dataset.followed = String(Number(form.dataset.followed ?? 0) + 1);
    clearTimeout(resting);
    resting = setTimeout(() => {
      say.textContent = form.dataset.sentence ?? "";
    }, 1000);
  },
  away: (words) => {
    away.textContent = words;
  },
});

area.addEventListener("input", () => {
  area.rows = area.value.split("\n").length;
  run();
});
area.addEventListener("keydown", (event) => {
  if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) form.requestSubmit();
});
document.addEventListener("click", (event) => {
  const button = event.target.closest?.("[data-line]");
  if (button) goTo(area, Number(button.dataset.line));
});
