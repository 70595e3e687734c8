// @ts-check
// What a strip found bad is answered before the unit is closed on it: exchanged, put right, or left with a reason.

import { calc } from "../../engine/door.js";
import { LABELS } from "../../log/labels.js";
import { entriesOf } from "../../log/store.js";
import { html, nothing } from "../../vendor/lit-html/lit-html.js";
import { choiceKeys, textField, verdictMark } from "../form/fields.js";
import { worked } from "../form/worked.js";

/** @typedef {import("../../engine/door.js").ResultOf<"strip_found">["parts"][number]} Part */
/** @typedef {{name: string, answer: "" | "put_right" | "left", why?: string}} Answer */

/** The parts that the last strip found bad and nobody answered for. @param {string} id of the unit */
export async function partsToAnswer(id) {
  const { parts } = await calc("strip_found", { entries: await entriesOf(id) });
  return parts.filter(({ asks }) => asks);
}

/** @param {Part} part */
export const verdictOf = ({ state }) => (state === "noted" || state === "unseen" ? null : state);

/** What is answered of a part so far. @param {Answer[]} answers @param {string} name @returns {Answer} */
const answerOf = (answers, name) => answers.find((row) => row.name === name) ?? { name, answer: "", why: "" };

/** Parts that are still without an answer. @param {Part[]} parts @param {Answer[]} answers */
export const unanswered = (parts, answers) => parts.filter(({ name }) => !answerOf(answers, name).answer);

/** What was answered, as the engine takes it. @param {Answer[]} answers */
export const answersGiven = (answers) =>
  answers.flatMap(({ name, answer, why }) => (answer ? [{ name, answer, ...(why?.trim() ? { why } : {}) }] : []));

/**
 * @param {string} id of the unit
 * @param {Part[]} parts
 * @param {Answer[]} answers
 * @param {(path: string) => string | undefined} error by field
 * @param {(answers: Answer[]) => void} put
 */
export function answersSection(id, parts, answers, error, put) {
  if (!parts.length) return nothing;
  const set = (/** @type {Answer} */ row) => put([...answers.filter(({ name }) => name !== row.name), row]);
  const given = answersGiven(answers);
  return html`<section class="card answers" aria-labelledby="answers">
    <h2 id="answers">The strip found these bad</h2>
    <p class="quiet">
      Exchanged? <a href="#/unit/${id}/rebuild">Log the rebuild</a> first, and it is answered. What stays in is answered
      here. ${worked("found", "What counts as an answer")}
    </p>
    ${parts.map((part) => {
      const row = answerOf(answers, part.name);
      const path = `answers.${given.findIndex(({ name }) => name === part.name)}.why`;
      return html`<div>
        <div class="row apart"><b>${part.name}, ${part.what}</b> ${verdictMark(verdictOf(part))}</div>
        <p class="quiet">${part.text}</p>
        ${choiceKeys({
          name: `answer.${part.name}`,
          label: `${part.name}: ${LABELS.close["answers..answer"].toLowerCase()}`,
          short: true,
          value: row.answer,
          choose: (answer) => set({ ...row, answer: /** @type {Answer["answer"]} */ (answer) }),
          options: [
            { value: "put_right", words: "put right" },
            { value: "left", words: "left as it is" },
          ],
        })}
        ${
          row.answer
            ? textField({
                name: `why.${part.name}`,
                label: `${part.name}: ${LABELS.close["answers..why"].toLowerCase()}`,
                value: row.why ?? "",
                error: error(path),
                type: (why) => set({ ...row, why }),
              })
            : nothing
        }
      </div>`;
    })}
  </section>`;
}
