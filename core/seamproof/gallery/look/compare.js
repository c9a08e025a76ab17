"use strict";
// Blocks side by side, from the table of every block's figures.

(() => {
  const table = byId("figures");
  const heads = [...table.tHead.rows[0].cells].slice(1).map((cell) => cell.textContent);
  const rows = new Map([...table.tBodies[0].rows].map((row) => [row.dataset.name, row]));
  const selects = [1, 2, 3, 4].map((number) => byId(`block-${number}`));

  const made = (kind, text = "", attributes = {}) => {
    const element = document.createElement(kind);
    if (text) element.textContent = text;
    for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
    return element;
  };

  function headOf(row) {
    const cell = made("th", "", { scope: "col" });
    const [width, height] = row.dataset.shape.split(" ");
    const picture = made("img", "", { src: `pictures/${row.dataset.name}.svg`, width, height });
    picture.alt = "";
    const link = row.cells[0].querySelector("a").cloneNode(true);
    cell.append(picture, link);
    return cell;
  }

  function show() {
    const names = selects.map((select) => select.value).filter((name) => rows.has(name));
    const place = byId("chosen");
    if (!names.length) {
      place.replaceChildren(made("p", "Choose blocks above, or tick them among all blocks."));
      return;
    }
    const chosen = names.map((name) => rows.get(name));
    const side = made("table");
    side.append(made("caption", "The chosen blocks by their figures. Rows in which all are alike are paler.", { class: "unseen" }));
    side.style.setProperty("--count", chosen.length);
    const head = side.createTHead().insertRow();
    head.append(made("td"), ...chosen.map(headOf));
    const body = side.createTBody();
    heads.forEach((name, index) => {
      const row = body.insertRow();
      const values = chosen.map((one) => one.cells[index + 1].textContent);
      row.append(made("th", name, { scope: "row" }), ...values.map((value) => made("td", value)));
      row.classList.toggle("same", values.length > 1 && values.every((value) => value === values[0]));
    });
    place.replaceChildren(side);
  }

  function restore() {
    const names = kept.get("blocks").split(",").filter((name) => rows.has(name)).slice(0, 4);
    selects.forEach((select, index) => (select.value = names[index] || ""));
    show();
  }

  selects.forEach((select) => select.addEventListener("change", () => {
    show();
    kept.set({ blocks: selects.map((one) => one.value).filter(Boolean).join(",") });
  }));
  byId("choose").addEventListener("submit", (event) => event.preventDefault());
  kept.whenChanged(restore);
  restore();
})();
