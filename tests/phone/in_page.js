// What the tests measure inside the page: where the focus is and whether it is seen, contrast, targets, movement.

globalThis.inPage = (() => {
  /** @param {string} text a computed colour */
  const colour = (text) => {
    const parts = (text.match(/[\d.]+/g) ?? ["0", "0", "0", "0"]).map(Number);
    const [red, green, blue] = text.startsWith("color(") ? parts.slice(-3 - Number(text.includes("/"))).map((one) => 255 * one) : parts;
    return { red, green, blue, alpha: /^rgba|\//.test(text) ? parts[parts.length - 1] : 1 };
  };

  const over = (upper, lower) => ({
    red: upper.red * upper.alpha + lower.red * (1 - upper.alpha),
    green: upper.green * upper.alpha + lower.green * (1 - upper.alpha),
    blue: upper.blue * upper.alpha + lower.blue * (1 - upper.alpha),
    alpha: 1,
  });

  // Relative luminance and contrast ratio as WCAG 2.2 defines them.
  const linear = (part) => (part / 255 <= 0.04045 ? part / 255 / 12.92 : ((part / 255 + 0.055) / 1.055) ** 2.4);
  const luminance = ({ red, green, blue }) => 0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue);
  const ratio = (one, other) => {
    const [high, low] = [luminance(one), luminance(other)].sort((a, b) => b - a);
    return (high + 0.05) / (low + 0.05);
  };

  /** The ground that an element stands on. @param {Element | null} element */
  const ground = (element) => {
    const layers = [];
    for (let one = element; one; one = one.parentElement) {
      const layer = colour(getComputedStyle(one).backgroundColor);
      layers.push(layer);
      if (layer.alpha === 1) break;
    }
    return layers.reduceRight((below, layer) => over(layer, below), colour("rgb(255, 255, 255)"));
  };

  /**
   * What an element's text stands on, by the boxes around it: the ground, the box that gives it, and what veils both.
   * @param {Element} element @param {Map<Element, object>} known what was found of elements before
   */
  const stands = (element, known) => {
    if (known.has(element)) return known.get(element);
    const style = getComputedStyle(element);
    const below = element.parentElement ? stands(element.parentElement, known) : { ground: colour("rgb(255, 255, 255)"), giver: element, veils: [], unsure: false };
    const layer = colour(style.backgroundColor);
    const opacity = Number(style.opacity);
    const isMixed = [style.backgroundImage, style.filter, style.backdropFilter].some((one) => one !== "none") || style.mixBlendMode !== "normal";
    const isLoose = /fixed|sticky/.test(style.position) && (layer.alpha < 1 || opacity < 1);
    const found = {
      ground: over(layer, below.ground),
      giver: layer.alpha === 1 ? element : below.giver,
      veils: opacity < 1 ? [...below.veils, { opacity, backdrop: below.ground }] : below.veils,
      unsure: isMixed || isLoose || (below.unsure && (layer.alpha < 1 || opacity < 1)),
    };
    known.set(element, found);
    return found;
  };

  /** Every box that paints something which a text may stand on. */
  const painted = () => {
    const [boxes, bars] = [[], []];
    for (const one of document.body.querySelectorAll("*:not(svg *)")) {
      const style = getComputedStyle(one);
      if (/fixed|sticky/.test(style.position)) bars.push(one);
      if (style.opacity === "0" || !(one.matches("img, svg, canvas, video") || colour(style.backgroundColor).alpha > 0)) continue;
      if (seen(one)) boxes.push({ one, box: one.getBoundingClientRect(), bar: bars.find((bar) => bar.contains(one)) });
    }
    return boxes;
  };

  const words = (element) => element.outerHTML.replace(/<!--.*?-->/g, "").replace(/\s+/g, " ").slice(0, 120);
  const seen = (element) => element.checkVisibility({ visibilityProperty: true }) && element.getClientRects().length > 0;

  /** What shows that something has the focus. @param {Element} at */
  const marked = (at) => (at.matches(".choices input, .planned input, label.photo input") ? at.closest("label") : at);

  const fault = (at) => {
    if (at === document.body || at.matches("main, h1")) return "";
    const style = getComputedStyle(marked(at));
    if (!at.matches(":focus-visible") || style.outlineStyle === "none" || parseFloat(style.outlineWidth) < 2) return `The focus is not outlined: ${words(at)}`;
    const contrast = ratio(colour(style.outlineColor), ground(marked(at).parentElement));
    if (contrast < 3) return `The outline has a contrast of ${contrast.toFixed(1)} only: ${words(at)}`;
    const box = at.getBoundingClientRect();
    const [x, y] = [box.left + box.width / 2, (Math.max(box.top, 0) + Math.min(box.bottom, innerHeight)) / 2];
    const top = document.elementFromPoint(x, y);
    if (!top || !(top === at || at.contains(top) || marked(at).contains(top))) {
      const over = top?.closest("#tabs, .verdict-bar, #notice");
      if (over || !top) return `The focus is covered by ${over ? words(over) : "the edge of the window"}: ${words(at)}`;
    }
    return "";
  };

  // What Tab came to on this screen, and whatever listens to a mouse.
  let reached = new Set();
  let last;
  let isLeft = false;
  const faults = [];
  /** Take the stop that Tab came to. */
  const note = () => {
    const at = document.activeElement ?? document.body;
    // A field for a date has a stop for each of its parts.
    if (isLeft || at === last) return;
    last = at;
    isLeft = !at.closest("#main") || at.id === "main" || reached.has(at);
    if (isLeft) return;
    reached.add(at);
    const wrong = fault(at);
    if (wrong) faults.push(wrong);
  };
  /** A key that is held says "down" again and again; each time it is seen where the one before led. @param {Event} event */
  const atKey = (event) => {
    if (event.repeat) note();
    if (isLeft) event.preventDefault();
  };
  const pressed = new Set();
  const { addEventListener } = EventTarget.prototype;
  EventTarget.prototype.addEventListener = function (kind, ...rest) {
    if (this instanceof Element && /^(click|dblclick|mousedown|pointerdown)$/.test(kind)) pressed.add(this);
    return addEventListener.call(this, kind, ...rest);
  };

  /**
   * Wait until nothing changes on the screen any more.
   * @param {string} what is waited for @param {Element | null} [before] the screen that another takes the place of
   */
  const rest = async (what, before) => {
    const main = document.getElementById("main");
    const start = performance.now();
    let changed = start;
    const watcher = new MutationObserver(() => (changed = performance.now()));
    watcher.observe(main, { subtree: true, childList: true, attributes: true, characterData: true });
    const there = () => main.firstElementChild !== before && main.querySelector("h1") && performance.now() - changed > 150 && !/^(Looking|Working|Delivering|Opening)[^\n]*…/m.test(main.innerText);
    const { calc } = await slipbook.part("engine/door.js");
    for (let answered = false; !(there() && answered); ) {
      if (performance.now() - start > 60000) throw new Error(`${what} does not come to rest`);
      await new Promise((resolve) => setTimeout(resolve, 30));
      if (!there() || answered) continue;
      // Quiet may be a screen that waits: the engine answers in order, so this comes after what the screen has asked, and
      // after what it then asked with the answer, as a lesson does before it shows anything. A note is answered fastest.
      const asked = changed;
      for (let turn = 0; turn < 4; turn++) {
        await calc("note", { text: "." });
        await new Promise((resolve) => setTimeout(resolve));
      }
      await new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)));
      answered = changed === asked;
    }
    watcher.disconnect();
  };

  return {
    /** Where the focus is, seen from `target`. */
    stop(target) {
      const at = document.activeElement ?? document.body;
      return {
        here: at === target,
        gone: !target.isConnected,
        group: at.type === "radio" && target.type === "radio" && at.name === target.name,
        back: at !== document.body && Boolean(at.compareDocumentPosition(target) & Node.DOCUMENT_POSITION_PRECEDING),
        fault: fault(at),
      };
    },

    /** Whether the focus is somewhere: on the heading of a new screen, or where the old one goes on. @param {string} before address */
    kept(before) {
      const at = document.activeElement;
      if (!at || at === document.body) return false;
      return location.href === before || at.matches("main h1") || (at.closest("main") && at.matches("input"));
    },

    /**
     * Get ready to go through a screen by Tab: all that is folded is opened, and has what it is filled with as it opens;
     * the focus is where the screen begins.
     */
    async begin() {
      if (document.querySelector("#main details:not([open])")) await this.unfold();
      reached = new Set();
      last = undefined;
      isLeft = false;
      removeEventListener("keydown", atKey, true);
      document.querySelector("#main").focus({ preventScroll: true });
      addEventListener.call(globalThis, "keydown", atKey, true);
    },

    /** What is wrong with the stops that Tab came to since this was asked, and whether the screen is left. */
    stops() {
      note();
      if (isLeft) removeEventListener("keydown", atKey, true);
      return { ended: isLeft, faults: faults.splice(0) };
    },

    /**
     * Whatever a mouse could press on the screen that the keyboard did not come to. The library of the charts listens
     * everywhere, and does nothing: its cursor is turned off.
     */
    missed() {
      const native = "a[href], button, input, select, textarea, summary, [role=button]";
      const can = (one) => [...reached].some((at) => at === one || one.contains(at) || at.contains(one));
      const grouped = (one) => one.type === "radio" && [...reached].some((at) => at.type === "radio" && at.name === one.name);
      // A spot in a picture is moved by the sliders below it as well.
      const slid = (one) => one.matches("svg.corner") && [...reached].some((at) => at.type === "range");
      const labels = (one) => one.matches("label") && one.control && (can(one.control) || grouped(one.control));
      const all = new Set([...document.querySelectorAll(native.split(", ").map((one) => `#main ${one}`).join(", ")), ...[...pressed].filter((one) => one.closest("#main") && one.id !== "main" && !one.closest(".uplot"))]);
      return [...all].filter((one) => one.isConnected && seen(one) && !can(one) && !grouped(one) && !labels(one) && !slid(one)).map(words);
    },

    /** Open a screen of the app and wait until it is at rest. @param {string} path */
    async go(path) {
      const before = document.getElementById("main").firstElementChild;
      if (location.hash.slice(1) === path) dispatchEvent(new Event("hashchange"));
      else location.hash = path;
      await rest(path, before);
    },

    /** Open all that is folded on the screen, and wait until it is at rest. */
    async unfold() {
      for (const fold of document.querySelectorAll("#main details")) fold.open = true;
      await rest("what was folded");
    },

    /** Nonsense in every field for a number, all choices made; whether there was such a field. */
    async spoil() {
      const fields = [...document.querySelectorAll("#main input[inputmode]")];
      const lists = [...document.querySelectorAll("#main select")].filter((one) => !one.value && one.options.length > 1);
      for (const list of lists) {
        list.selectedIndex = 1;
        list.dispatchEvent(new Event("change", { bubbles: true }));
      }
      const names = new Set([...document.querySelectorAll("#main input[type=radio]")].map((one) => one.name));
      const groups = [...names].filter((name) => !document.querySelector(`input[name="${name}"]:checked`));
      for (const name of groups) document.querySelector(`input[name="${name}"]`).click();
      for (const field of fields) {
        field.value = "abc";
        field.dispatchEvent(new Event("input", { bubbles: true }));
      }
      if (fields.length + lists.length + groups.length) await new Promise((resolve) => setTimeout(resolve, 400));
      return fields.length > 0;
    },

    /**
     * Figures and verdicts whose contrast is below 7:1, and words in drawings below the least, over what is drawn beneath.
     * @param {number} [least]
     */
    faint(least = 4.5) {
      const found = [];
      const say = (element, contrast) => contrast < (element.matches("svg text") && !/\d/.test(element.textContent) ? least : 7) && found.push(`${contrast.toFixed(2)}:1 ${words(element)}`);
      for (const element of document.querySelectorAll(".figure, .figure small, .verdict, .verdict-bar small, td.number, .readings input, .field input, #tabs .count"))
        if (seen(element) && (element.dataset.count ?? element.value ?? element.textContent).trim()) {
          const ink = colour(getComputedStyle(element).color);
          say(element, ratio(over(ink, ground(element)), ground(element)));
        }
      for (const text of document.querySelectorAll("svg text")) {
        if (!seen(text) || !text.textContent.trim()) continue;
        text.scrollIntoView({ block: "center" });
        const svg = text.closest("svg");
        const box = text.getBoundingClientRect();
        for (const part of [0.1, 0.5, 0.9]) {
          const below = document.elementsFromPoint(box.left + part * box.width, box.top + box.height / 2);
          const shapes = below.filter((one) => svg.contains(one) && one !== svg && !one.matches("text, g"));
          const fills = shapes.map((one) => ({ ...colour(getComputedStyle(one).fill), alpha: getComputedStyle(one).fill === "none" ? 0 : colour(getComputedStyle(one).fill).alpha }));
          const paper = fills.reduceRight((lower, layer) => over(layer, lower), ground(svg));
          say(text, ratio(over(colour(getComputedStyle(text).fill), paper), paper));
        }
      }
      scrollTo(0, 0);
      return [...new Set(found)];
    },

    /**
     * Text whose contrast with what it stands on is too low (WCAG 2.2, 1.4.3 and 1.4.6), links in a sentence that their
     * colour alone tells apart, and the elements whose ground the boxes around them do not tell. Letters of 24 px, or
     * of 18.66 px and bold, are large.
     * @param {{ least?: number, large?: number, every?: boolean }} [how] `every`: of keys that cannot act as well
     */
    pale({ least = 4.5, large = 3, every = false } = {}) {
      const [found, unsure, known, boxes] = [new Set(), new Set(), new Map(), painted()];
      const isOff = (one) => one.closest(":disabled, [aria-disabled=true]") || one.closest("label")?.control?.matches(":disabled");
      const isHidden = (one) => !seen(one) || one.closest(".skip:not(:focus), .unseen");
      const meets = (one, other) => one.left < other.right - 1 && other.left < one.right - 1 && one.top < other.bottom - 1 && other.top < one.bottom - 1;
      const isInside = (one, other) => one.left > other.left - 1 && one.right < other.right + 1 && one.top > other.top - 1 && one.bottom < other.bottom + 1;
      const judge = (at, lines) => {
        if (isHidden(at) || (!every && isOff(at))) return;
        const style = getComputedStyle(at);
        const { ground, giver, veils, unsure: isUnsure } = stands(at, known);
        // What lies outside the box that gives the ground is below it or covers the text, as does a bar that stays in
        // sight while the page is scrolled: that is another measure's.
        const isBetween = (line) => boxes.some(({ one, box, bar }) => meets(line, box) && giver.contains(one) && !one.contains(at) && !at.contains(one) && (!bar || bar.contains(at)));
        const isElsewhere = (line) => (!giver.matches("html, body") && !isInside(line, giver.getBoundingClientRect())) || isBetween(line);
        if (isUnsure || lines.some(isElsewhere)) return unsure.add(at);
        const shown = (one) => veils.reduceRight((upper, { opacity, backdrop }) => over({ ...upper, alpha: opacity }, backdrop), one);
        const contrast = ratio(shown(over(colour(style.color), ground)), shown(ground));
        const size = parseFloat(style.fontSize);
        const isLarge = size >= 24 || (size >= 18.66 && Number(style.fontWeight) >= 700);
        if (contrast < (isLarge ? large : least)) found.add(`${contrast.toFixed(2)}:1 ${words(at)}`);
      };
      const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
      const range = document.createRange();
      for (let node = walker.nextNode(); node; node = walker.nextNode()) {
        if (!node.textContent.trim() || node.parentElement.closest("svg, script, style, noscript, option, textarea")) continue;
        range.selectNodeContents(node);
        judge(node.parentElement, [...range.getClientRects()]);
      }
      for (const field of document.querySelectorAll("input:not([type=radio], [type=checkbox], [type=range], [type=file]), select, textarea")) judge(field, [field.getBoundingClientRect()]);
      for (const link of document.querySelectorAll("a[href]")) {
        const style = getComputedStyle(link);
        let around = link.parentElement;
        while (around.parentElement && getComputedStyle(around).display === "inline") around = around.parentElement;
        const isInSentence = style.display === "inline" && around.textContent.trim() !== link.textContent.trim();
        if (isInSentence && !isHidden(link) && !style.textDecorationLine.includes("underline")) found.add(`told apart by its colour alone: ${words(link)}`);
      }
      return { found: [...found], unsure: [...unsure] };
    },

    /**
     * Text that is cut off, sticks out of its key, or lies under something else, on a page as high as its content; and
     * fields too narrow for what is in them.
     */
    cut() {
      const found = [];
      const say = (what, element, text = "") => found.push(`${what}: ${text.trim().slice(0, 40)} ${words(element)}`);
      const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
      const range = document.createRange();
      for (let node = walker.nextNode(); node; node = walker.nextNode()) {
        const at = node.parentElement;
        if (!node.textContent.trim() || at.closest("svg, math, script, noscript, .skip, .unseen, option, textarea") || !seen(at)) continue;
        const style = getComputedStyle(at);
        if (style.visibility === "hidden" || style.clipPath !== "none") continue;
        const key = at.closest("button, .button, label, .verdict, summary, #tabs a, #bar a, td, th");
        const scrolls = at.closest(".scroll, .formula");
        const box = (key ?? at.closest("main, header, nav, body")).getBoundingClientRect();
        range.selectNodeContents(node);
        for (const line of range.getClientRects()) {
          if (!line.width || scrolls) continue;
          const isOut = line.right > box.right + 1 || line.left < box.left - 1 || (key && (line.bottom > box.bottom + 2 || line.top < box.top - 2));
          if (isOut || line.right > innerWidth + 1) say("sticks out", key ?? at, node.textContent);
          const top = document.elementFromPoint(line.left + line.width / 2, line.top + line.height / 2);
          const mine = !top || top.contains(at) || at.contains(top) || (top.matches("input") && top.parentElement.contains(at));
          if (!mine) say(`lies under ${words(top)}`, at, node.textContent);
        }
      }
      const measure = document.createElement("canvas").getContext("2d");
      for (const field of document.querySelectorAll("#main :is(input:not([type=radio], [type=checkbox], [type=file]), select)")) {
        if (!seen(field)) continue;
        const style = getComputedStyle(field);
        const room = field.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight) - (field.matches("select") ? 18 : 0);
        measure.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
        const text = field.matches("select") ? (field.selectedOptions[0]?.textContent.trim() ?? "") : field.inputMode ? field.value || "100" : "";
        if (measure.measureText(text).width > room + 2) say(`${room.toFixed(0)} px are too narrow`, field, text);
      }
      return [...new Set(found)];
    },

    /** Whatever can have the focus and is covered by something that stays where it is while it has it. */
    covered() {
      const found = [];
      const isShort = [...document.querySelectorAll("#tabs, .verdict-bar")].filter((one) => seen(one) && /sticky|fixed/.test(getComputedStyle(one).position));
      const taken = isShort.reduce((sum, one) => sum + one.getBoundingClientRect().height, 0);
      if (taken > innerHeight / 2) found.push(`${taken.toFixed(0)} px of ${innerHeight} px are covered for good`);
      for (const one of document.querySelectorAll("#main :is(a[href], button:not(:disabled), input, select, textarea, summary)")) {
        if (!seen(one)) continue;
        one.focus();
        if (document.activeElement !== one) continue;
        const box = one.getBoundingClientRect();
        const [top, bottom] = [Math.max(box.top, 0), Math.min(box.bottom, innerHeight)];
        // A link in a sentence may be broken over two lines: its middle is no part of it.
        const line = [...one.getClientRects()].find((part) => part.bottom > 0 && part.top < innerHeight) ?? box;
        const y = one.matches("a") ? line.top + line.height / 2 : (top + bottom) / 2;
        const over = bottom > top && document.elementFromPoint(line.left + line.width / 2, y);
        if (!over || !(over === one || one.contains(over) || marked(one).contains(over))) found.push(`${over ? words(over) : "the edge"} covers ${words(one)}`);
      }
      document.activeElement?.blur();
      scrollTo(0, 0);
      return found;
    },

    /**
     * Whatever can be acted on and is smaller than this both ways, in pixels; links inside a sentence are as high as
     * their line.
     * @param {number} [least]
     */
    small(least = 48) {
      const inSentence = (one) => one.matches("a") && getComputedStyle(one).display === "inline" && one.parentElement.textContent.trim() !== one.textContent.trim();
      return [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [role=button], [tabindex='0']")]
        .filter((one) => seen(one) && !one.matches(".skip") && !inSentence(one))
        .map((one) => [one.getBoundingClientRect(), one])
        .filter(([box]) => Math.min(box.width, box.height) < least - 0.5)
        .map(([box, one]) => `${box.width.toFixed(0)} x ${box.height.toFixed(0)} px: ${words(one)}`);
    },
  };
})();

// Whatever moves on the page is noted, however short; what takes no time moves nothing, as words that come late.
globalThis.moved = [];
for (const kind of ["animationstart", "transitionrun"])
  addEventListener(
    kind,
    (event) => {
      if (kind === "animationstart" && getComputedStyle(event.target, event.pseudoElement || null).animationDuration === "0s") return;
      globalThis.moved.push(`${kind} of ${event.animationName ?? event.propertyName} on ${event.target.className || event.target.nodeName}`);
    },
    true,
  );
