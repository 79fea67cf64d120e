// Where opened devices and their lines go: the rules of the drawing as made, with the heights and widths of open blocks.
// Orders and columns stay as they were made, so that nothing jumps about.
"use strict";
const FlowLayout = (() => {
  const ROW = 22, GAP = 10, STRAND = 4, LEAST = 44, MOST = 120;
  const mean = (list, otherwise) => list.length ? list.reduce((a, b) => a + b, 0) / list.length : otherwise;

  // heights nearest to those wanted that keep their order and the gaps between them: pooled adjacent violators
  const spread = (want, gaps) => {
    const pools = [], offsets = [0];
    for (const gap of gaps) offsets.push(offsets[offsets.length - 1] + gap);
    want.forEach((value, i) => {
      let pool = [value - offsets[i], 1];
      while (pools.length && pools[pools.length - 1][0] > pool[0]) {
        const [other, count] = pools.pop();
        pool = [(pool[0] * pool[1] + other * count) / (pool[1] + count), pool[1] + count];
      }
      pools.push(pool);
    });
    return pools.flatMap(([value, count]) => Array(count).fill(value)).map((value, i) => value + offsets[i]);
  };

  return class {
    // a line of its own for each opened socket that a bundle leads to
    strands(bundle) {
      const [a, b] = [this.blocks[bundle.chain[0]], this.blocks[bundle.chain[bundle.chain.length - 1]]];
      const found = new Map();
      for (const wire of bundle.wires) {
        const [, from, , to] = this.data.wires[wire];
        const line = { bundle, from: this.open.has(a) ? from : -1, to: this.open.has(b) ? to : -1 };
        const key = `${line.from} ${line.to}`;
        if (!found.has(key)) found.set(key, { ...line, wires: [] });
        found.get(key).wires.push(wire);
      }
      const lines = [...found.values()];
      lines.forEach((line, i) => { line.shift = (i - (lines.length - 1) / 2) * STRAND; });
      bundle.strands = lines.length;
      return lines;
    }

    tall(key) {
      if (typeof key === "string") return Math.max(8, this.bundles[parseInt(key, 10)].strands * STRAND + 4);
      const block = this.blocks[key];
      return block.closed + (this.open.has(block) ? block.rows.length * ROW + 6 : 0);
    }

    // how far below the top of an item a line meets it
    offset(line, at) {
      const { chain } = line.bundle, key = chain[at];
      const row = at === 0 ? line.from : at === chain.length - 1 ? line.to : -1;
      if (typeof key === "number" && row >= 0) return this.blocks[key].closed + 3 + (row + 0.5) * ROW;
      return this.tall(key) / 2 + (typeof key === "string" ? line.shift : 0);
    }

    settle() {
      const { columns } = this.data, y = new Map(), near = new Map();
      for (const keys of columns) {
        let top = 0;
        for (const key of keys) { y.set(key, top); near.set(key, []); top += this.tall(key) + GAP; }
      }
      for (const line of this.lines) {
        const { chain } = line.bundle;
        for (let i = 0; i + 1 < chain.length; i++) {
          if (this.column.get(chain[i]) === this.column.get(chain[i + 1])) continue;
          const [p, q] = [this.offset(line, i), this.offset(line, i + 1)];
          near.get(chain[i]).push([chain[i + 1], q - p]);
          near.get(chain[i + 1]).push([chain[i], p - q]);
        }
      }
      for (let turn = 0; turn < 10; turn++) {
        for (const keys of turn % 2 ? [...columns].reverse() : columns) {
          const want = keys.map((key) => mean(near.get(key).map(([other, off]) => y.get(other) + off), y.get(key)));
          const gaps = keys.slice(1).map((key, i) => this.tall(keys[i]) + (typeof key === "string" && typeof keys[i] === "string" ? 0 : GAP));
          spread(want, gaps).forEach((value, i) => y.set(keys[i], value));
        }
      }
      const top = Math.min(...y.values()) - 8;
      for (const [key, value] of y) y.set(key, value - top);
      this.y = y;
      this.high = Math.max(...[...y].map(([key, value]) => value + this.tall(key))) + 8;
    }

    across() {
      this.ruler.font = `12px ${this.font}`;
      const measure = (words) => this.ruler.measureText(words).width;
      this.lefts = [];
      this.widths = [];
      let x = this.turns ? LEAST + 8 : 8;
      this.data.columns.forEach((keys, c) => {
        const blocks = keys.filter((key) => typeof key === "number").map((key) => this.blocks[key]);
        const wide = Math.max(0, ...blocks.map((block) => Math.max(block.wide, this.open.has(block)
          ? Math.max(...block.rows.map(([left, , right]) => measure(left) + measure(right) + (left && right ? 40 : 20))) : 0)));
        const lines = this.lines.filter(({ bundle }) => bundle.chain.some((key) => this.column.get(key) === c)).length;
        this.lefts.push(x);
        this.widths.push(wide);
        x += wide + Math.min(Math.max(LEAST, 30 + 1.5 * lines), MOST);
        this.wide = this.lefts[c] + wide + (this.turns ? LEAST : 0) + 8;
      });
    }

    // lines spread over the edge of a closed block in the order of their far ends
    ports() {
      const sides = new Map(), at = new Map();
      for (const bundle of this.bundles) {
        const { chain } = bundle, last = chain.length - 1;
        for (const [side, key, far] of [["out", chain[0], chain[1]], ["in", chain[last], chain[last - 1]]]) {
          const name = `${key} ${side}`;
          if (!sides.has(name)) sides.set(name, []);
          sides.get(name).push([this.y.get(far) + this.tall(far) / 2, bundle.i, side, key]);
        }
      }
      for (const list of sides.values()) {
        list.sort((p, q) => p[0] - q[0] || p[1] - q[1]);
        const tall = this.blocks[list[0][3]].closed;
        const step = Math.min(7, (tall - 8) / Math.max(list.length - 1, 1));
        list.forEach(([, i, side, key], n) => at.set(`${i} ${side}`, this.y.get(key) + tall / 2 + (n - (list.length - 1) / 2) * step));
      }
      return at;
    }

    path(line, at) {
      const { chain, i } = line.bundle, last = chain.length - 1;
      const height = (n) => {
        const end = n === 0 ? "out" : n === last ? "in" : "";
        if (end && (n === 0 ? line.from : line.to) < 0) return at.get(`${i} ${end}`);
        return this.y.get(chain[n]) + this.offset(line, n);
      };
      let c = this.column.get(chain[0]), x = this.lefts[c] + this.widths[c], d = `M${x} ${height(0)}`;
      for (let n = 1; n <= last; n++) {
        const next = this.column.get(chain[n]), y1 = height(n - 1), y2 = height(n);
        const left = this.lefts[next], right = left + this.widths[next];
        if (next > c) {
          const mid = (x + left) / 2;
          d += `C${mid} ${y1} ${mid} ${y2} ${left} ${y2}` + (n < last ? `H${right}` : "");
          x = right;
        } else if (next === c) {
          const turn = n === 1 ? 22 : -22;
          d += `C${x + turn} ${y1} ${x + turn} ${y2} ${x} ${y2}` + (n < last ? `H${left}` : "");
          x = left;
        } else {
          const mid = (x + right) / 2;
          d += `C${mid} ${y1} ${mid} ${y2} ${right} ${y2}H${left}`;
          x = left;
        }
        c = next;
      }
      return d;
    }
  };
})();
