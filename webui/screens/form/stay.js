// @ts-check
// Asks before a screen is left while something dangerous is half done.

import { html, render } from "../../vendor/lit-html/lit-html.js";

/**
 * Stand before every way out of this screen.
 * @param {() => {question: string, stay: string, leave: string} | undefined} danger what is asked; nothing while it is
 *   safe to go
 * @returns {() => void} stands before nothing any more
 */
export function askBeforeLeaving(danger) {
  const address = location.hash;
  const dialog = document.createElement("dialog");
  dialog.className = "card";
  let allowed = false;

  /** @param {string} target */
  const ask = (target) => {
    const words = danger();
    if (!words) return;
    const go = () => {
      allowed = true;
      dialog.close();
      location.hash = target;
    };
    render(
      html`<p>${words.question}</p>
        <div class="actions">
          <button class="main" autofocus @click=${() => dialog.close()}>${words.stay}</button>
          <button @click=${go}>${words.leave}</button>
        </div>`,
      dialog,
    );
    if (!dialog.open) dialog.showModal();
  };

  /** A link leads away: stopped here, it leaves nothing behind for Back. @param {MouseEvent} event */
  const onClick = (event) => {
    const link = event.target instanceof Element ? event.target.closest("a[href^='#']") : null;
    const target = link?.getAttribute("href");
    if (!target || target === address || allowed || !danger()) return;
    event.preventDefault();
    ask(target);
  };
  /** The address has changed, and the screen has not yet. @param {Event} event */
  const onLeaving = (event) => {
    const target = location.hash;
    if (target === address || allowed || !danger()) return;
    event.preventDefault();
    history.pushState(null, "", address);
    ask(target);
  };
  /** @param {BeforeUnloadEvent} event */
  const onClose = (event) => {
    if (danger()) event.preventDefault();
  };

  document.body.append(dialog);
  document.addEventListener("click", onClick, true);
  addEventListener("leaving", onLeaving);
  addEventListener("beforeunload", onClose);
  return () => {
    document.removeEventListener("click", onClick, true);
    removeEventListener("leaving", onLeaving);
    removeEventListener("beforeunload", onClose);
    dialog.remove();
  };
}
