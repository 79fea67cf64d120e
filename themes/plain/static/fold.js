// Long pages on a phone: what stands under a heading folds away, and its heading stays in sight while it is open. The
// pages come unfolded: without this script, on paper and beside a desk nothing is hidden. A link, an anchor and the Find
// field open what they lead to; what was open stays so on this device.
"use strict";
(() => {
  const root = document.documentElement, main = document.querySelector("main");
  const PHONE = "(max-width: 56rem)", SCREENS = 8, LEAST = 250;
  if (!main || "unfolded" in root.dataset || /\bon-(walk-test|ten-minutes|index)\b/.test(document.body.className)) return;
  if (!matchMedia(PHONE).matches || main.offsetHeight < SCREENS * Math.max(innerHeight, 600)) return;

  const shelved = `rigbook ${root.dataset.key} open ${location.pathname.split("/").pop() || "index.html"}`;
  const shelf = (() => { try { return JSON.parse(localStorage.getItem(shelved)) || []; } catch { return []; } })();
  const apart = ".caution, .note, .notes, .finding, .tasks, .printing, .rack-card, details";
  const headings = (level) => [...main.querySelectorAll(level)].filter((h) => !h.closest(apart) && !h.parentElement.matches(".sheet-across"));

  // what follows a heading, up to the next one of its rank or above
  const under = (heading) => {
    const upper = heading.tagName === "H3" ? "h1, h2, h3" : "h1, h2", found = [];
    const intro = heading.parentElement.matches(".part-intro") ? heading.parentElement : null;
    for (let next = heading.nextSibling || intro?.nextSibling; next; next = next.nextSibling || (next.parentElement === intro ? intro?.nextSibling : null)) {
      if (next.nodeType === 1 && (next.matches(`${upper}, script, style`) || (next.querySelector(upper) && !next.matches(apart)))) break;
      found.push(next);
    }
    return found;
  };
  const tall = (nodes) => nodes.reduce((sum, node) => sum + (node.offsetHeight || 0), 0);

  // the smaller heads where there are several of them, else the larger
  const fold = [];
  const measured = headings("h2").map((head) => {
    const inside = head.closest("section, article") || head.parentElement;
    const smaller = [...inside.querySelectorAll("h3")].filter((h) => !h.closest(apart));
    return [head, smaller, inside.offsetHeight];
  });
  for (const [head, smaller, height] of measured) {
    const heads = smaller.length > 1 && height > 2 * innerHeight ? smaller : [head];
    for (const each of heads) {
      const nodes = under(each);
      if (heads.length > 1 ? nodes.some((n) => n.offsetHeight) : tall(nodes) > LEAST) fold.push([each, nodes]);
    }
  }
  if (fold.length < 2) return;

  const folds = fold.map(([head, nodes], n) => {
    const made = document.createElement("details"), summary = document.createElement("summary");
    const tells = document.createElement("span"), rows = nodes.flatMap((node) => node.querySelectorAll ? [...node.querySelectorAll("tbody tr:not(.more), .tasks > li, .kit > li")] : []);
    made.className = "fold";
    made.dataset.fold = head.id || head.parentElement.id || `${n}`;
    tells.className = "fold-tells";
    head.before(made);
    summary.append(head, tells);
    made.append(summary, ...nodes);
    // a tap on a heading folds: where it was a link as well, the link stands below
    for (const link of head.querySelectorAll("a")) {
      const line = document.createElement("p"), copy = link.cloneNode(true);
      line.className = "fold-link";
      line.append(copy);
      summary.after(line);
      link.replaceWith(...link.childNodes);
    }
    const boxes = [...made.querySelectorAll("input[data-tick]")];
    const tell = () => {
      const done = boxes.filter((box) => box.checked).length;
      tells.textContent = done ? say("{n} of {all} ticked", { n: done, all: boxes.length }) : rows.length > 1 ? say("{n} rows", { n: rows.length }) : "";
    };
    made.addEventListener("change", tell);
    made.addEventListener("toggle", tell);
    made.open = shelf.includes(made.dataset.fold);
    made.tell = tell;
    return made;
  });
  const keep = () => { try { localStorage.setItem(shelved, JSON.stringify(folds.filter((f) => f.open).map((f) => f.dataset.fold))); } catch { /* a private window keeps nothing */ } };
  // once the ticks that are kept on the device stand in their boxes
  addEventListener("DOMContentLoaded", () => { for (const f of folds) f.tell(); });

  // one button for all
  const all = document.createElement("button");
  all.type = "button";
  all.className = "tool clear fold-all";
  const name = () => { all.textContent = folds.some((f) => !f.open) ? say("Open all") : say("Fold all"); };
  all.addEventListener("click", () => { const open = folds.some((f) => !f.open); for (const f of folds) f.open = open; });
  for (const f of folds) f.addEventListener("toggle", () => { keep(); name(); });
  name();
  main.querySelector("h1").after(all);
  main.classList.add("folded");

  // what a link leads to is open, and in sight
  const reveal = (address) => {
    let place = null;
    try { place = address.length > 1 && document.getElementById(decodeURIComponent(address.slice(1))); } catch { /* no name */ }
    if (!place) return null;
    const inside = place.querySelectorAll(":scope > details.fold");
    if (inside.length === 1) inside[0].open = true;
    for (let up = place.closest("details"); up; up = up.parentElement.closest("details")) up.open = true;
    return place;
  };
  const show = () => reveal(location.hash)?.scrollIntoView?.();
  addEventListener("hashchange", show);
  main.addEventListener("click", (event) => { const href = event.target.closest?.("a[href^='#']")?.getAttribute("href"); if (href) reveal(href); });
  show();

  // on paper everything is open
  let before = [];
  addEventListener("beforeprint", () => { before = folds.filter((f) => !f.open); for (const f of before) f.open = true; });
  addEventListener("afterprint", () => { for (const f of before) f.open = false; });

  // the open heading stays below the title block
  const bar = document.querySelector(".title-block");
  if (bar) new ResizeObserver(() => root.style.setProperty("--bar-top", `${bar.offsetHeight}px`)).observe(bar);
})();
