"use strict";
// The block laid out as a quilt.

(() => {
  const picture = byId("quilt-picture");
  const [wide, high] = picture.dataset.box.split(" ").map(Number);
  const field = { across: byId("across"), down: byId("down"), set: byId("set") };
  const sets = [...field.set.options].map((option) => option.value);

  // How the block in column x and row y is turned.
  const turns = {
    straight: () => "",
    turned: (x, y) => ((x + y) % 2 ? rotated(90) : ""),
    round: (x, y) => rotated([[0, 90], [270, 180]][y % 2][x % 2]),
    upside: (x, y) => ((x + y) % 2 ? rotated(180) : ""),
    mirrored: (x, y) => `translate(${x % 2 ? wide : 0} ${y % 2 ? high : 0}) scale(${x % 2 ? -1 : 1} ${y % 2 ? -1 : 1})`,
    spaced: () => "",
  };
  const rotated = (degrees) => (degrees ? `rotate(${degrees} ${wide / 2} ${high / 2})` : "");

  function lay(across, down, set) {
    const uses = [];
    for (let y = 0; y < down; y += 1) {
      for (let x = 0; x < across; x += 1) {
        if (set === "spaced" && (x + y) % 2) continue;
        const use = document.createElementNS("http://www.w3.org/2000/svg", "use");
        use.setAttribute("href", "#one");
        use.setAttribute("transform", `translate(${x * wide} ${y * high}) ${turns[set](x, y)}`.trim());
        uses.push(use);
      }
    }
    byId("laid").replaceChildren(...uses);
    picture.setAttribute("viewBox", `-1 -1 ${across * wide + 2} ${down * high + 2}`);
    const size = block.size.map((side, n) => side * [across, down][n]);
    const said = block.millimetres
      ? size.map((side) => String(Math.round(side * 25.4) / 10)).join(" × ") + " cm"
      : size.map((side) => String(Math.round(side * 8) / 8)).join(" × ") + " in";
    const words = [...field.set.options].find((option) => option.value === set).textContent;
    const count = uses.length === 1 ? "1 block" : `${uses.length} blocks`;
    byId("quilt-words").textContent = `${count}, ${across} across and ${down} down, ${words}: ${said} finished.`;
  }

  function restore() {
    field.across.value = String(kept.whole("across", 1, 12, 4));
    field.down.value = String(kept.whole("down", 1, 12, 4));
    field.set.value = sets.includes(kept.get("set")) ? kept.get("set") : "straight";
    lay(+field.across.value, +field.down.value, field.set.value);
  }

  function changed() {
    const [across, down] = [field.across, field.down].map((input) => Math.round(+input.value));
    if (!(across >= 1 && across <= 12 && down >= 1 && down <= 12)) return;
    lay(across, down, field.set.value);
    kept.set({ across: across === 4 ? "" : across, down: down === 4 ? "" : down, set: field.set.value === "straight" ? "" : field.set.value });
  }

  Object.values(field).forEach((input) => input.addEventListener("input", changed));
  [field.across, field.down].forEach((input) => input.addEventListener("change", restoreIfWrong));

  function restoreIfWrong(event) {
    const number = Math.round(+event.target.value) || 4;
    event.target.value = String(Math.min(12, Math.max(1, number)));
    changed();
  }

  byId("quilt-form").addEventListener("submit", (event) => event.preventDefault());
  kept.whenChanged(restore);
  restore();
})();
