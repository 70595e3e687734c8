// @ts-check
// Help: an index, a page for each method, and the glossary.

import { calc } from "../../engine/door.js";
import { isSamples } from "../../log/book.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { backTo, caution, reading, verdictMark } from "../form/fields.js";
import { style } from "../form/style.js";
import { CAME_FROM } from "../form/worked.js";
import { inTurns, nextFrame } from "../frame/turns.js";
import { samplesKey } from "../shop/samples.js";
import { inline } from "./formula.js";
import { GROUPS, topicOf } from "./topics.js";
import { slugOf, WORDS, wordOf } from "./words.js";

/** The figures are drawn first, then the example, then how it is worked out. */
const TURNS = 3;

/** The way back, also into the middle of a form that asked for help. */
function ways() {
  const from = sessionStorage.getItem(CAME_FROM);
  return html`<div class="row full">
    ${from ? backTo(from, "Back to where you were") : nothing}${backTo("#/help", "All of Help")}
  </div>`;
}

/** @param {string} to @param {string} title @param {string} about */
const row = (to, title, about) =>
  html`<li>
    <a href=${to}
      ><span><strong>${title}</strong><br /><span class="quiet">${about}</span></span
      ><span class="onward" aria-hidden="true">›</span></a
    >
  </li>`;

const toWords = row("#/help/words", "Words", "the trade's and ours, in plain language");

/** @param {unknown} samples the key of the sample units */
const index = (samples) => {
  sessionStorage.removeItem(CAME_FROM);
  return html`<h1>Help</h1>
    <section class="card">
      <h2>What a verdict means</h2>
      <dl class="verdicts">
        <dt>${verdictMark("go")}</dt>
        <dd>inside the limits by more than the doubt of the reading</dd>
        <dt>${verdictMark("rework")}</dt>
        <dd>outside by more than the doubt; the parts may be good, the stack must be set again</dd>
        <dt>${verdictMark("replace")}</dt>
        <dd>a part is past its limit</dd>
        <dt>${verdictMark("measure_again")}</dt>
        <dd>the reading is too uncertain to say, or the kit is unfit</dd>
      </dl>
      <p class="quiet">
        A unit's verdict is the worst of its parts'. <a href="#/help/verdict">How it is worked out</a>
      </p>
    </section>
    ${caution(
      html`<b>The disc spring pushes the cover with thousands of newtons:</b> hold it closed in a vice before the
        screws, and wear safety glasses. A car on stands: level ground, wheels chocked, nobody under it. The maker's
        figures and the local rules come first, and a qualified person signs where the rules ask for one.`,
    )}
    ${samples}
    ${GROUPS.map(
      (group, place) =>
        html`<nav aria-labelledby=${`group${place}`}>
          <h2 id=${`group${place}`}>${group.title}</h2>
          <ul class="list cards topics">
            ${group.topics.map((topic) => row(`#/help/${topic.name}`, topic.title, topic.about))}
            ${place === GROUPS.length - 1 ? toWords : nothing}
          </ul>
        </nav>`,
    )}`;
};

/** @param {string} typed @param {(typed: string) => void} look */
const glossary = (typed, look) => {
  const sought = typed.trim().toLowerCase();
  const hasIt = (/** @type {string} */ term) => Number(term.includes(sought));
  // Words that have it in their name come before those that only have it in their meaning.
  const found = WORDS.filter(({ term, meaning }) => `${term} ${meaning}`.toLowerCase().includes(sought)).sort(
    (a, b) => hasIt(b.term) - hasIt(a.term) || a.term.localeCompare(b.term, "en"),
  );
  const none = `“${typed.trim()}” is not among these words, nor in what they mean. Try a part of it.`;
  return html`${ways()}
    <h1>Words</h1>
    <div class="field">
      <label for="search">Find a word</label
      ><input
        id="search"
        type="search"
        autocomplete="off"
        .value=${typed}
        @input=${(/** @type {{target: HTMLInputElement}} */ event) => look(event.target.value)}
      />
    </div>
    <p role="status">
      ${found.length ? (sought ? `${found.length} of ${WORDS.length} words` : "") : none}
    </p>
    ${
      found.length
        ? html`<dl class="card words">
            ${found.map(
              ({ term, meaning, topic }) =>
                html`<div id=${`word-${slugOf(term)}`} tabindex="-1">
                  <dt>${term}</dt>
                  <dd>
                    ${meaning}
                    ${topic ? html`<a href="#/help/${topic}" aria-label=${`${term}: more`}>More</a>` : nothing}
                  </dd>
                </div>`,
            )}
          </dl>`
        : nothing
    }`;
};

