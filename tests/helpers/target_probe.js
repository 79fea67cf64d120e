// Run in a page: everything that can be tapped and is less than 44 px high or wide (WCAG 2.2, 2.5.5). Left out, as there:
// links within a line of text; heads of a matrix and marks of a drawing to scale, whose links stand in a table of the same
// page as well; and what is not shown. A label belongs to what it labels.
() => {
  const LEAST = 43.5;
  const faults = [];
  const say = (el) => `<${el.localName}${el.id ? "#" + el.id : ""}${el.className && el.className.baseVal === undefined ? "." + String(el.className).replaceAll(" ", ".") : ""}> "${(el.textContent || el.ariaLabel || "").trim().replace(/\s+/g, " ").slice(0, 40)}"`;
  const inText = (el) => {
    const block = el.closest("p, li, dd, dt, caption, figcaption, td, th, small, h2, h3, h4");
    if (!block) return false;
    const walker = document.createTreeWalker(block, NodeFilter.SHOW_TEXT);
    let words = "";
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      if (!node.parentElement.closest("a, button, label, .quiet")) words += node.textContent;
    }
    return /\p{L}{2,}/u.test(words);
  };
  for (const el of document.querySelectorAll("a[href], button, input, select, textarea, summary, [role=button], [tabindex='0']")) {
    if (el.matches("[role=region]") || el.closest("[hidden], .quiet") || el.matches(".skip")) continue;
    if (el.closest(".matrix thead, svg:not(.flow-live)")) continue;
    if (!el.checkVisibility({ visibilityProperty: true })) continue;
    const label = el.closest("label") || (el.id && document.querySelector(`label[for="${el.id}"]`));
    const boxes = [el, label].filter(Boolean).map((e) => e.getBoundingClientRect());
    const width = Math.max(...boxes.map((b) => b.width)), height = Math.max(...boxes.map((b) => b.height));
    if (!width || !height) continue;
    if (height >= LEAST && width >= LEAST) continue;
    if (el.localName === "a" && inText(el)) continue;
    faults.push(`${say(el)} ${Math.round(width)} x ${Math.round(height)} px`);
  }
  return faults;
}
