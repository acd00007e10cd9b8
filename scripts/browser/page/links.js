// Links of the handbook on their way: what one takes along is what belongs to what stands in the fields, or it takes nothing along.
// @ts-check

import { take } from "./address.js";
import { calculators } from "./calculator.js";
import { state } from "./state.js";

const LONGEST = 5000; // ms that a press on a link waits for its answer

/** @param {HTMLElement} link */
const ownerOf = (link) => calculators().find(({ section }) => section.contains(link));

/** What a link takes along goes into the state, in one change that the reader can take back.
 *  @param {HTMLAnchorElement} link */
function handOver(link) {
  const { hand, from } = link.dataset;
  if (!hand) return;
  if (ownerOf(link)?.handsOver !== false) {
    /** What the reader set stays. @param {[string, string]} pair */
    const free = ([key]) => !state.value(key) || state.value(key)?.origin;
    const values = /** @type {[string, string][]} */ (Object.entries(JSON.parse(hand))).filter(free);
    state.change((put) => { for (const [key, text] of values) put("value", key, { text, plan: text, origin: from }); });
  }
  link.href = link.href.split("#")[0]; // the values are in the state now, or stay behind
  delete link.dataset.hand;
}

/** Press the link once more when the answer is there: what it takes along may be another by then.
 *  @param {HTMLAnchorElement} link @param {import("./calculator.js").Calculator} owner */
async function followLater(link, owner) {
  const target = link.href.split("#")[0];
  await Promise.race([owner.ready(), new Promise((resolve) => setTimeout(resolve, LONGEST))]);
  const links = /** @type {HTMLAnchorElement[]} */ ([...owner.section.querySelectorAll("a[href]")]);
  const fresh = link.isConnected ? link : links.find(({ href }) => href.split("#")[0] === target) ?? link;
  if (!fresh.isConnected) owner.section.append(fresh); // its answer no longer offers it: it is followed all the same
  late.add(fresh);
  fresh.click();
}
/** Links that have waited. @type {WeakSet<HTMLAnchorElement>} */
const late = new WeakSet();

/** @param {MouseEvent} event */
function follow(event) {
  const link = /** @type {HTMLAnchorElement | null} */ (event.target instanceof Element ? event.target.closest("a[href]") : null);
  if (!link) return;
  const owner = link.dataset.hand ? ownerOf(link) : undefined;
  const plain = event.type === "click" && !event.button && !event.ctrlKey && !event.metaKey && !event.shiftKey && !event.altKey;
  if (owner && plain && !owner.handsOver && !late.has(link)) {
    event.preventDefault();
    event.stopImmediatePropagation();
    followLater(link, owner);
    return;
  }
  handOver(link);
  take(link);
}

export function followLinks() {
  for (const way of /** @type {const} */ (["click", "auxclick"])) addEventListener(way, follow, true);
}
