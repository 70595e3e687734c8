// @ts-check
// The build sheet as a file to hand over: as the workshop's PC draws it where that answers, else as a page of its own.

import { request } from "../../log/access.js";
import { today } from "../../log/store.js";
import { canShare, share } from "../form/share.js";

/** @typedef {Pick<import("./sheet.js").State, "id" | "read" | "found" | "template" | "paper">} Sheet */

/** The sheet as the workshop's PC draws it. @param {Sheet} sheet */
export function pdfOf({ id, read: { torqueUnit, lengthUnit }, template, paper }) {
  const chosen = new URLSearchParams({ torque: torqueUnit, lengths: lengthUnit, template, paper });
  return request(`/api/units/${id}/sheet.pdf?${chosen}`).then((answer) => answer.blob());
}

/** One page that opens anywhere: its styles are in it, and nothing is fetched. @param {string} title */
function pageOf(title) {
  const article = /** @type {HTMLElement} */ (document.querySelector("article.sheet")).cloneNode(true);
  const root = document.createElement("html");
  root.lang = "en";
  root.dataset.theme = "light";
  const [head, body, main] = ["head", "body", "main"].map((name) => document.createElement(name));
  const view = Object.assign(document.createElement("meta"), { name: "viewport", content: "width=device-width" });
  view.setAttribute("charset", "utf-8");
  const styles = Object.assign(document.createElement("style"), {
    textContent: [...document.styleSheets]
      .flatMap(({ cssRules }) => [...cssRules].map(({ cssText }) => cssText))
      .join(""),
  });
  main.append(article);
  head.append(view, Object.assign(document.createElement("title"), { textContent: title }), styles);
  body.append(main);
  root.append(head, body);
  return `<!doctype html>\n${root.outerHTML.replace(/<!--.*?-->/gs, "")}`;
}

/** Name and type of each form of the file. @param {Sheet} sheet @returns {Record<"pdf" | "page", [string, string]>} */
export function formsOf({ found, template }) {
  const name = `${found.unit.name.replace(/[^\p{L}\p{N}]+/gu, "-")}-${template}-${today()}`;
  return { pdf: [`${name}.pdf`, "application/pdf"], page: [`${name}.html`, "text/html"] };
}

/** Whether this phone has a sheet to share by that takes it. @param {Sheet} sheet */
export const sheetIsShared = (sheet) => canShare(Object.values(formsOf(sheet)));

/** Hand it over by the phone's own sheet, or to its downloads. @param {Sheet} sheet */
export async function shareSheet(sheet) {
  const title = `Sheet of ${sheet.found.unit.name}`;
  const { pdf, page } = formsOf(sheet);
  // Away from the workshop, and where a phone shares no PDF, the page goes.
  const drawn = canShare([pdf]) ? await pdfOf(sheet).catch(() => undefined) : undefined;
  return drawn ? share(title, drawn, [pdf]) : share(title, pageOf(title), [page]);
}
