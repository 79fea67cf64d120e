// Comfort only: every page works without. Keeps ticks, places and the choice of light or dark
// on this device, and where a server gives the pages, the handbook itself.
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
    let taken = null;  // a thumb that slips takes nothing away for good: the same button puts the ticks back
    const set = (box, checked) => { box.checked = checked; shelf.set(key(box), checked ? "1" : null); box.dispatchEvent(new Event("change", { bubbles: true })); };
    clear.addEventListener("click", () => {
      const before = taken;
      taken = before ? null : ticks.filter((box) => box.checked);
      for (const box of before || taken) set(box, Boolean(before));
      if (taken && !taken.length) taken = null;
      clear.textContent = taken ? say("Put the ticks back") : say("Clear the ticks of this page");
    });
    main.parentElement.addEventListener("change", (event) => {
      if (!event.isTrusted || !event.target.matches("[data-tick]")) return;
      taken = null;
      clear.textContent = say("Clear the ticks of this page");
    });
    main.after(clear);
  }

  // a plan that is wider than the window begins with its middle, also when the phone is turned, until somebody moves it
  for (const frame of document.querySelectorAll(".on-stage .drawing-frame")) {
    let middle = 0;
    new ResizeObserver(() => {
      const room = frame.scrollWidth - frame.clientWidth;
      if (Math.abs(frame.scrollLeft - Math.min(middle, room)) > 2) return;
      frame.scrollLeft = room / 2;
      middle = frame.scrollLeft;
    }).observe(frame);
  }

  // the place on each page: what stood at the top, and how far below it the window began
  const here = location.pathname.split("/").pop() || "index.html";
  const shelved = `rigbook ${root.dataset.key} places`;
  const places = (() => { try { return JSON.parse(shelf.get(shelved)) || {}; } catch { return {}; } })();
  if (location.hash === "#resume") {  // opened from the home screen: back to the page that was last read
    if (/^[\w-]+\.html$/.test(places.last) && places.last !== here) { location.replace(places.last); return; }
    history.replaceState(null, "", location.pathname);
  }
  const stepped = document.body.classList.contains("on-walk-test");  // keeps its own place
  const note = () => {
    if (stepped) return;
    const marks = scrollY < 40 ? [] : [...document.querySelectorAll("main [id]")].filter((el) => !el.closest("svg, summary"));  // the head of a fold stands still
    const top = marks.find((el) => el.getBoundingClientRect().bottom > 0 && el.checkVisibility?.() !== false);
    if (top) places[here] = [top.id, Math.round(top.getBoundingClientRect().top)];
    else delete places[here];
  };
  const keep = () => { places.last = here; shelf.set(shelved, JSON.stringify(places)); };
  const kept = places[here];
  if (kept && !stepped && !location.hash) {
    const mark = document.getElementById(kept[0]);
    if (mark) scrollTo({ top: scrollY + mark.getBoundingClientRect().top - kept[1], behavior: "instant" });
  }
  let rest;  // measured when a scroll has come to rest: a page that is being left may be laid out otherwise
  addEventListener("scroll", () => { clearTimeout(rest); rest = setTimeout(note, 150); }, { passive: true });
  addEventListener("pagehide", keep);
  document.addEventListener("visibilitychange", () => { if (document.visibilityState === "hidden") keep(); });
  document.querySelector(".pages [aria-current]")?.addEventListener("click", (event) => {
    event.preventDefault();  // the page that is open: to its top
    document.getElementById("pages").hidePopover?.();
    scrollTo({ top: 0 });
  });

  // on the home screen and without a network: only where a server gives the pages
  if ("installable" in root.dataset && /^https?:$/.test(location.protocol)) {
    const link = document.createElement("link");
    link.rel = "manifest";
    link.href = "app.webmanifest";
    document.head.append(link);
    navigator.serviceWorker?.register("worker.js").catch(() => { /* a browser may refuse; the pages work all the same */ });
  }
})();
