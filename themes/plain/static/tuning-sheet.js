// Comfort only: the sheet is a form to print without it. Keeps what is typed on this device, and gives it as a text file.
"use strict";
(() => {
  const root = document.documentElement, NAME = `rigbook tuning ${root.dataset.key}`;
  const shelf = (work) => { try { return work(localStorage); } catch { return null; /* a private window keeps nothing */ } };
  const fields = [...document.querySelectorAll("[data-field]")];
  const load = () => shelf((s) => JSON.parse(s.getItem(NAME))) || {};
  const show = (kept) => { for (const f of fields) f.value = kept[f.dataset.field] || ""; };
  show(load());
  const keep = () => shelf((s) => {
    const kept = load();  // of lines that the plan has no more, what was typed stays
    for (const f of fields) if (f.value) kept[f.dataset.field] = f.value; else delete kept[f.dataset.field];
    s.setItem(NAME, JSON.stringify(kept));
  });
  for (const f of fields) {
    f.addEventListener("input", keep);
    // down the column with the key that ends a line: one hand holds the phone
    if (f.tagName !== "TEXTAREA") f.addEventListener("keydown", (e) => { if (e.key === "Enter") { e.preventDefault(); below(f)?.focus(); } });
  }
  addEventListener("storage", (e) => { if (e.key === NAME) show(load()); });

  function below(field) {
    const row = field.closest("tr"), cell = field.closest("td");
    if (!row) return fields[fields.indexOf(field) + 1];
    const next = row.nextElementSibling || row.closest("table").nextElementSibling?.querySelector("tbody tr");
    return next?.cells[cell.cellIndex]?.querySelector("input") || fields[fields.indexOf(field) + 1];
  }

  const clean = (el) => el.textContent.replace(/\s+/g, " ").trim();
  const named = (field) => `${clean(document.querySelector(`label[for="${field.id}"]`))}${apart.colon}${field.value}`;

  function text() {
    const out = [`${clean(document.querySelector("h1"))}, ${clean(document.querySelector(".tb-title"))}`];
    out.push(...[...document.querySelectorAll("[data-who] input")].filter((f) => f.value).map(named));
    for (const sheet of document.querySelectorAll("[data-sheet]")) {
      const lines = [...sheet.querySelectorAll(".mic input, .remarks textarea")].filter((f) => f.value).map(named);
      for (const row of sheet.querySelectorAll("tr[data-line]")) {
        if (![...row.querySelectorAll("input")].some((f) => f.value)) continue;
        const cells = [...row.cells].slice(1).map((c) => [c.dataset.l, c.querySelector("input")?.value ?? clean(c)]);
        lines.push(`${clean(row.cells[0])}${apart.colon}${cells.filter((c) => c[0] && c[1]).map((c) => c.join(" ")).join(apart.semicolon)}`);
      }
      if (lines.length) out.push("", clean(sheet.querySelector("h2")), ...lines.map((l) => `  ${l}`));
    }
    return out.join("\n") + "\n";
  }

  const bar = document.querySelector(".tuning-out");
  bar.hidden = false;
  bar.querySelector("[data-save]").addEventListener("click", () => {
    const link = document.createElement("a"), day = new Date().toLocaleDateString("sv");  // 2027-02-06
    link.href = URL.createObjectURL(new Blob([text()], { type: "text/plain" }));
    link.download = `${bar.dataset.file}-${day}.txt`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 1000);
  });
  bar.querySelector("[data-clear]").addEventListener("click", () => {
    if (!confirm(say("Clear everything that was typed on this page?"))) return;
    shelf((s) => s.removeItem(NAME));
    show({});
  });
})();
