// Drawings at their limits, and what collides in them: words on words, words on lines that mean something, words cut off.

globalThis.drawings = (() => {
  const mm = (value) => `${value.toFixed(3)} mm`;
  const thou = (value) => `${(value / 0.0254).toFixed(1)} thou`;
  const part = (slot, kind, thickness, more = {}) => ({ slot, part: kind, thickness, ...more });
  const pack = (side, count, name = (number) => `${side}${number}`) =>
    Array.from({ length: count }, (_, number) => part(name(number + 1), number % 2 ? "friction" : "separator", number % 2 ? 2.5 : 1.5));
  const whole = (count, name) => [part("S1", "spring", null), ...pack("A", count, name), part("R1", "ring", 18), part("R2", "ring", 18), ...pack("B", count)];
  const line = (points) => [{ name: "", points: points.map(([x, y]) => ({ x, y })) }];
  const plan = (more) => ({ series: line([[-2, 0], [0, 60], [1, 180]]), xName: "thickness added, mm", yName: "N·m", words: "plan", ...more });
  const guard = (value, expanded, low, high, guardLow, guardHigh, say = (one) => one.toFixed(1)) => ({ value, expanded, low, high, guardLow, guardHigh, say, words: "guard" });

  const CASES = [
    ["stack", "stackDrawing", { parts: whole(7), springHeight: 5, crush: 1.43, say: mm }],
    ["stack", "stackDrawing", { parts: whole(3, (number) => `cover side, plate ${number}`), springHeight: 5, crush: 0.02, say: thou }],
    ["stack", "stackDrawing", { parts: whole(7, (number) => `cover side, plate ${number}`), springHeight: 5, crush: null, say: mm, choose: () => {}, chosen: "B2" }],
    ["stack", "stackDrawing", { parts: [part("S1", "spring", null), part("A1", "shim", 0.05), part("A2", "friction", 79.9), part("R1", "ring", 80), part("R2", "ring", 2), part("B1", "shim", 0.05)], springHeight: 0.4, crush: 9.9, say: mm }],
    ["stack", "stackDrawing", { parts: whole(3), springHeight: 5, crush: -0.3, say: mm }],
    ["stack", "stackDrawing", { parts: whole(7, (number) => `cover side, plate ${number}`).map((one) => ({ ...one, told: one.thickness ? thou(one.thickness) : undefined, verdict: "rework" })), springHeight: 5, crush: 1.43, say: thou, half: true }],
    ["stack", "stackDrawing", { parts: whole(2).map((one) => ({ ...one, told: one.thickness ? mm(79.5) : undefined })), springHeight: 5, crush: 0.01, say: mm, half: true }],
    ["curves", "curvesDrawing", plan({ marks: [{ x: 0, name: "now" }, { x: 0.05, name: "planned" }], zones: [{ from: -2, to: 1, name: "loose" }], band: { low: 90, high: 110 } })],
    ["curves", "curvesDrawing", plan({ marks: [{ x: -1.5, name: "now" }, { x: -0.5, name: "planned" }], zones: [{ from: -2, to: -1, name: "loose" }, { from: 0.6, to: 1, name: "too flat" }], band: { low: 100, high: 160 } })],
    ["curves", "curvesDrawing", plan({ marks: [{ x: 0.98, name: "now" }, { x: 0.95, name: "planned" }], zones: [{ from: 0.9, to: 1, name: "too flat" }, { from: 0.8, to: 0.9, name: "loose" }] })],
    ["curves", "curvesDrawing", plan({ series: line([[-0.01, 11200], [0, 11900], [0.02, 12000]]), marks: [{ x: 0, name: "now" }, { y: 11900, name: "wanted" }] })],
    ["guard", "guardDrawing", guard(100, 2, 99.5, 100.5, 1.5, 1.5)],
    ["guard", "guardDrawing", guard(1000.1, 0.2, 70, 71, 1.5, 1.5)],
    ["guard", "guardDrawing", guard(2.31, 0.02, 2.3, null, 0.004, null, mm)],
    ["guard", "guardDrawing", guard(0.01, 30, null, 140.25, null, 3, mm)],
    ["guard", "guardDrawing", guard(80, 2, 70, 1000, 3, 3)],
    ["wedge", "wedgeDrawing", { angle: 20, name: "coast" }],
    ["wedge", "wedgeDrawing", { angle: 90, name: "drive" }],
    ["shares", "sharesDrawing", { before: 1020.5, steps: [{ name: "plates", factor: 0.02 }, { name: "spring", factor: 9 }, { name: "friction", factor: 0.5 }], say: (value) => `${value.toFixed(1)} N·m` }],
    ["plate", "plateDrawing", { points: Array(12).fill(2.5).map((one, place) => one - place / 100), gap: 0.05, say: thou }],
    ["plate", "plateDrawing", { points: [2.4, 2.5, 2.5], gap: 1.25, say: mm }],
    ["levers", "adapterDrawing", { wrench: 400, adapter: 60, angle: 0, say: mm }],
    ["levers", "adapterDrawing", { wrench: 200, adapter: 180, angle: 75, say: mm }],
    ["backlash", "backlashDrawing", "123.4 thou"],
    ...["spring.de_mm", "spring.di_mm", "spring.t_mm", "spring.l0_mm"].map((typed) => ["dimensions", "dimensionDrawing", { name: "spring", typed }]),
    ...["separator", "second", "friction", "ring"].map((typed) => ["dimensions", "dimensionDrawing", { name: "pack", typed }]),
    ...["friction.inner_mm", "friction.outer_mm"].map((typed) => ["dimensions", "dimensionDrawing", { name: "rubbing", typed }]),
    ...["ramps.pin_radius_mm", "ramps.drive_deg", "ramps.coast_deg"].map((typed) => ["dimensions", "dimensionDrawing", { name: "ramps", typed }]),
    ...["cover.screws", "cover.screw_mm", "cover.torque_nm", "cover.start_mm"].map((typed) => ["dimensions", "dimensionDrawing", { name: "cover", typed }]),
    ["dimensions", "dimensionDrawing", { name: "depth", typed: "cavity_mm" }],
  ];

  const meets = (a, b, slack = 1) => a.left + slack < b.right && b.left + slack < a.right && a.top + slack < b.bottom && b.top + slack < a.bottom;

  return {
    /** Draw all of them, one below the other, as wide as a card's inside. @param {number} width */
    async draw(width) {
      const { html, render } = await slipbook.part("vendor/lit-html/lit-html.js");
      const made = await Promise.all(CASES.map(async ([file, name, shown]) => (await slipbook.part(`draw/${file}.js`))[name](shown)));
      for (const name of ["help", "lessons"]) await new Promise((resolve) => document.head.append(Object.assign(document.createElement("link"), { rel: "stylesheet", href: `/style/${name}.css`, onload: resolve })));
      const place = Object.assign(document.createElement("div"), { id: "drawings" });
      document.querySelector("main").replaceChildren(place);
      const half = (number) => CASES[number][2].half || CASES[number][0] === "wedge";
      render(html`${made.map((one, number) => html`<section class="card" style="padding:0;content-visibility:visible;width:${half(number) ? width / 2 - 6 : width}px">${one}</section>`)}`, place);
    },

    /** Every word of a drawing with marks on one of them, and one out of it. */
    spoil() {
      const svg = document.querySelector("#drawings .curves");
      const mark = svg.querySelector(".mark");
      const texts = [...svg.querySelectorAll("text")];
      texts.forEach((text) => ["x", "y"].forEach((side) => text.setAttribute(side, mark.getAttribute(`${side}1`))));
      texts[0].setAttribute("x", "-30");
    },

    /** Whatever cannot be read. */
    faults() {
      return [...document.querySelectorAll("#drawings svg")].flatMap((svg, number) => {
        const frame = svg.getBoundingClientRect();
        const said = (text) => `${number} ${CASES[number][1]}: “${text.textContent}”`;
        const texts = [...svg.querySelectorAll("text")].filter((one) => one.textContent.trim()).map((text) => {
          // The letters are lower than the line that they stand on.
          const { left, right, top, bottom, height } = text.getBoundingClientRect();
          return { text, box: { left, right, top: top + 0.2 * height, bottom: bottom - 0.2 * height } };
        });
        const lines = [...svg.querySelectorAll(".mark, .limit")].map((one) => one.getBoundingClientRect()).map(({ left, right, top, bottom }) => ({ left: left - 1, right: right + 1, top: top - 1, bottom: bottom + 1 }));
        for (const curve of svg.querySelectorAll(".curve, .along"))
          for (let along = 0; along <= curve.getTotalLength(); along += 4) {
            const { x, y } = curve.getPointAtLength(along).matrixTransform(curve.getScreenCTM());
            lines.push({ left: x - 1, right: x + 1, top: y - 1, bottom: y + 1 });
          }
        return texts.flatMap(({ text, box }, place) => [
          ...(box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1 ? [`${said(text)} is cut off`] : []),
          ...texts.slice(place + 1).filter((other) => meets(box, other.box)).map((other) => `${said(text)} meets “${other.text.textContent}”`),
          ...[...svg.querySelectorAll("rect:not([fill=transparent])")]
            .filter((rect) => text.compareDocumentPosition(rect) & Node.DOCUMENT_POSITION_FOLLOWING && meets(box, rect.getBoundingClientRect()))
            .map(() => `${said(text)} is covered`),
          ...lines.filter((one) => meets(box, one, 0.5)).slice(0, 1).map(() => `${said(text)} is crossed by a line`),
        ]);
      });
    },
  };
})();
