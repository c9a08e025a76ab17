"use strict";
// Finding, choosing and ordering blocks.

(() => {
  const cards = [...document.querySelectorAll("#cards > .card")];
  const choices = [...document.querySelectorAll("#choose select")].filter((select) => select.id !== "sort");
  const find = byId("find"), sort = byId("sort"), down = byId("down");
  const most = 4;
  const plain = (text) => text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase();
  const found = cards.map((card) => plain(card.dataset.find));

  // A choice is a word, a number, or numbers from–to.
  function fits(card, key, wanted) {
    const has = card.dataset[key];
    const range = /^([\d.]+)-([\d.]*)$/.exec(wanted);
    if (!range || key === "family") return has === wanted;
    return +has >= +range[1] && (range[2] === "" || +has <= +range[2]);
  }

  function show() {
    const words = plain(find.value).split(/\s+/).filter(Boolean);
    const chosen = choices.filter((select) => select.value).map((select) => [select.id, select.value]);
    let count = 0;
    cards.forEach((card, index) => {
      const fit = words.every((word) => found[index].includes(word)) && chosen.every(([key, value]) => fits(card, key, value));
      card.hidden = !fit;
      count += fit;
    });
    byId("count").textContent = count === 1 ? "1 block" : `${count} blocks`;
    byId("none").hidden = count > 0 || !cards.length;
    byId("clear").hidden = !(words.length || chosen.length);
  }

  function order() {
    const key = sort.value || "title";
    const sign = down.checked ? -1 : 1;
    const by = key === "title" || key === "family"
      ? (a, b) => sign * a.dataset[key].localeCompare(b.dataset[key])
      : (a, b) => sign * (a.dataset[key] - b.dataset[key]);
    const sorted = [...cards].sort((a, b) => by(a, b) || a.dataset.title.localeCompare(b.dataset.title));
    if (sorted.some((card, index) => card !== byId("cards").children[index])) byId("cards").append(...sorted);
  }

  function picks() {
    return cards.map((card) => card.querySelector("[name=pick]")).filter((box) => box.checked).map((box) => box.value);
  }

  function showPicks() {
    const names = picks();
    byId("picked").hidden = !names.length;
    byId("picked-count").textContent = names.length < 2 ? "1 block picked: pick one to three more." : `${names.length} blocks picked.`;
    byId("compare").hidden = names.length < 2;
    byId("compare").href = "compare.html#blocks=" + names.join(",");
    document.querySelectorAll("[name=pick]").forEach((box) => (box.disabled = names.length >= most && !box.checked));
  }

  function keep() {
    kept.set({
      find: find.value,
      ...Object.fromEntries(choices.map((select) => [select.id, select.value])),
      sort: sort.value === "title" ? "" : sort.value,
      down: down.checked ? "1" : "",
      pick: picks().join(","),
    });
  }

  function restore() {
    const within = (select, text) => ([...select.options].some((option) => option.value === text) ? text : "");
    find.value = kept.get("find");
    choices.forEach((select) => (select.value = within(select, kept.get(select.id))));
    sort.value = within(sort, kept.get("sort")) || "title";
    down.checked = kept.get("down") === "1";
    const names = kept.get("pick").split(",");
    const known = names.filter((name) => cards.some((card) => card.dataset.name === name)).slice(0, most);
    cards.forEach((card) => (card.querySelector("[name=pick]").checked = known.includes(card.dataset.name)));
    order();
    show();
    showPicks();
  }

  function clear() {
    find.value = "";
    choices.forEach((select) => (select.value = ""));
    show();
    keep();
    find.focus();
  }

  find.addEventListener("input", () => (show(), keep()));
  choices.forEach((select) => select.addEventListener("change", () => (show(), keep())));
  [sort, down].forEach((input) => input.addEventListener("change", () => (order(), keep())));
  byId("cards").addEventListener("change", () => (showPicks(), keep()));
  byId("clear").addEventListener("click", clear);
  byId("clear-too").addEventListener("click", clear);
  byId("unpick").addEventListener("click", () => {
    document.querySelectorAll("[name=pick]").forEach((box) => (box.checked = false));
    showPicks();
    keep();
    find.focus();
  });
  byId("choose").addEventListener("submit", (event) => event.preventDefault());
  kept.whenChanged(restore);
  restore();
})();
