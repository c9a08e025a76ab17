"use strict";
// Colours as numbers. The same formulas as in the pages' own figures: sRGB, CIE Lab with white D65, CIEDE2000.

const colour = (() => {
  const channels = (hex) => [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16) / 255);
  const linear = (c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
  const curved = (c) => (c <= 0.0031308 ? 12.92 * c : 1.055 * c ** (1 / 2.4) - 0.055);
  const written = (rgb) =>
    "#" + rgb.map((c) => Math.round(255 * Math.min(1, Math.max(0, c))).toString(16).padStart(2, "0")).join("");

  function grey(hex) {
    const [r, g, b] = channels(hex).map(linear);
    const level = curved(0.2126 * r + 0.7152 * g + 0.0722 * b);
    return written([level, level, level]);
  }

  function seen(hex, matrix) {
    if (!matrix) return hex;
    const rgb = channels(hex).map(linear);
    const mixed = [0, 3, 6].map((row) => matrix[row] * rgb[0] + matrix[row + 1] * rgb[1] + matrix[row + 2] * rgb[2]);
    return written(mixed.map((c) => curved(Math.min(1, Math.max(0, c)))));
  }

  function lab(hex) {
    const [r, g, b] = channels(hex).map(linear);
    const xyz = [
      (0.4123907993 * r + 0.3575843394 * g + 0.1804807884 * b) / 0.9504559271,
      0.2126390059 * r + 0.7151686788 * g + 0.0721923154 * b,
      (0.0193308187 * r + 0.1191947798 * g + 0.9505321522 * b) / 1.0890577508,
    ];
    const [x, y, z] = xyz.map((t) => (t > 216 / 24389 ? Math.cbrt(t) : (t * 24389) / 27 / 116 + 16 / 116));
    return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
  }

  // Source: G. Sharma, W. Wu, E. Dalal, The CIEDE2000 color-difference formula, Color Research & Application 30(1), 2005.
  function apart([l1, a1, b1], [l2, a2, b2]) {
    const rad = Math.PI / 180;
    const mean7 = ((Math.hypot(a1, b1) + Math.hypot(a2, b2)) / 2) ** 7;
    const g = 0.5 * (1 - Math.sqrt(mean7 / (mean7 + 25 ** 7)));
    const p1 = a1 * (1 + g), p2 = a2 * (1 + g);
    const c1 = Math.hypot(p1, b1), c2 = Math.hypot(p2, b2);
    const hue = (b, a) => (a === 0 && b === 0 ? 0 : (Math.atan2(b, a) / rad + 360) % 360);
    const h1 = hue(b1, p1), h2 = hue(b2, p2);
    let turn = c1 * c2 === 0 ? 0 : h2 - h1;
    if (turn > 180) turn -= 360;
    if (turn < -180) turn += 360;
    const dl = l2 - l1, dc = c2 - c1, dh = 2 * Math.sqrt(c1 * c2) * Math.sin((turn / 2) * rad);
    const l = (l1 + l2) / 2, c = (c1 + c2) / 2;
    let h = h1 + h2;
    if (c1 * c2 !== 0) h = Math.abs(h1 - h2) <= 180 ? h / 2 : h < 360 ? (h + 360) / 2 : (h - 360) / 2;
    const t = 1 - 0.17 * Math.cos((h - 30) * rad) + 0.24 * Math.cos(2 * h * rad)
      + 0.32 * Math.cos((3 * h + 6) * rad) - 0.2 * Math.cos((4 * h - 63) * rad);
    const sl = 1 + (0.015 * (l - 50) ** 2) / Math.sqrt(20 + (l - 50) ** 2);
    const sc = 1 + 0.045 * c, sh = 1 + 0.015 * c * t;
    const rc = 2 * Math.sqrt(c ** 7 / (c ** 7 + 25 ** 7));
    const rt = -Math.sin(60 * Math.exp(-(((h - 275) / 25) ** 2)) * rad) * rc;
    return Math.sqrt((dl / sl) ** 2 + (dc / sc) ** 2 + (dh / sh) ** 2 + rt * (dc / sc) * (dh / sh));
  }

  return { grey, seen, lab, apart, difference: (one, other) => apart(lab(one), lab(other)) };
})();
