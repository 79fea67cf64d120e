// Comfort only: every page works without. Keeps ticks and the choice of light or dark on this device.
"use strict";
(() => {
  const root = document.documentElement;
  const shelf = {
    get(name) { try { return localStorage.getItem(name); } catch { return null; } },
    set(name, value) { try { value === null ? localStorage.removeItem(name) : localStorage.setItem(name, value); } catch { /* a private window keeps nothing */ } },
  };

  // light and dark
  const dark = matchMedia("(prefers-color-scheme: dark)");
  const shown = () => root.dataset.mode || (root.dataset.default === "system" ? (dark.matches ? "dark" : "light") : root.dataset.default);
  const stored = shelf.get("rigbook mode");
  if (stored === "light" || stored === "dark") root.dataset.mode = stored;
  for (const button of document.querySelectorAll("[data-mode-switch]")) {
    const name = () => { button.textContent = shown() === "dark" ? say("Light") : say("Dark"); };
    button.hidden = false;
    button.addEventListener("click", () => {
      root.dataset.mode = shown() === "dark" ? "light" : "dark";
      shelf.set("rigbook mode", root.dataset.mode);
      name();
    });
    dark.addEventListener("change", name);
    name();
  }

  // ticks
  const ticks = [...document.querySelectorAll("input[data-tick]")];
  const key = (box) => `rigbook ${root.dataset.key} ${box.dataset.tick}`;
  for (const box of ticks) {
    box.checked = shelf.get(key(box)) === "1";
    box.addEventListener("change", () => shelf.set(key(box), box.checked ? "1" : null));
  }
  const main = document.querySelector("main h1");
  if (ticks.length && main) {
    const clear = document.createElement("button");
    clear.type = "button";
    clear.className = "tool clear";
    clear.textContent = say("Clear the ticks of this page");
    clear.addEventListener("click", () => {
      for (const box of ticks) { box.checked = false; shelf.set(key(box), null); }
    });
    main.after(clear);
  }
})();
