// Ticks are kept on this device only; the pages work without.
(() => {
  const key = "rigbook " + document.body.dataset.key;
  let kept = {};
  try { kept = JSON.parse(localStorage.getItem(key)) || {}; } catch { /* no storage here: ticks last as long as the page */ }
  for (const box of document.querySelectorAll("[data-tick]")) {
    box.checked = Boolean(kept[box.dataset.tick]);
    box.addEventListener("change", () => {
      kept[box.dataset.tick] = box.checked;
      try { localStorage.setItem(key, JSON.stringify(kept)); } catch { /* as above */ }
    });
  }
})();
