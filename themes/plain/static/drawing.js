// Comfort only: the drawing and its table stand without. Opens devices to their sockets, lights the way to a speaker,
// and keeps both in the address, so that a view can be linked. Paper always gets the drawing as it was made.
"use strict";
(() => {
  const ROW = 22, HEAD = 24, UNDER = 15, GAP = 10;
  const roomy = matchMedia("(min-width: 56rem)");
  const SVG = "http://www.w3.org/2000/svg";
  const shape = (name, attributes, words) => {
    const made = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    if (words !== undefined) made.textContent = words;
    return made;
  };

  class Flow extends FlowLayout {
    constructor(box) {
      super();
      this.box = box;
      this.data = JSON.parse(box.dataset.flow);
      this.paper = box.querySelector("svg.drawing");
      this.frame = this.paper.parentElement;
      this.svg = this.paper.cloneNode(true);
      this.tools = box.querySelector(".flow-tools");
      this.says = box.querySelector(".flow-says");
      this.ruler = document.createElement("canvas").getContext("2d");
      this.font = getComputedStyle(this.paper).fontFamily;
      this.zoom = 0;
      this.lit = "";
      this.open = new Set();
      this.take();
      this.equip();
      this.follow();
      this.frame.scrollTop = (this.frame.scrollHeight - this.frame.clientHeight) / 2;
      addEventListener("hashchange", () => this.follow());
      roomy.addEventListener("change", () => this.size());
    }

    // the blocks as they were drawn, and the columns with the slots of passing lines
    take() {
      const { svg, data } = this;
      svg.removeAttribute("id");
      svg.classList.add("flow-live");
      for (const part of ["title", "desc"]) {
        const made = svg.querySelector(`:scope > ${part}`);
        made.id = `live-flow-${part}`;
      }
      svg.setAttribute("aria-labelledby", "live-flow-title live-flow-desc");
      for (const old of svg.querySelectorAll(":scope > .wire")) old.remove();
      this.wires = svg.insertBefore(shape("g", { class: "wires" }), svg.querySelector("a"));
      this.blocks = [...svg.querySelectorAll(":scope > a")].map((link, i) => {
        const name = link.id.replace(/^flow-/, "");
        const [reach, outline] = link.querySelectorAll("rect");
        const [title, under] = link.querySelectorAll("text");
        const block = { i, link, name, reach, outline, title, under, place: link.getAttribute("href"), rows: data.rows[i],
          ends: name in data.ways, wide: Number(outline.getAttribute("width")), closed: under ? HEAD + UNDER : HEAD };
        link.removeAttribute("id");
        link.removeAttribute("href");
        link.setAttribute("tabindex", "0");
        link.setAttribute("role", "button");
        link.setAttribute(block.ends ? "aria-pressed" : "aria-expanded", "false");
        block.socket = svg.insertBefore(shape("g", { class: "sockets" }), link.nextSibling);
        link.addEventListener("click", (event) => { event.preventDefault(); this.tap(block); });
        link.addEventListener("keydown", (event) => {
          if (event.key === "Enter" || event.key === " ") { event.preventDefault(); this.tap(block); }
        });
        return block;
      });
      this.column = new Map();
      data.columns.forEach((keys, c) => keys.forEach((key) => this.column.set(key, c)));
      this.bundles = data.bundles.map(([sort, wires], i) => {
        const [a, , b] = data.wires[wires[0]];
        const from = this.column.get(a), to = this.column.get(b), slots = [];
        if (from < to) for (let c = from + 1; c < to; c++) slots.push(`${i} ${c}`);
        else for (let c = from; c >= to; c--) slots.push(`${i} ${c}`);
        return { i, sort, wires, chain: [a, ...slots, b] };
      });
      this.turns = this.bundles.some(({ chain }) => this.column.get(chain[0]) >= this.column.get(chain[chain.length - 1]));
      this.paper.classList.add("paper-only");
      this.frame.append(svg);
      this.frame.classList.add("has-live");
    }

    equip() {
      const choose = this.tools.querySelector("select");
      for (const block of this.blocks) {
        if (block.ends) choose.append(new Option(block.title.textContent, block.name));
      }
      choose.addEventListener("change", () => { this.lit = choose.value; this.show(true); });
      for (const button of this.tools.querySelectorAll("button")) {
        button.addEventListener("click", () => this[button.dataset.does]());
      }
      this.box.addEventListener("keydown", (event) => {
        if (event.key === "Escape" && (this.lit || this.open.size)) { event.preventDefault(); this.clear(); }
      });
      this.tools.hidden = this.says.hidden = this.box.querySelector(".flow-hint").hidden = false;
    }

    tap(block) {
      if (block.ends) this.lit = this.lit === block.name ? "" : block.name;
      else if (!this.open.delete(block)) this.open.add(block);
      const before = block.title.getBoundingClientRect();
      this.show();
      const after = block.title.getBoundingClientRect();  // what was tapped stays under the finger
      this.frame.scrollBy(after.left - before.left, after.top - before.top);
      if (block.ends ? this.lit : this.open.has(block)) this.tell(block);
    }

    clear() {
      if (this.lit) this.lit = ""; else this.open.clear();
      this.show();
    }

    larger() { this.scale(this.shown() * 1.3); }
    smaller() { this.scale(this.shown() / 1.3); }
    whole() { this.scale(Math.min((this.frame.clientWidth - 24) / this.wide, innerHeight * 0.8 / this.high)); }
    shown() { return this.svg.getBoundingClientRect().width / this.wide; }
    scale(zoom) { this.zoom = Math.min(Math.max(zoom, 0.2), 4); this.size(); }

    // what the address asks for: #flow-wedge-3,split-1
    follow() {
      const asked = decodeURIComponent(location.hash).match(/^#flow-(.+)$/);
      if (!asked) return this.show(false, true);
      const names = asked[1].split(",");
      this.lit = "";
      this.open.clear();
      for (const block of this.blocks) {
        if (names.includes(block.name)) { if (block.ends) this.lit = block.name; else this.open.add(block); }
      }
      this.show(true, true);
      const first = this.blocks.find((block) => block.name === names[0]);
      if (first) { this.box.scrollIntoView({ block: "start" }); this.tell(first); }
    }

    keep() {
      const names = [...(this.lit ? [this.lit] : []), ...[...this.open].map((block) => block.name)];
      const hash = names.length ? `#flow-${names.join(",")}` : "";
      if (hash === location.hash || (!hash && !location.hash.startsWith("#flow-"))) return;
      try { history.replaceState(history.state, "", hash || location.pathname + location.search); } catch { /* a file may not */ }
    }

    tell(block) {
      const link = document.createElement("a");
      link.href = block.place;
      link.textContent = this.box.dataset.place.replace("%", block.title.textContent);
      this.says.replaceChildren(link);
    }

    // rows of opened blocks, heights, widths, lines
    show(scroll = false, asked = false) {
      if (!this.lit && !this.open.size) this.says.replaceChildren();
      this.ways = new Set(this.lit ? this.data.ways[this.lit] : []);
      this.on = new Set();
      for (const wire of this.ways) { const [a, , b] = this.data.wires[wire]; this.on.add(a).add(b); }
      const end = this.blocks.find((block) => block.name === this.lit);
      if (end) this.on.add(end.i);
      this.svg.classList.toggle("has-lit", Boolean(this.lit));
      this.tools.querySelector("select").value = this.lit;
      this.tools.querySelector("[data-does=clear]").disabled = !this.lit && !this.open.size;
      this.lines = this.bundles.flatMap((bundle) => this.strands(bundle));
      this.settle();
      this.across();
      this.draw();
      this.size();
      if (!asked) this.keep();
      if (scroll && end) this.reveal(end);
    }

    draw() {
      for (const block of this.blocks) {
        const c = this.column.get(block.i), x = this.lefts[c], y = this.y.get(block.i), wide = this.widths[c], tall = this.tall(block.i);
        const open = this.open.has(block), lit = this.on.has(block.i);
        for (const [part, extra] of [[block.reach, GAP], [block.outline, 0]]) {
          part.setAttribute("x", x);
          part.setAttribute("y", y - extra / 2);
          part.setAttribute("width", wide);
          part.setAttribute("height", (part === block.reach ? block.closed : tall) + extra);
        }
        block.title.setAttribute("x", x + 10);
        block.title.setAttribute("y", y + 16);
        block.under?.setAttribute("x", x + 10);
        block.under?.setAttribute("y", y + HEAD + 7);
        block.link.classList.toggle("lit", lit);
        block.link.setAttribute(block.ends ? "aria-pressed" : "aria-expanded", String(block.ends ? this.lit === block.name : open));
        block.socket.classList.toggle("lit", lit);
        block.socket.replaceChildren(...(open ? block.rows.flatMap((row, i) => this.socketRow(block, row, x, y + block.closed + 3 + i * ROW, wide)) : []));
      }
      const at = this.ports();
      const drawn = this.lines.map((line) => {
        const lit = line.wires.some((wire) => this.ways.has(wire));
        return [lit, shape("path", { d: this.path(line, at), class: `wire ${line.bundle.sort}${lit ? " lit" : ""}${line.bundle.strands > 1 ? " strand" : ""}` })];
      });
      this.wires.replaceChildren(...drawn.sort((p, q) => p[0] - q[0]).map(([, path]) => path));
    }

    socketRow(block, [left, leftPlace, right, rightPlace], x, y, wide) {
      const made = [shape("path", { d: `M${x} ${y}h${wide}`, class: "block-rule" })];
      const cell = (words, place, at, anchor) => {
        const link = shape("a", { href: place });
        link.append(shape("text", { x: at, y: y + 15, class: "port", "text-anchor": anchor }, words));
        made.push(link);
      };
      if (left) cell(left, leftPlace, x + 8, "start");
      if (right) cell(right, rightPlace, x + wide - 8, "end");
      return made;
    }

    size() {
      this.svg.setAttribute("viewBox", `0 0 ${this.wide.toFixed(1)} ${this.high.toFixed(1)}`);
      const zoom = this.zoom || (roomy.matches ? 1 : 1.3);  // on a phone large enough for a gloved finger
      this.svg.setAttribute("width", (this.wide * zoom).toFixed(1));
      this.svg.setAttribute("height", (this.high * zoom).toFixed(1));
      this.svg.classList.toggle("zoomed", Boolean(this.zoom || this.open.size));
    }

    reveal(block) {
      const frame = this.frame.getBoundingClientRect(), here = block.outline.getBoundingClientRect();
      this.frame.scrollBy(here.right - frame.right + 24, here.top - frame.top - frame.height / 2);
    }
  }

  for (const box of document.querySelectorAll("[data-flow]")) new Flow(box);
})();
