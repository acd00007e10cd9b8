// @ts-check

/** A new element with its properties and children.
 * @template {keyof HTMLElementTagNameMap} Tag
 * @param {Tag} tag @param {Partial<HTMLElementTagNameMap[Tag]> | Record<string, unknown>} properties @param {(Node | string)[]} children
 * @returns {HTMLElementTagNameMap[Tag]} */
export function make(tag, properties = {}, ...children) {
  const element = Object.assign(document.createElement(tag), properties);
  element.append(...children);
  return element;
}

/** Load a classic script; resolves when it has run. The tag stays until then: in some engines the load event of one that was taken
 *  out never comes.
 * @param {URL | string} address @returns {Promise<void>} */
export function script(address) {
  return new Promise((resolve, reject) => {
    const tag = make("script", { src: String(address) });
    tag.onload = () => { tag.remove(); resolve(); };
    tag.onerror = () => { tag.remove(); reject(new Error(`${tag.src} is missing`)); };
    document.head.append(tag);
  });
}
