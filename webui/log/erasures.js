// @ts-check
// What was erased at the workshop goes from this phone too, at the next delivery after it hears of that.

import { ask } from "./access.js";
import { dropDraft } from "./drafts.js";
import { isEntry, isOf } from "./entries.js";
import { group, list } from "./shape.js";
import { entriesOf, fact, outbox, remember, take } from "./store.js";

const areEntries = group({ entries: list(isEntry) });

/** Take the workshop's copy of whatever an erasure took something out of, once for each erasure. */
export async function dropErased() {
  const erasures = (await entriesOf("")).flatMap((erasure) => (isOf(erasure, "erasure") ? [erasure] : []));
  if (!erasures.length) return;
  const [done, waiting] = await Promise.all([fact("erased", []), outbox()]);
  /** @type {string[]} */
  const known = [...done];
  for (const { id, body } of erasures) {
    if (known.includes(id) || waiting.some((row) => row.id === id)) continue;
    const { entries } = await ask(`/api/log/erased/${id}`, areEntries);
    await take(entries);
    for (const record of body.ids ?? []) await dropDraft(`customer/${record}`);
    known.push(id);
    await remember("erased", known);
  }
}
