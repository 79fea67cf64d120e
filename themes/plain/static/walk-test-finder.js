// From what was heard to what is probably wrong: the rules of `rigbook diagnose`, on the table that the page carries.
"use strict";
const walkFinder = (data) => {
  const SHADES = [new Set(["quiet", "loud", "thin", "boomy", "dull", "bright"]), new Set(["hollow", "first-a", "first-b"])];
  const HEARD = new Set(["hear", "pair", "fader"]);
  const MOST_PAIRED = 40;
  const id = (kind, play, subject) => `${kind}\n${play}\n${subject}`;
  const things = data.seen.map(([kind, play, subject, order, planned, cost], i) =>
    ({ i, kind, play, subject, order, planned, cost, id: id(kind, play, subject) }));
  const known = new Map(things.map((t) => [t.id, t]));
  const rows = data.faults.map((f) => ({ ...f, effects: new Map(f.s) }));
  const thing = (name) => {
    const [kind, play, subject] = name.split("\n");
    return known.get(name) || { i: -1, kind, play, subject, id: name };
  };

  // null where the table does not say: the line check comes after what lies behind the desk was found good
  const predicted = (row, t) => (row.b && t.play.includes("line-") ? null : row.effects.get(t.i) ?? "");
  const miss = (expected, heard) => {
    if (expected === null || expected === heard) return 0;
    return SHADES.some((s) => s.has(expected) && s.has(heard)) ? 0.5 : 1;
  };
  const misses = (row, answers) => answers.reduce((sum, [t, v]) => sum + miss(predicted(row, t), v), 0);
  const price = (row) => row.e / row.o;

  function grouped(scored) {
    const groups = new Map();
    for (const [m, row] of scored) {
      const name = row.s.map(([i, v]) => `${i}=${v}`).sort().join("|");
      if (!groups.has(name)) groups.set(name, { rows: [], misses: m, both: false });
      groups.get(name).rows.push(row);
    }
    const made = [...groups.values()];
    for (const s of made) s.cost = Math.min(...s.rows.map(price));
    return made.sort((a, b) => a.misses - b.misses || a.cost - b.cost);
  }

  function either(one, two, t, heard) {
    const said = [predicted(one, t), predicted(two, t)].filter(Boolean);
    return said.includes(heard) ? heard : said.length ? said[0] : predicted(one, t);
  }

  function pairs(answers, wrong, best) {
    const strange = (row) => answers.filter(([t, v]) => !v && predicted(row, t)).length;
    const useful = rows.filter((r) => wrong.some(([t, v]) => predicted(r, t) === v))
      .map((r) => [strange(r), price(r), r]).sort((a, b) => a[0] - b[0] || a[1] - b[1]).map((x) => x[2]).slice(0, MOST_PAIRED);
    const found = [];
    useful.forEach((one, i) => useful.slice(i + 1).forEach((two) => {
      const count = answers.reduce((sum, [t, v]) => sum + miss(either(one, two, t, v), v), 0);
      if (count < best) found.push({ rows: [one, two], misses: count, both: true, cost: price(one) + price(two) + 2 });
    }));
    const least = Math.min(...found.map((s) => s.misses));
    return found.filter((s) => s.misses === least).sort((a, b) => a.cost - b.cost);
  }

  // `given`: a Map from `id(kind, play, subject)` to what was heard, the empty text where it was as planned
  function suspects(given) {
    const answers = [...given].map(([name, value]) => [thing(name), value]);
    const wrong = answers.filter(([, v]) => v);
    if (!wrong.length) return [];
    const scored = rows.filter((r) => wrong.some(([t]) => predicted(r, t) !== "")).map((r) => [misses(r, answers), r]);
    const best = scored.length ? Math.min(...scored.map((s) => s[0])) : 1;
    if (best > 0) {
      const found = pairs(answers, wrong, best);
      if (found.length) return found;
    }
    return grouped(scored.filter((s) => s[0] === best));
  }

  function cost(t, given, left) {
    const playing = [...given.keys()].map(thing).some((a) => a.play === t.play && HEARD.has(a.kind));
    if (HEARD.has(t.kind)) return playing ? 0.5 : 2;
    if (t.kind === "light") return playing ? t.cost - 1 : t.cost;
    const efforts = left.flatMap((s) => s.rows).filter((r) => r.effects.has(t.i)).map((r) => r.e);
    return efforts.length ? Math.min(...efforts) : 2;
  }

  function probe(t, given, left) {
    const outcomes = new Map();
    left.forEach((s, i) => {
      const value = s.rows.map((r) => predicted(r, t)).find(Boolean) ?? "";
      const got = outcomes.get(value) || { value, suspects: [], odds: 0 };
      got.suspects.push(i);
      got.odds += s.rows.reduce((sum, r) => sum + r.o, 0);
      outcomes.set(value, got);
    });
    if (outcomes.size < 2) return null;
    const list = [...outcomes.values()];
    const whole = list.reduce((sum, o) => sum + o.odds, 0);
    const gain = -list.reduce((sum, o) => sum + (o.odds / whole) * Math.log2(o.odds / whole), 0);
    list.sort((a, b) => (a.value !== "") - (b.value !== "") || (a.value < b.value ? -1 : 1));
    return { thing: t, outcomes: list, gain, worth: Math.round((gain / cost(t, given, left)) * 1e9) / 1e9 };
  }

  function next(given, left) {
    if (left.length < 2) return null;
    const open = new Set(left.flatMap((s) => s.rows.flatMap((r) => r.s.map(([i]) => i))));
    const made = things.filter((t) => open.has(t.i) && !given.has(t.id)).map((t) => probe(t, given, left)).filter(Boolean);
    return made.sort((a, b) => b.worth - a.worth || b.gain - a.gain || b.thing.i - a.thing.i)[0] || null;
  }

  const words = (t, value) => {
    if (t.kind === "pair" && value.startsWith("first-")) return `the sound comes from ${t.subject.split("|")[value === "first-b" ? 1 : 0]}`;
    return value ? data.values[value] || value : t.planned || data.values[""];
  };
  return { id, thing, suspects, next, words };
};
