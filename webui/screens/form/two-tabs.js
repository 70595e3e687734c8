// @ts-check
// Says above a form that another tab types into it too, and lets a person choose; both are kept until then.

import { dropDraft } from "../../log/drafts.js";
import { reasonOf } from "../../log/storage-fault.js";
import { database } from "../../log/store.js";
import { exchange, lookAgain, onNews, watchTabs } from "../../log/two-drafts.js";
import { html, nothing, render } from "../../vendor/lit-html/lit-html.js";
import { when } from "./fields.js";

/** @typedef {import("../../log/two-drafts.js").News} News */

/** What stands in the form is read anew. */
const showAnew = () => location.reload();

/** @param {string} words @param {() => unknown} act */
const choice = (words, act) => html`<button class="small" @click=${act}>${words}</button>`;

/** @param {unknown} words @param {unknown[]} choices */
const question = (words, ...choices) =>
  html`<p>${words}</p>
    <div class="row">${choices}</div>`;

/** @param {News} news @param {() => void} close @param {(act: () => Promise<unknown>) => () => void} doing */
function notice({ key, what, beside }, close, doing) {
  if (what === "both")
    return question(
      "Another tab has typed something else into this form. Both are kept, and what you type here stays apart.",
      choice(
        "Go on with what is here",
        doing(async () => exchange(await database(), key).then(close)),
      ),
      choice("Show the other", showAnew),
    );
  if (what === "other")
    return question(
      "Another tab has typed into this form since it was opened here.",
      choice("Show what stands there", showAnew),
    );
  if (what === "gone")
    return question("In another tab this was saved or cleared. What stands here is kept.", choice("Understood", close));
  const left = /** @type {import("../../log/two-drafts.js").Row} */ (beside);
  const at = left.at ? html`, on ${when(left.at)}` : nothing;
  return question(
    html`Something else was typed into this form in another tab${at}, and is kept.`,
    choice(
      "Show that instead",
      doing(async () => exchange(await database(), key, left.key).then(showAnew)),
    ),
    choice(
      "Throw it away",
      doing(() => dropDraft(left.key).then(close)),
    ),
  );
}

/** @param {HTMLElement} main where screens are shown */
export function watchForms(main) {
  let place = document.createElement("div");
  let shown = "";
  const close = () => place.remove();
  /** @param {unknown} template @param {string} what it is */
  const show = (template, what) => {
    const isNew = !place.isConnected || what !== shown;
    // It goes with the screen that it stands above.
    if (!place.isConnected) {
      place = document.createElement("div");
      main.prepend(place);
    }
    render(
      html`<aside class="card judged measure_again" role="alert" aria-label="Two tabs">${template}</aside>`,
      place,
    );
    shown = what;
    // Whoever types further down would not see it; the next key brings the field back into sight.
    if (isNew) place.scrollIntoView({ block: "nearest" });
  };
  const doing = (/** @type {() => Promise<unknown>} */ act) => () =>
    act().catch((error) => show(html`<p>${reasonOf(error)}</p>`, "fault"));
  onNews((news) => show(notice(news, close, doing), news.what));
  watchTabs(database);
  document.addEventListener("visibilitychange", async () => {
    if (document.visibilityState === "visible") await lookAgain(await database());
  });
}
