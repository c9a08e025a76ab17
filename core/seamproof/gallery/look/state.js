"use strict";
// What was chosen on a page is kept in its address, after the #, so that a choice can be sent to a friend.

document.documentElement.classList.add("has-script");

const kept = (() => {
  let values = new URLSearchParams();
  const listeners = [];
  let waiting = 0;

  function read() {
    const text = location.hash.slice(1);
    if (text.includes("=")) values = new URLSearchParams(text);
    else if (text === "") values = new URLSearchParams();
  }

  function write() {
    waiting = 0;
    const text = values.toString();
    history.replaceState(null, "", text ? "#" + text : "#");
  }

  addEventListener("hashchange", () => {
    read();
    listeners.forEach((listener) => listener());
  });

  // A link within the page moves there and leaves the address as it is.
  addEventListener("click", (event) => {
    const link = event.target instanceof Element && event.target.closest('a[href^="#"]');
    const place = link && document.getElementById(link.getAttribute("href").slice(1));
    if (!place) return;
    event.preventDefault();
    place.scrollIntoView();
    place.focus({ preventScroll: true });
  });

  // Coming to a place that is named by a bare # and a name needs no script.
  read();

  return {
    get: (key) => values.get(key) ?? "",
    whole(key, low, high, otherwise) {
      const text = values.get(key) ?? "";
      return /^\d{1,6}$/.test(text) && +text >= low && +text <= high ? +text : otherwise;
    },
    set(changes) {
      for (const [key, value] of Object.entries(changes)) {
        if (value === "" || value === null || value === undefined) values.delete(key);
        else values.set(key, String(value));
      }
      if (!waiting) waiting = setTimeout(write, 120);
    },
    isWritten: () => !waiting,
    whenChanged: (listener) => listeners.push(listener),
  };
})();

const byId = (id) => document.getElementById(id);
