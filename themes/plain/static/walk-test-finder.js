// From what was heard to what is probably wrong: the rules of `rigbook diagnose`, on the table that the page carries.
// The table says each thing once: sentences are pieces and names by number, an outcome is a thing and a word, a set is
// what a fault does in one play, a pattern is what it does in all of them, as play and set in turn.
"use strict";
const walkFinder = (data) => {
  const SHADES = [new Set(["quiet", "loud", "thin", "boomy", "dull", "bright"]), new Set(["hollow", "first-a", "first-b"])];
  const HEARD = new Set(["hear", "pair", "fader"]);
  const MOST_PAIRED = 40, UNKNOWN = -1, TOLD = 1;
  const id = (kind, play, subject) => `${kind}\n${play}\n${subject}`;
  const fill = (text, names) => text.replace(/\{(\w+)\}/g, (_, name) => names[name] ?? "");
  const plays = new Map(data.plays.map(([key], i) => [key, i + 1]));
  const things = new Map(data.things.map(([kind, subject], i) => [`${data.kinds[kind]}\n${subject}`, i]));
  const size = data.things.length;

  // something to hear or see: in play 0 a look, which needs no sound
  function seen(kind, play, subject) {
    const number = things.get(`${kind}\n${subject}`), at = play ? plays.get(play) : 0;
    const [, , order, cost = 0, what = kind === "light" || !subject.includes("|") ? subject : subject.slice(subject.indexOf("|") + 1)] = data.things[number] ?? [];
    const [, title = "", line = 0] = at ? data.plays[at - 1] : [];
    return {
      kind, play, subject, cost, line: line === 1, id: id(kind, play, subject), number: number === undefined || at === undefined ? UNKNOWN : at * size + number,
      get order() {
        const [a, b, unit, box] = subject.split("|");
        return order === undefined ? "" : fill(data.orders[order], { step: title, what, a, b, unit, box });
      },
    };
  }
  const thing = (name) => seen(...name.split("\n"));
  const numbered = (n) => {
    const [kind, subject] = data.things[n % size], at = Math.floor(n / size);
    return seen(data.kinds[kind], at ? data.plays[at - 1][0] : "", subject);
  };

  class Row {
    constructor([w, c, l, e, o, b, pattern, looks]) {
      Object.assign(this, { w, c, l: l < 0 ? "" : data.pieces[l], e, o, b, pattern, looks, price: e / o });
    }

    // by number of the thing to hear or see: what it is with this fault
    get effects() {
      const out = new Map();
      const put = (play, set) => { for (const i of data.sets[set]) out.set(play * size + data.outcomes[2 * i], data.words[data.outcomes[2 * i + 1]]); };
      put(0, this.looks);
      const run = data.patterns[this.pattern];
      for (let i = 0; i < run.length; i += 2) put(run[i] + 1, run[i + 1]);
      Object.defineProperty(this, "effects", { value: out });
      return out;
    }

    get touched() {
      const out = new Set();
      // with two cables exchanged other boxes hang on the fault
      for (const n of this.effects.keys()) {
        const [kind, subject] = data.things[n % size];
        if (n >= size && data.kinds[kind] !== "exchange") for (const name of subject.split("|")) out.add(name);
      }
      Object.defineProperty(this, "touched", { value: out });
      return out;
    }
  }
  const rows = data.faults.map((f) => new Row(f));

  // which rows make a thing not as planned; made when the first thing is wrong
  let index = null;
  function showing() {
    if (index) return index;
    index = { by: new Map(), touching: new Map() };
    const add = (map, key, i) => { if (map.has(key)) map.get(key).push(i); else map.set(key, [i]); };
    rows.forEach((row, i) => {
      for (const n of row.effects.keys()) add(index.by, n, i);
      if (row.b) for (const name of row.touched) add(index.touching, name, i);
    });
    return index;
  }

  // null where the table does not say: what lies behind the desk is not tried again in the line check
  const predicted = (row, t) => (row.b && t.line && row.touched.has(t.subject) ? null : row.effects.get(t.number) ?? "");
  const miss = (expected, heard) => {
    if (expected === null || expected === heard) return 0;
    return SHADES.some((s) => s.has(expected) && s.has(heard)) ? 0.5 : 1;
  };

  function explaining(wrong) {
    const { by, touching } = showing(), found = new Set();
    for (const [t] of wrong) {
      for (const i of by.get(t.number) ?? []) found.add(i);
      if (t.line) for (const i of touching.get(t.subject) ?? []) found.add(i);
    }
    return [...found].sort((a, b) => a - b).map((i) => rows[i]);
  }

  // what a fault would make wrong and what was found as planned
  const strange = (row, fine) => { const out = new Set(); for (const n of row.effects.keys()) if (fine.has(n)) out.add(n); return out; };

  // what the table says of everything found wrong comes before what it only does not rule out
  const unsaid = (row, wrong) => wrong.filter(([t]) => predicted(row, t) === null).length;

  function grouped(scored, wrong) {
    const groups = new Map();
    for (const [m, row] of scored) {
      const name = `${row.pattern} ${row.looks}`;
      if (!groups.has(name)) groups.set(name, { rows: [], misses: m, both: false });
      groups.get(name).rows.push(row);
    }
    const made = [...groups.values()];
    for (const s of made) {
      s.cost = Math.min(...s.rows.map((r) => r.price));
      s.unsaid = Math.min(...s.rows.map((r) => unsaid(r, wrong)));
    }
    return made.sort((a, b) => a.misses - b.misses || a.unsaid - b.unsaid || a.cost - b.cost);
  }

  function either(one, two, t, heard) {
    const every = [predicted(one, t), predicted(two, t)], said = every.filter(Boolean);
    return said.includes(heard) ? heard : said.length ? said[0] : every.includes(null) ? null : "";
  }

  function pairs(candidates, fine, wrong, best) {
    const useful = candidates.filter((r) => wrong.some(([t, v]) => predicted(r, t) === v)).map((r) => [strange(r, fine), r])
      .sort((a, b) => a[0].size - b[0].size || a[1].price - b[1].price).slice(0, MOST_PAIRED);
    const found = [];
    useful.forEach(([odd, one], i) => useful.slice(i + 1).forEach(([more, two]) => {
      let count = odd.size + [...more].filter((n) => !odd.has(n)).length;
      const said = wrong.map(([t, v]) => [either(one, two, t, v), v]);
      for (const [is, v] of said) count += miss(is, v);
      if (count < best) found.push({ rows: [one, two], misses: count, both: true, cost: one.price + two.price + 2, unsaid: said.filter(([is]) => is === null).length });
    }));
    const least = Math.min(...found.map((s) => s.misses));
    return found.filter((s) => s.misses === least).sort((a, b) => a.unsaid - b.unsaid || a.cost - b.cost);
  }

  // `given`: a Map from `id(kind, play, subject)` to what was heard, the empty text where it was as planned
  function suspects(given) {
    const wrong = [...given].filter(([, v]) => v).map(([name, v]) => [thing(name), v]);
    if (!wrong.length) return [];
    const fine = new Set([...given].filter(([, v]) => !v).map(([name]) => thing(name).number));
    const candidates = explaining(wrong);
    const scored = candidates.map((r) => [wrong.reduce((sum, [t, v]) => sum + miss(predicted(r, t), v), 0) + strange(r, fine).size, r]);
    const best = scored.reduce((least, [m]) => Math.min(least, m), scored.length ? Infinity : 1);
    if (best > 0) {
      const found = pairs(candidates, fine, wrong, best);
      if (found.length) return found;
    }
    return grouped(scored.filter((s) => s[0] === best), wrong);
  }

  // any test is told, done and answered; a step that has been played costs less to play again; a look costs what the
  // check of its fault does
  function price(t, playing, left) {
    const heard = HEARD.has(t.kind), fixed = heard ? 2 : t.cost;
    if (fixed) return TOLD + fixed - (playing.has(t.play) ? (heard ? 1.5 : 1) : 0);
    const efforts = left.flatMap((s) => s.rows).filter((r) => r.effects.has(t.number)).map((r) => r.e);
    return TOLD + (efforts.length ? Math.min(...efforts) : 2);
  }

  const round = (x) => Math.round(x * 1e9) / 1e9;
  function probe(t, playing, left) {
    const outcomes = new Map();
    for (const [i, s] of left.entries()) {
      const every = s.rows.map((r) => predicted(r, t)), value = every.find(Boolean) ?? "";
      if (!value && every.includes(null)) return null;
      const got = outcomes.get(value) || { value, suspects: [], odds: 0 };
      got.suspects.push(i);
      got.odds += s.rows.reduce((sum, r) => sum + r.o, 0);
      outcomes.set(value, got);
    }
    if (outcomes.size < 2) return null;
    const list = [...outcomes.values()];
    const whole = list.reduce((sum, o) => sum + o.odds, 0);
    const gain = -list.reduce((sum, o) => sum + (o.odds / whole) * Math.log2(o.odds / whole), 0);
    list.sort((a, b) => (a.value !== "") - (b.value !== "") || (a.value < b.value ? -1 : 1));
    return { thing: t, outcomes: list, gain: round(gain), worth: round(gain / price(t, playing, left)) };
  }

  const order = (a, b) => (a < b ? -1 : a > b ? 1 : 0);
  const last = (a, b) => order(b.thing.kind, a.thing.kind) || order(b.thing.play, a.thing.play) || order(b.thing.subject, a.thing.subject);

  // of a lone suspect the cheapest look that shows it, where none has shown it yet
  function confirming(suspect, given, asked, playing) {
    for (const row of suspect.both ? suspect.rows : suspect.rows.slice(0, 1)) {
      const shown = [...given].some(([name, v]) => { const t = thing(name); return v && !HEARD.has(t.kind) && row.effects.get(t.number) === v; });
      if (shown) continue;
      const looks = [...row.effects.keys()].filter((n) => !asked.has(n)).map((n) => ({ thing: numbered(n), n }));
      const open = looks.filter((p) => !HEARD.has(p.thing.kind));
      for (const p of open) p.price = price(p.thing, playing, [suspect]);
      // the place itself tells more than a light elsewhere, and a look comes before a spare part
      const spare = (p) => p.thing.kind === "replace";
      const first = open.sort((a, b) => order(a.thing.play, b.thing.play) || spare(a) - spare(b) || a.price - b.price || last(b, a))[0];
      if (first) return { thing: first.thing, outcomes: [{ value: "", suspects: [] }, { value: row.effects.get(first.n), suspects: [0] }], sure: true };
    }
    return null;
  }

  // `unsure`: ids of what is not to be asked again
  function next(given, left, unsure = new Set()) {
    if (!left.length) return null;
    const asked = new Set(), playing = new Set();
    for (const t of [...given.keys()].map(thing)) {
      asked.add(t.number);
      if (HEARD.has(t.kind)) playing.add(t.play);
    }
    for (const name of unsure) asked.add(thing(name).number);
    if (left.length === 1) return confirming(left[0], given, asked, playing);
    const open = new Set(left.flatMap((s) => s.rows.flatMap((r) => [...r.effects.keys()])));
    const made = [...open].filter((n) => !asked.has(n)).map((n) => probe(numbered(n), playing, left)).filter(Boolean);
    return made.sort((a, b) => b.worth - a.worth || b.gain - a.gain || last(a, b))[0] || null;
  }

  // a light that is as planned is what no fault makes of it
  function planned(t) {
    const first = t.kind === "light" && (showing().by.get(t.number) ?? [])[0];
    if (first !== undefined && first !== false) return data.values[rows[first].effects.get(t.number) === "dark" ? "lit" : "dark"];
    return data.planned[t.kind] ?? data.values[""];
  }

  function words(t, value) {
    if (!value) return planned(t);
    if (t.kind === "pair" && value.startsWith("first-")) return fill(data.from, { what: t.subject.split("|")[value === "first-b" ? 1 : 0] });
    const [word, what] = value.split("|");
    return fill(data.values[word] ?? word, { what });
  }

  // a sentence as texts, each with the address of its place where it is a name
  const letters = (name) => name.replaceAll("/", "--").replaceAll(" -> ", "---").replaceAll(" ", "-");
  const named = ([name, place]) => [name, typeof place === "number" ? data.heads[place] + letters(name) : place];
  const parts = (sentence) => sentence.map((n, i) => (i % 2 ? named(data.names[n]) : [data.pieces[n]]));
  return { id, thing, suspects, next, words, parts };
};
