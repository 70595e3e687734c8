// @ts-check
// What a fold holds, made when it is first opened: a browser looks through every field of a page at each key and when
// one gets the focus, also through those that nobody can see.

import { AsyncDirective } from "../../vendor/lit-html/async-directive.js";
import { directive } from "../../vendor/lit-html/directive.js";
import { noChange, nothing } from "../../vendor/lit-html/lit-html.js";

class WhenOpen extends AsyncDirective {
  /** @type {HTMLDetailsElement | null} */
  fold = null;
  opened = false;
  content = () => /** @type {unknown} */ (nothing);

  /** @param {() => unknown} _content @param {boolean} [_needed] */
  render(_content, _needed) {
    return noChange;
  }

  /**
   * @override
   * @param {import("lit-html").ChildPart} part
   * @param {[() => unknown, boolean?]} given
   */
  update(part, [content, needed]) {
    this.content = content;
    if (!this.fold) {
      this.fold = /** @type {Element} */ (part.parentNode).closest("details");
      // A tap on its line comes before it opens, so that it opens filled; a script that opens it is heard of after.
      for (const name of ["click", "toggle"]) this.fold?.addEventListener(name, this);
    }
    this.opened ||= needed || (this.fold?.open ?? true);
    return this.opened ? content() : noChange;
  }

  /** @param {Event} event */
  handleEvent({ type, target }) {
    const asked = type === "toggle" ? this.fold?.open : /** @type {Element} */ (target).closest("summary");
    if (this.opened || !asked) return;
    this.opened = true;
    this.setValue(this.content());
  }
}

/**
 * What stands in a `<details>`, from when it is first opened, or is needed: something is said at one of its fields.
 * @type {(content: () => unknown, needed?: boolean) => unknown}
 */
export const whenOpen = directive(WhenOpen);
