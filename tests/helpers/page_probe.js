// Run in a page: every way in which it does not fit, as a list of sentences.
// `mode` is "screen" or "print"; on paper nothing scrolls, so a scrolling box that hides a part is a fault there.
(mode) => {
  const faults = [];
  // what is printed on paper of its own size is measured as it is printed: tests/browser/test_labels.py
  const own = mode === "print" ? [...document.querySelectorAll("[data-own-paper]")] : [];
  for (const el of own) el.hidden = true;
  const width = document.documentElement.clientWidth;
  const say = (el) => {
    const id = el.id ? "#" + el.id : el.classList && el.classList.length ? "." + [...el.classList].join(".") : "";
    const text = (el.textContent || "").trim().replace(/\s+/g, " ").slice(0, 40);
    return `<${el.localName}${id}>` + (text ? ` "${text}"` : "");
  };
  const scroller = document.scrollingElement;
  if (scroller.scrollWidth > scroller.clientWidth) {
    faults.push(`the page is ${scroller.scrollWidth} px wide in a window of ${scroller.clientWidth} px`);
  }
  const holds = (el) => {  // is the overhang of this element taken care of by a box around it?
    for (let box = el.parentElement; box && box !== document.body; box = box.parentElement) {
      const how = getComputedStyle(box).overflowX;
      if (how === "auto" || how === "scroll") return mode === "screen";
      if (how === "hidden" || how === "clip") {
        const r = box.getBoundingClientRect();
        if (r.width <= 2 || r.height <= 2) return true;  // text for screen readers only
      }
    }
    return false;
  };
  const outside = new Set();
  for (const el of document.body.querySelectorAll("*")) {
    if (el.ownerSVGElement || outside.has(el.parentElement)) {
      if (!el.ownerSVGElement) outside.add(el);
      continue;
    }
    const style = getComputedStyle(el);
    if (style.visibility === "hidden" || style.display === "none") continue;
    const r = el.getBoundingClientRect();
    if (r.width <= 2 || r.height <= 2 || r.right <= 0) continue;  // nothing to see, or parked off screen on purpose
    if ((r.right > width + 1 || r.left < -1) && !holds(el)) {
      outside.add(el);
      faults.push(`${say(el)} sticks out: ${Math.round(r.left)} to ${Math.round(r.right)} of ${width} px`);
    }
    const hides = style.overflowX === "hidden" || style.overflowX === "clip";
    const rolls = style.overflowX === "auto" || style.overflowX === "scroll";
    if (el.scrollWidth > el.clientWidth + 1 && el.clientWidth > 2 && (hides || (rolls && mode === "print"))) {
      faults.push(`${say(el)} is cut off: ${el.scrollWidth} px in a box of ${el.clientWidth} px`);
    }
  }
  for (const text of document.querySelectorAll("svg text")) {
    const svg = text.ownerSVGElement;
    if (getComputedStyle(svg).overflow === "visible") continue;
    const t = text.getBoundingClientRect(), s = svg.getBoundingClientRect();
    if (!t.width || !s.width) continue;
    if (t.left < s.left - 1 || t.right > s.right + 1 || t.top < s.top - 1 || t.bottom > s.bottom + 1) {
      faults.push(`drawing text ${say(text)} is cut off by the edge of its drawing`);
    }
  }
  for (const el of own) el.hidden = false;
  return faults;
}
