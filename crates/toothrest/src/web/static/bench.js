// What a browser adds to pages that work without it: marks that scripts run, the big keys, and a
// word before entries are lost.

document.documentElement.classList.add("js");

// On a telephone the row of steps is longer than the screen: the step at hand is brought into it.
const row = document.querySelector(".steps");
const at = row?.querySelector("[aria-current]");
if (at) row.scrollLeft = at.offsetLeft - row.offsetLeft - row.clientWidth / 2;

// Big keys write into the field that they stand below, at its caret.
function press(key) {
  const field = document.getElementById(key.closest("[data-keys]").dataset.keys);
  if (!field) return;
  const at = field.selectionStart ?? field.value.length;
  const end = field.selectionEnd ?? at;
  const typed = key.dataset.key;
  const from = typed === "back" && at === end ? Math.max(0, at - 1) : at;
  field.setRangeText(typed === "back" ? "" : typed, from, end, "end");
  field.dispatchEvent(new Event("input", { bubbles: true }));
  field.focus({ preventScroll: true });
}

document.addEventListener("click", (event) => {
  const key = event.target.closest("[data-key]");
  if (key) {
    event.preventDefault();
    press(key);
  }
});

// A form that was changed and not sent asks before the page is left.
let changed = false;
document.addEventListener("input", (event) => {
  const form = event.target.form;
  if (form && form.method === "post") changed = true;
});
document.addEventListener("submit", () => { changed = false; });
window.addEventListener("beforeunload", (event) => { if (changed) event.preventDefault(); });

// What was unfolded stays unfolded when the live part is drawn anew.
let unfolded = new Set();
const folds = (part) => [...part.querySelectorAll("details[data-fold]")];
document.addEventListener("htmx:beforeSwap", (event) => {
  const open = folds(event.target).filter((one) => one.open);
  unfolded = new Set(open.map((one) => one.dataset.fold));
});
document.addEventListener("htmx:afterSwap", (event) => {
  for (const one of folds(event.target)) if (unfolded.has(one.dataset.fold)) one.open = true;
});

// A browser that folds in a way that paper cannot undo unfolds everything before it prints.
let folded = [];
window.addEventListener("beforeprint", () => {
  folded = [...document.querySelectorAll("details:not([open])")];
  folded.forEach((one) => { one.open = true; });
});
window.addEventListener("afterprint", () => { folded.forEach((one) => { one.open = false; }); });

// The address of a live page follows its settings, so that it can be kept or sent.
document.addEventListener("change", (event) => {
  const form = event.target.form;
  if (form && form.dataset.live !== undefined) {
    const query = new URLSearchParams(new FormData(form)).toString();
    window.history.replaceState(null, "", `${form.action.split("?")[0]}?${query}`);
  }
});

// A page that waits for a long job looks again by itself.
const waiting = document.querySelector("[data-again]");
if (waiting) window.setTimeout(() => window.location.reload(), Number(waiting.dataset.again));
