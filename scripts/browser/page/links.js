// Links of the handbook on their way: what one takes along is what belongs to what stands in the fields, or it takes nothing along.
// @ts-check

import { take } from "./address.js";
import { calculators } from "./calculator.js";
import { state } from "./state.js";

const LONGEST = 20_000; // ms that a press on a link waits for its answer: as long as Python has for it
const WAITS = "This link takes your answer along, which is still being worked out. Press it again to go there at once, without it.";

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
  link.href = targetOf(link); // the values are in the state now, or stay behind
  delete link.dataset.hand;
}

/** Press the link once more when the answer is there: what it takes along may be another by then.
 *  @param {HTMLAnchorElement} link @param {import("./calculator.js").Calculator} owner */
async function followLater(link, owner) {
  const target = targetOf(link);
  waiting.set(owner, target);
  owner.say(WAITS);
  await Promise.race([owner.ready(), new Promise((resolve) => setTimeout(resolve, LONGEST))]);
  if (waiting.get(owner) !== target || !owner.section.isConnected) return; // another was pressed meanwhile, or this one again
  waiting.delete(owner);
  const links = /** @type {HTMLAnchorElement[]} */ ([...owner.section.querySelectorAll("a[data-hand]")]);
  const fresh = link.isConnected ? link : links.find((one) => targetOf(one) === target) ?? link;
  if (!fresh.isConnected) owner.section.append(fresh); // its answer no longer offers it: it is followed all the same
  late.add(fresh);
  fresh.click();
}
/** Where the link leads that each calculator is to follow when its answer is there. @type {WeakMap<import("./calculator.js").Calculator, string>} */
const waiting = new WeakMap();
/** Links that have waited. @type {WeakSet<HTMLAnchorElement>} */
const late = new WeakSet();
/** Without what it carries. @param {HTMLAnchorElement} link */
const targetOf = (link) => link.href.split("#")[0];

/** @param {MouseEvent} event */
function follow(event) {
  const link = /** @type {HTMLAnchorElement | null} */ (event.target instanceof Element ? event.target.closest("a[href]") : null);
  if (!link) return;
  const owner = link.dataset.hand ? ownerOf(link) : undefined;
  const plain = event.type === "click" && !event.button && !event.ctrlKey && !event.metaKey && !event.shiftKey && !event.altKey;
  const again = owner && event.detail < 2 && waiting.get(owner) === targetOf(link);
  if (owner && plain && !owner.handsOver && !late.has(link) && !again) {
    event.preventDefault();
    event.stopImmediatePropagation();
    followLater(link, owner);
    return;
  }
  if (owner) waiting.delete(owner);
  handOver(link);
  take(link);
}

export function followLinks() {
  for (const way of /** @type {const} */ (["click", "auxclick"])) addEventListener(way, follow, true);
}
