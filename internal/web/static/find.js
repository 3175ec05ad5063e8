// Finders search while one types. The answer is the page that the button
// "Find" would bring; only what it found and what is chosen is taken from it.
const wait = 250; // milliseconds after the last key

for (const finder of document.querySelectorAll(".finder")) {
  const search = finder.querySelector('input[type="search"]');
  const button = finder.querySelector('button[name="step"]');
  if (search) watch(finder, search, button);
}

function watch(finder, search, button) {
  const form = finder.form;
  let timer, latest;

  async function find() {
    latest?.abort();
    const mine = (latest = new AbortController());
    const typed = new URLSearchParams(new FormData(form));
    typed.set(button.name, button.value);
    try {
      const answer = await fetch(form.action, { method: "POST", body: typed, signal: mine.signal });
      if (!answer.ok) return; // the button is still there, and says why
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      const anew = page.getElementById(finder.id);
      if (!anew || mine.signal.aborted) return;
      const state = anew.querySelector(".finder-state");
      finder.querySelector(".finder-state").textContent = state.textContent; // read out, as it stays in place
      for (const part of [".finder-chosen", ".finder-found"]) {
        finder.querySelector(part).replaceChildren(...anew.querySelector(part).childNodes);
      }
    } catch {
      return; // stopped by a newer search, or no network
    }
  }

  search.addEventListener("input", () => {
    clearTimeout(timer);
    timer = setTimeout(find, wait);
  });
  search.addEventListener("keydown", (key) => {
    if (key.key !== "Enter") return;
    key.preventDefault();
    clearTimeout(timer);
    find();
  });
}