/**
 * A part of a page that a phone folds away until it is asked for.
 * @param {import("./topics.js").Words} title
 * @param {import("./topics.js").Template} inner
 * @param {boolean} [open]
 */
const folded = (title, inner, open = matchMedia("(min-width: 900px)").matches) =>
  html`<details ?open=${open}>
    <summary>${title}</summary>
    <div class="inside">${inner}</div>
  </details>`;

/** @param {NonNullable<import("./topics.js").Page["symbols"]>} symbols */
const letters = (symbols) =>
  html`<table class="symbols">
    <thead>
      <tr>
        <th scope="col">Letter</th>
        <th scope="col">Meaning</th>
        <th scope="col">Unit</th>
      </tr>
    </thead>
    <tbody>
      ${symbols.map(
        ([symbol, meaning, unit]) =>
          html`<tr>
            <th scope="row">${inline(symbol)}</th>
            <td>${meaning}</td>
            <td>${unit}</td>
          </tr>`,
      )}
    </tbody>
  </table>`;

/**
 * A page of a method; what it is for is there before the engine has worked out its figures.
 * @param {import("./topics.js").Topic} topic @param {import("./topics.js").Words} purpose
 * @param {ReturnType<typeof inTurns>["from"]} from in which turn its parts come
 * @param {import("./topics.js").Page} [page]
 */
const method = (topic, purpose, from, page) =>
  html`${ways()}
    <h1 class="full">${topic.title}</h1>
    <div class="screen">
      <section class="card lead">
        <p>${purpose}</p>
        ${page?.figures}
      </section>
      ${page ? from(2, () => example(page)) : nothing}
    </div>
    ${page ? from(TURNS, () => working(page)) : nothing}`;

/** @param {import("./topics.js").Page} page */
const example = (page) =>
  html`<section class="card folds">
      ${folded(
        html`<h2>An example</h2>`,
        html`${page.example}
          <p class="quiet">These figures were worked out just now, by the engine that judges your readings.</p>`,
      )}
    </section>
    <section class="card">
      <h2>When not to trust it</h2>
      <ul class="steps">
        ${page.limits.map((limit) => html`<li>${limit}</li>`)}
      </ul>
    </section>`;

/** @param {import("./topics.js").Page} page */
const working = (page) =>
  html`<div class="screen">
    <section class="card">
      <h2>How it is worked out</h2>
      ${page.working}
      <div class="folds">
        ${page.deeper ? folded(page.deeper.title, page.deeper.text, false) : nothing}
        ${page.symbols ? folded("What the letters mean", letters(page.symbols)) : nothing}
      </div>
    </section>
    <section class="card folds">
      ${folded(
        html`<h2>Where it comes from</h2>`,
        html`<ul class="steps sources">
          ${page.sources.map((source) => html`<li>${source}</li>`)}
        </ul>`,
      )}
      ${folded(
        html`<h2>Words on this page</h2>`,
        html`<p class="terms">
          ${page.words.map((term) => html`<a href="#/help/words/${slugOf(term)}">${term}</a> `)}
        </p>`,
      )}
    </section>
  </div>`;

/** @type {import("../../app.js").Show} */
export async function show(place, [name, term]) {
  const topic = name ? topicOf(name) : undefined;
  const [lesson] = await Promise.all([topic?.load(), style("help"), style("lessons")]);
  place.classList.add("help");
  if (name === "words") {
    const look = (/** @type {string} */ typed) => render(glossary(typed, look), place);
    look("");
    const wanted = term && wordOf(term) && place.querySelector(`#word-${term}`);
    // The shell scrolls to the top once the screen stands.
    if (wanted instanceof HTMLElement) setTimeout(() => wanted.focus());
    return;
  }
  if (!topic || !lesson) {
    const samples = isSamples ? () => nothing : samplesKey(() => draw());
    const draw = () => render(index(samples()), place);
    draw();
    return;
  }
  const { purpose, page } = lesson;
  place.classList.add("wide");
  const { from, drawRest } = inTurns(TURNS);
  render(method(topic, purpose, from), place);
  // The engine's start would hold up the frame that shows it.
  await nextFrame();
  const whole = await page({ calc, read: await reading() });
  const draw = () => render(method(topic, purpose, from, whole), place);
  draw();
  await drawRest(draw);
}
