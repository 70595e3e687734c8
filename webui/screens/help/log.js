// @ts-check
// The log: entries, corrections, outbox.

import { journeyDrawing } from "../../draw/journey.js";
import { mayWrite } from "../../log/kinds.js";
import { html } from "../../vendor/lit-html/lit-html.js";
import { word } from "./words.js";

const WORKING = html`<h3>Entry</h3>
  <p>
    Each has its own number, made on the device, the time by the device's clock, who did it, and your figures
    exactly as you typed them, with their units. Sent twice, it is still one entry.
  </p>
  <h3>Correction</h3>
  <p>
    Mistyped? Open the entry and correct it: that makes a new one that takes the old one's place in every figure and
    verdict. Both stay visible. A correction can be corrected in turn.
  </p>
  <h3>What stands</h3>
  <p>
    A unit's ${word("standing verdict")} is worked out afresh from its entries: the last torque check, each part's
    last measurement, since the rebuild that concerns it; the worst counts.
  </p>
  <h3>Two phones at once</h3>
  <p>
    Both entries stay. Where two changed the same unit's definition without having seen each other's, the one that
    reached the workshop later stands and both are shown to you.
  </p>
  <h3>Judged twice</h3>
  <p>
    The workshop works every result out again with the same engine. If a result ever differs, the entry will say so
    in capitals.
  </p>
  <h3>The PC died</h3>
  <p>
    Every phone is a copy. Put the last backup onto another PC, under the same name in the network, and open Slipbook on
    each phone: it is paired anew, then it brings back by itself all that the backup lacks, whoever wrote it, with its
    time, its verdict and its number; its own photos too. The ${word("outbox")} screen says what came back from which
    phone. New entries have far higher numbers from then on, so that no number is used twice.
  </p>
  <p>
    Is there no backup? Start with an empty log. The Outbox screen of each phone then names the old log, and puts what
    the phone has of it into the new one when you say so.
  </p>
  <h3>A person who wants to be forgotten</h3>
  <p>
    Units, checks and figures stay for good; what says whose they are need not. On a customer's page, hand out all that
    the log holds about that customer as a file, or erase it: the entries stay, with their numbers, and say [erased]
    where the data stood. The erasure is an entry itself, so it reaches every phone, and a backup that is put back, once
    a phone that knows it delivers.
  </p>
  <h3>Outbox</h3>
  <p>
    What it refuses stays in the ${word("outbox")} with the reason. With no network at all, save the outbox as a
    file and take it to the workshop's PC or to another phone.
  </p>`;

const LIMITS = [
  "Erasing a customer reaches no backup that was made before, no paper and no file that was handed out, no photo, " +
    "and no phone that does not deliver any more.",
  "Until it has left the outbox an entry is on this phone only. Do not clear the browser's data, and do " +
    "not lose the phone.",
  "A photo is on the phone that took it and in the workshop, on no other phone: after the PC died, the ones that " +
    "came after the backup come back from that phone alone.",
  "Some browsers throw away what a page has kept when it was not opened for weeks. Put Slipbook on the " +
    "home screen, and deliver every few days.",
  "An empty battery takes what was typed in its last second. An iPhone's browsers do not promise that what was " +
    "saved in the last seconds is in its storage: charge it, or deliver before it runs out.",
  "Times come from the device's clock; where the workshop finds it off, what was entered since it was right counts " +
    "with the corrected time. An entry made on a device that had another is later than it, whatever clocks say.",
  "Where two devices did not know of each other, and their clocks cannot tell which was later, the worse verdict " +
    "counts, and the unit says why. A new check settles it.",
];

export const purpose = html`Everything that was done and found is an ${word("entry")} in the ${word("log")}. The log
  only grows: nothing is ever changed or deleted, by anybody; only what says who a customer is can be erased.`;

/** @param {import("./topics.js").Tools} tools @returns {Promise<import("./topics.js").Page>} */
export async function page({ calc }) {
  const { version, kinds } = await calc("about", {});
  return {
    figures: html`<figure>
      ${journeyDrawing([
        { name: "You save", about: "judged and kept on this phone, at once" },
        { name: "Outbox", about: "waits until the workshop can be reached" },
        { name: "The workshop's log", about: "judged again, and on disk before it says so" },
        { name: "Every other phone", about: "fetches what is new" },
      ])}
      <figcaption>
        No step needs the next one to be there. An entry leaves the outbox only once the workshop has said that it is on
        disk.
      </figcaption>
    </figure>`,
    working: WORKING,
    example: html`<p>Engine ${version} judges these kinds of entry:</p>
      <ul class="steps">
        ${Object.values(kinds)
          .map((kind) => kind.meaning + (mayWrite(kind, "trackside") ? "" : ", from the bench alone"))
          .sort()
          .map((meaning) => html`<li>${meaning}</li>`)}
      </ul>`,
    limits: LIMITS,
    sources: ["Numbers of entries: UUID version 7, RFC 9562. The rest is our own."],
    words: ["entry", "log", "correction", "outbox", "standing verdict", "bench"],
  };
}
