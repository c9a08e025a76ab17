"use strict";
// The sewing, step by step: from the front, and from the printed side as it lies under the needle.

(() => {
  const frames = JSON.parse(byId("frames-data").textContent);
  const words = [...document.querySelectorAll("#steps li")];
  const last = frames.length;
  const pace = 1300; // [ms] a step
  const slider = byId("step");
  let step = 0;
  let clock = 0;

  const front = new Map();
  document.querySelectorAll("#front [data-patch]").forEach((path) => front.set(path.dataset.patch, path));
  const sewnAt = new Map(); // the step from which each patch lies in the block
  frames.forEach((frame, index) => (frame.sewn || []).forEach((patch) => sewnAt.set(patch, index + 1)));

  const sheets = new Map();
  document.querySelectorAll("#sheets .one-sheet").forEach((sheet) => {
    const marks = [...sheet.querySelectorAll(".now, .laid, .under")].map((mark) => {
      const names = [...mark.classList];
      return { mark, names, number: +(names.find((name) => /^s\d+$/.test(name)) || "s0").slice(1) };
    });
    const patches = [...sheet.querySelectorAll(".wrong[data-patch]")];
    sheets.set(sheet.dataset.sheet, { sheet, marks, patches });
  });

  function drawSheet({ marks, patches }, frame) {
    const shown = (frame.shown || "").split(" ");
    for (const { mark, names, number } of marks) {
      const on = number
        ? (names.includes("under") ? number < frame.number : number === frame.number)
        : shown.every((name) => names.includes(name));
      mark.classList.toggle("on", Boolean(frame.shown) && on);
    }
    const joined = new Set([...(frame.first || []), ...(frame.second || [])]);
    patches.forEach((patch) => patch.classList.toggle("on", joined.has(patch.dataset.patch)));
  }

  function show(number) {
    step = Math.min(last, Math.max(1, number));
    const frame = frames[step - 1];
    const laid = new Set(frame.laid || []);
    for (const [patch, path] of front) {
      const at = sewnAt.get(patch) || last;
      path.classList.toggle("front-to-come", at > step);
      path.classList.toggle("front-now", (at === step || laid.has(patch)) && step < last);
    }
    // The last frame has no picture of its own from behind: the sheet that was last in work stays.
    const name = frame.sheet || [...frames].reverse().find((one) => one.sheet)?.sheet;
    for (const [label, one] of sheets) {
      one.sheet.classList.toggle("here", label === name);
      if (label === name) drawSheet(one, frame);
    }
    const count = `Step ${step} of ${last}`;
    const head = words[step - 1].querySelector("strong").textContent;
    byId("step-count").textContent = count;
    byId("step-head").textContent = head;
    byId("step-text").textContent = words[step - 1].querySelector("span").textContent;
    byId("sheet-words").textContent = sheets.get(name)?.sheet.querySelector("p").textContent ?? "";
    words.forEach((item, index) => {
      if (index === step - 1) item.setAttribute("aria-current", "step");
      else item.removeAttribute("aria-current");
    });
    slider.value = String(step);
    slider.setAttribute("aria-valuetext", `${count}: ${head}`);
    byId("step-first").disabled = byId("step-back").disabled = step === 1;
    byId("step-last").disabled = byId("step-on").disabled = step === last;
  }

  function go(number) {
    const was = document.activeElement;
    show(number);
    kept.set({ step: step === 1 ? "" : step });
    if (was instanceof HTMLButtonElement && was.disabled) byId("step-play").focus();
  }

  function stop() {
    clearInterval(clock);
    clock = 0;
    byId("step-play").textContent = "Play";
    byId("said").setAttribute("aria-live", "polite");
  }

  function play() {
    if (clock) return stop();
    if (step === last) go(1);
    byId("step-play").textContent = "Stop";
    byId("said").setAttribute("aria-live", "off");
    clock = setInterval(() => {
      go(step + 1);
      if (step === last) stop();
    }, pace);
  }

  const by = { "step-first": () => 1, "step-back": () => step - 1, "step-on": () => step + 1, "step-last": () => last };
  for (const [id, where] of Object.entries(by)) {
    byId(id).addEventListener("click", () => {
      stop();
      go(where());
    });
  }
  byId("step-play").addEventListener("click", play);
  slider.addEventListener("input", () => {
    stop();
    go(+slider.value);
  });
  byId("player").addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "p" || event.key === "P") {
      event.preventDefault();
      play();
      return;
    }
    const where = { ArrowRight: () => step + 1, ArrowLeft: () => step - 1, Home: () => 1, End: () => last }[event.key];
    if (!where || event.target === slider) return;
    event.preventDefault();
    stop();
    go(where());
  });
  // With the player at hand the list of all steps is folded up; on paper it is not.
  const list = document.querySelector(".every-step");
  list.open = false;
  addEventListener("beforeprint", () => (list.open = true));

  const restore = () => show(kept.whole("step", 1, last, 1));
  kept.whenChanged(restore);
  restore();
})();
